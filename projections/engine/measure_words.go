package engine

import (
	"strings"

	"countback/events"
	"countback/projections/gauge"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// siblings marks those of the places of a measurement that do not look like
// the others.
func (g *measuring) siblings(m *plan.Measurement, list []Measure) {
	var all []gauge.Sibling
	for i := range list {
		if list[i].Size.Known() {
			all = append(all, gauge.Sibling{Name: list[i].Name(), Reading: list[i].Size})
		}
	}
	for _, o := range gauge.StandOuts(g.s.bandOf(m), all) {
		for i := range list {
			if list[i].Name() == o.Name {
				list[i].Stands = o.String()
				if list[i].Advice == "" {
					list[i].Advice = "look here"
				}
			}
		}
	}
}

// neighbour holds the value of a part against what its neighbour can take.
func (g *measuring) neighbour(m *plan.Measurement, out *Measure) {
	a := &m.Allows
	if a.By == "" || !out.Size.Known() {
		return
	}
	u := unitOf(g.s.unitWord(m))
	end := func(l plan.Limit) gauge.Reading {
		if !l.Known {
			return gauge.Reading{}
		}
		r, _ := gauge.Of(l.Value, u)
		return r
	}
	take := gauge.Allows{Neighbour: a.By, Range: gauge.Range{Min: end(a.Min), Max: end(a.Max)}, Otherwise: a.Otherwise}
	if a.About > 0 {
		take.About, _ = gauge.Of(a.About, u)
	}
	if a.Part != plan.None && g.s.renewed(a.Part) {
		out.Fits, out.Fit = true, a.By+" is new: what it allows is for whoever made it to say"
		return
	}
	fit := take.Take(m.Of, out.Size)
	out.Fit, out.Fits = fit.String(), fit.Goes()
}

// renewed reports whether a new one of a part is on the engine or at hand.
func (s *State) renewed(p plan.PartIndex) bool {
	return s.newAt(p, func(c ledger.Class) bool { return c != ledger.Outside })
}

// newAt reports whether a new one of a part is in an account of some class.
func (s *State) newAt(p plan.PartIndex, in func(ledger.Class) bool) bool {
	kind := s.kinds[s.lay.parts[p].kind]
	for a := ledger.AccountID(1); a <= ledger.AccountID(s.book.Accounts()); a++ {
		if !in(s.book.Class(a)) {
			continue
		}
		for it, n := range s.book.At(a) {
			if n > 0 && s.book.KindOf(it) == kind && s.book.ItemName(it).Cond == events.New {
				return true
			}
		}
	}
	return false
}

// advise says what to do next.
func (g *measuring) advise(m *plan.Measurement, out *Measure) {
	if out.Decided = g.s.decision(out); out.Decided != "" {
		return
	}
	switch v := out.Verdict; {
	case len(out.Reads) == 0 && len(out.Doubts) == 0:
	case out.Fit != "" && !out.Fits:
		out.Advice = "do not fit it so: change the neighbour, or ask who made it"
		if m.Allows.Otherwise != "" {
			out.Advice = m.Allows.Otherwise
		}
	case v.Place == gauge.ReadAgain:
		out.Advice = "read it again"
	case v.Place == gauge.Disagree:
		out.Advice = "read it a third time"
	case v.Place == gauge.NotAlike:
		out.Advice = "look at the unit, and read it again"
	case len(out.Doubts) > 0:
		out.Advice = "read it again"
	case v.Place == gauge.Beyond && m.Outside != "":
		out.Advice = m.Outside
	case v.Place == gauge.Beyond && m.FailsTo != "":
		out.Advice = "it is " + m.FailsTo
	case v.Place == gauge.Beyond:
		out.Advice = "FINDING, then what is done with it"
	}
}

// Name is the measurement with its place: "main-journal at 2".
func (m *Measure) Name() string {
	if m.At == "" {
		return m.Measurement
	}
	return m.Measurement + " at " + string(m.At)
}

// Short is how it stands in a few words: "within limits", "0.03 mm below 51.98
// mm", "read it again".
func (m *Measure) Short() string {
	v := &m.Verdict
	text := ""
	switch v.Place {
	case gauge.AsNew:
		text = "as new"
	case gauge.InService:
		text = "within limits"
		if m.Limits.New.Known() {
			text = "within service limits"
		}
	case gauge.Beyond:
		side := "above"
		if v.Size.Compare(v.Limit) < 0 {
			side = "below"
		}
		text = v.By.String() + " " + side + " " + v.Limit.String()
	case gauge.ReadAgain:
		text = v.By.String() + " from " + v.Limit.String() + ", and the gauge is good to " + v.Band.String() + ": read it again"
	case gauge.Disagree:
		text = "farther apart than the gauge explains: read it a third time"
	case gauge.NotAlike:
		text = "the limits are of another sort: look at the unit"
	}
	if v.Close {
		text += ", by less than the " + v.Band.String() + " of the gauge"
	}
	return text
}

// Said is what was read, in the digits in which it was read. What was read in
// another unit than the limits have is in theirs, with what was read behind it: a
// line has one unit.
func (m *Measure) Said() string {
	var list []string
	for _, r := range m.Reads {
		text := r.Reading.String()
		if o := r.Reading.Beside(m.Verdict.Limit.Unit()); o.Known() && o.Unit() != r.Reading.Unit() {
			text = o.String() + " (read " + text + ")"
		}
		if r.Point != "" {
			text = r.Point + " " + text
		}
		list = append(list, text)
	}
	return strings.Join(list, ", ")
}

// String is the measurement, what was read, what follows, and how it stands.
func (m *Measure) String() string {
	text := m.Name() + ": " + m.Said()
	if len(m.Reads) == 0 {
		return m.Name() + ": not read"
	}
	if m.Fit != "" && m.Verdict.Place == gauge.NoLimits {
		text = m.Name() + ": " + m.Fit
		if m.Decided != "" {
			text += ", " + m.Decided
		}
		return text
	}
	if m.How != "" {
		text += ": " + m.Size.String() + " (" + m.How + ")"
	} else if len(m.Verdict.Readings) > 1 && m.Size.Known() {
		text += " (" + m.Size.String() + " counts)"
	}
	for _, more := range []string{m.Short(), m.Fit, m.Decided} {
		if more != "" {
			text += ", " + more
		}
	}
	return text
}

// LimitsText is what it is held against, in words; empty where nothing is
// known.
func (m *Measure) LimitsText() string {
	var list []string
	if m.Limits.New.Known() {
		list = append(list, "new "+m.Limits.New.String())
	}
	if m.Limits.Service.Known() {
		word := ""
		if m.Limits.New.Known() {
			word = "service "
		}
		list = append(list, word+m.Limits.Service.String())
	}
	return strings.Join(list, ", ")
}
