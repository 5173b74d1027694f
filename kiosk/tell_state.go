package kiosk

import (
	"strconv"

	"countback/events"
)

// loans tells what happened to loans, cavities, marks and the whole engine.
func (t *Telling) loans(ev events.Event) string {
	switch e := ev.(type) {
	case events.LoanIn:
		text := t.loan(e.Loan) + " in"
		if e.Count > 1 {
			text = t.loan(e.Loan) + ": " + itoa(e.Count) + " in"
		}
		if ix, ok := t.p.Loan(e.Loan); ok {
			if stops := t.p.Loans[ix].Stops; !stops.Empty() {
				text += ". It must be out again: scan it OUT"
			}
		}
		return text
	case events.LoanOut:
		text := t.loan(e.Loan) + " out"
		if st, ok := t.st.Loans()[e.Loan]; ok && st.In > 0 {
			return text + ", " + itoa(st.In) + " still in"
		}
		return text
	case events.CavityOpened:
		return t.cavity(e.Cavity) + " open"
	case events.CavityClosed:
		return t.cavity(e.Cavity) + " closed"
	case events.CavityLooked:
		if len(e.Found) > 0 {
			return t.cavity(e.Cavity) + " looked into: found " + t.lines(e.Found)
		}
		return t.cavity(e.Cavity) + " looked into: clear up to now"
	case events.FluidChanged:
		text := t.cavity(e.Cavity) + " " + string(e.State)
		if e.Litres > 0 {
			text += ", " + strconv.FormatFloat(e.Litres, 'f', -1, 64) + " l"
		}
		if e.What != "" {
			text += " of " + e.What
		}
		return text
	case events.MarkMade:
		return t.mark(e.Mark) + ": done"
	case events.ActDone:
		return "Engine " + map[events.Act]string{events.Turning: "turned by hand", events.Cranking: "cranked", events.Heating: "heated"}[e.Act]
	case events.Measured:
		return t.measured(e)
	case events.FastenersMeasured:
		return t.set(e)
	case events.EngineStarted, events.RunRead, events.OutputRead, events.EngineStopped, events.EngineCooled, events.DistanceRead, events.ObligationMet:
		return t.ran(e)
	}
	return ""
}

// shop tells what happened to the job, its labels, its plan, its gates and its
// slips.
func (t *Telling) shop(ev events.Event) string {
	switch e := ev.(type) {
	case events.JobOpened:
		return "Job " + string(t.Record.Job) + " opened: " + e.Engine
	case events.TagsIssued:
		if len(e.Tags) == 1 {
			return "Label " + string(e.Tags[0].Code) + " is on " + e.Tags[0].Noun
		}
		return plural(len(e.Tags), "tag") + " issued for this job"
	case events.TagVoided:
		return "Label " + string(e.Code) + " is out of use"
	case events.BadgeIssued:
		return "Badge " + string(e.Code) + " is " + string(e.Badge) + "'s"
	case events.ToolIssued:
		return toolIssued(e)
	case events.ToolTaken, events.ToolBack, events.Carried, events.TrayIssued, events.BatchOpened, events.BatchClosed, events.Preserved, events.LotDated:
		return capital(t.st.Tells(e))
	case events.RangeReserved:
		return "Labels " + e.Range + " are terminal " + e.For + "'s"
	case events.SecondChecked:
		return t.checked(e)
	case events.HandedOver:
		text := "Handed over to " + string(e.To) + ": " + plural(len(e.Open), "thing") + " taken over"
		if len(e.Left) > 0 {
			text += ", " + itoa(len(e.Left)) + " not: they stay with " + string(t.Record.Operator)
		}
		return text
	case events.HoldSet:
		return "Hold " + e.Hold + " on " + e.On + ": " + e.Why
	case events.HoldReleased:
		return "Hold " + e.Hold + " released"
	case events.FindingRaised, events.FindingDecided, events.OwnerAnswered, events.FindingDone:
		return t.findings(e)
	case events.ScopeDecided, events.WorkAsked, events.LookedOver, events.CoreAgreed, events.CoreSent, events.CoreCredited,
		events.OwnerBrought, events.OwnerAsked, events.OwnerShown, events.OwnerGiven:
		return capital(t.st.Tells(e))
	case events.SentOut:
		return t.sent(e)
	case events.Returned:
		return t.returned(e)
	case events.Exchanged:
		return t.part(e.Part) + " exchanged: " + string(e.New) + " takes the place of " + string(e.Old) + ", and nothing is known to be in it"
	case events.Unknown:
		return "A newer program stored: " + e.Kind
	}
	return ""
}

func (t *Telling) sent(e events.SentOut) string {
	var parts []string
	for _, p := range e.Parts {
		parts = append(parts, lower(t.part(p)))
	}
	text := capital(joinAnd(parts)) + " left on slip " + string(e.Slip)
	if e.Shop != "" {
		text += " for " + e.Shop
	}
	if in := t.st.Contents(e.Parts...); len(in) > 0 {
		text += " with " + t.lines(in)
	}
	if len(e.Stays) > 0 {
		text += ". Stays here: " + t.lines(e.Stays)
	}
	return text
}

// alone says that somebody counted work of their own, hours later.
func alone(yes bool) string {
	if yes {
		return ", alone in the shop"
	}
	return ""
}

// checked tells how a blind count stands, and never the number of the book.
func (t *Telling) checked(e events.SecondChecked) string {
	n := itoa(max(e.Total, total(e.Lines)))
	switch {
	case e.First && !e.Agreed:
		return "Counted again by " + string(e.Second) + ": " + n + ". That differs from the book as well: look what is in, say what is not so, and count again"
	case e.First:
		return "Counted again by " + string(e.Second) + ": " + n + ". Now the second person counts"
	}
	how := "Counted blind by " + string(e.Second) + alone(e.Alone) + ": " + n
	switch {
	case e.Early:
		return how + ". It does not count: who did the work counts again first"
	case !e.Agreed && e.Alone:
		return how + ". That differs from the book: count it again hours later"
	case !e.Agreed:
		return how + ". That differs from the book: count both again, who did the work first"
	}
	return how + ". Gate passed"
}
