package engine

import (
	"countback/events"
)

// tellsAhead tells what was ordered, promised, planned and sealed.
func (s *State) tellsAhead(ev events.Event) string {
	switch e := ev.(type) {
	case events.Ordered:
		text := "Order " + e.Order + ofSupplier(e.Supplier) + ": " + s.linesWords(e.Lines)
		if e.Promised != "" {
			text += ", promised for " + e.Promised.Words()
		}
		return text
	case events.OrderClosed:
		return "Order " + e.Order + " closed, no more comes" + because(e.Why)
	case events.Promised:
		return s.tellsPromise(e)
	case events.StepPlanned:
		if e.Day == "" {
			return s.nounWords(noun("step", e.Step)) + " is not planned any more"
		}
		return s.nounWords(noun("step", e.Step)) + " planned for " + e.Day.Words()
	case events.LeadTimeSet:
		what := "takes " + plural(e.Days, "day")
		if e.Kind != "" {
			what += " for " + s.aheadKind(e.Kind)
		}
		return "Supplier " + e.Supplier + " " + what
	case events.HardwareSentBack:
		text := s.linesWords(e.Lines) + " sent back to " + e.Supplier
		if e.Order != "" {
			text += ", of order " + e.Order
		}
		return text + because(e.Why)
	case events.SealantApplied:
		text := "Sealant put on"
		switch {
		case e.Step != "":
			text += ": " + s.nounWords(noun("step", e.Step))
		case e.Joint != "":
			text += ": " + s.jointWords(string(e.Joint))
		case e.Part != "":
			text += ": " + s.partWords(string(e.Part))
		}
		if e.Lot != "" {
			text += ", lot " + string(e.Lot)
		}
		return text
	}
	return ""
}

func (s *State) tellsPromise(e events.Promised) string {
	what := s.nounWords(e.On)
	if typ, _ := cutNoun(e.On); typ == "short" {
		if k := s.promisedShort(e.On); k != 0 {
			en := s.book.Entry(k)
			what = "Short " + itoa(int(k)) + ", " + s.nOf(int(en.Qty), s.kindOf(&en)) + ", still to come"
			if e.Day != "" {
				what += ","
			}
		}
	}
	if e.Kind != "" {
		what = s.aheadKind(e.Kind) + " of " + e.On
	}
	by := ""
	if e.By != "" {
		by = " by " + e.By
	}
	if e.Day == "" {
		return what + ": the promise was taken back" + by
	}
	return what + " promised for " + e.Day.Words() + by
}

// aheadKind names a kind that may be a kit.
func (s *State) aheadKind(k events.Kind) string {
	if typ, id := cutNoun(string(k)); typ == "kit" {
		return "kit " + id
	}
	return s.kindWords(k)
}

// malformedAhead finds what makes no sense among orders, promises and plans.
func malformedAhead(ev events.Event) error {
	day := func(d events.Day) error {
		if d != "" && !d.Valid() {
			return refuse(Malformed, "say the day as 2026-12-14", "%q is no day", string(d))
		}
		return nil
	}
	switch e := ev.(type) {
	case events.Ordered:
		if e.Order == "" {
			return refuse(Malformed, "give the order a name", "an order without a name")
		}
		if len(e.Lines) == 0 {
			return refuse(Malformed, "scan what was ordered, then how many", "order %s orders nothing", e.Order)
		}
		for _, l := range e.Lines {
			if l.Qty == 0 {
				return refuse(Malformed, "scan how many were ordered", "0 %s on order %s", l.Kind, e.Order)
			}
		}
		return day(e.Promised)
	case events.Promised:
		if e.On == "" {
			return refuse(Malformed, "scan the order, the slip or the part", "a promise of nothing")
		}
		return day(e.Day)
	case events.StepPlanned:
		return day(e.Day)
	case events.LeadTimeSet:
		if e.Supplier == "" {
			return refuse(Malformed, "say which supplier", "a lead time of nobody")
		}
		if e.Days < 0 || e.Days > 3650 {
			return refuse(Malformed, "scan the days again", "a lead time of %d days", e.Days)
		}
	case events.HardwareSentBack:
		if len(e.Lines) == 0 {
			return refuse(Malformed, "scan what went back, then how many", "nothing was sent back")
		}
	}
	return nil
}

// alreadyAhead says that a state among these is so.
func (s *State) alreadyAhead(ev events.Event) bool {
	switch e := ev.(type) {
	case events.StepPlanned:
		for _, pl := range s.ahead.planned {
			if pl.Step == e.Step {
				return pl.Day == e.Day
			}
		}
		return e.Day == ""
	case events.OrderClosed:
		o := s.order(e.Order)
		return o != nil && o.Closed != 0
	case events.LeadTimeSet:
		for i := len(s.ahead.leads) - 1; i >= 0; i-- {
			if l := &s.ahead.leads[i]; l.Kind == e.Kind { // the last word on the kind
				return l.Supplier == e.Supplier && l.Days == e.Days
			}
		}
	}
	return false
}

// KindWords is a kind for people: the size of a fastener, the name of a part,
// "kit gasket-set".
func (s *State) KindWords(k events.Kind) string { return s.aheadKind(k) }
