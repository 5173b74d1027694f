package engine

import (
	"fmt"
	"strings"

	"countback/events"
)

// tellsState tells what changed without a piece moving.
func (s *State) tellsState(ev events.Event) string {
	switch e := ev.(type) {
	case events.ShortEnded:
		return s.tellsEnding(e)
	case events.DisagreementSettled:
		return "Disagreement settled: fact " + factName(e.Falls) + " falls" + because(e.Why)
	case events.LoanIn:
		text := capital(s.loanWords(e.Loan)) + " in"
		if e.Count > 1 {
			text = itoa(e.Count) + " " + s.loanWords(e.Loan) + " in"
		}
		if e.Where != "" {
			text += ", " + e.Where
		}
		return text
	case events.LoanOut:
		if e.Count > 1 {
			return itoa(e.Count) + " " + s.loanWords(e.Loan) + " out"
		}
		return capital(s.loanWords(e.Loan)) + " out"
	case events.CavityOpened:
		return s.nounWords(noun("cavity", e.Cavity)) + " open"
	case events.CavityLooked:
		if len(e.Found) > 0 {
			return s.nounWords(noun("cavity", e.Cavity)) + " looked into: found " + s.linesWords(e.Found)
		}
		return s.nounWords(noun("cavity", e.Cavity)) + " looked into: clear"
	case events.CavityClosed:
		return s.nounWords(noun("cavity", e.Cavity)) + " closed"
	case events.FluidChanged:
		text := s.nounWords(noun("cavity", e.Cavity)) + " " + string(e.State)
		if e.Litres > 0 {
			text += fmt.Sprintf(", %g l", e.Litres)
		}
		if e.What != "" {
			text += " of " + e.What
		}
		return text
	case events.MarkMade:
		return s.nounWords(noun("mark", e.Mark)) + ": done"
	case events.ActDone:
		return "The engine: " + string(e.Act) + " done"
	case events.SecondChecked:
		return s.tellsCheck(e)
	case events.SourceConfirmed:
		return tellsSource(e)
	}
	return s.tellsDecision(ev)
}

func (s *State) tellsEnding(e events.ShortEnded) string {
	name := "Short " + shortName(e.Short)
	if k := s.Short(e.Short); k != 0 {
		en := s.book.Entry(k)
		name = "Short " + itoa(int(k)) + ", " + s.kindWords(s.kindOf(&en))
	}
	text := name + ": " + strings.ReplaceAll(string(e.How), "-", " ")
	if e.To != "" {
		text += ", " + s.toWords(e.To)
	}
	for i, h := range e.Holes {
		if i == 0 {
			text += ", hole"
		}
		text += " " + string(h)
	}
	if e.Second != "" {
		text += ", signed by " + string(e.Second)
	}
	return text + because(e.Why)
}

func factName(id events.FactID) string { return string(id.Terminal) + "-" + itoa(int(id.N)) }

func (s *State) tellsCheck(e events.SecondChecked) string {
	text := s.nounWords(noun("step", e.Step)) + ": counted blind by " + string(e.Second)
	if e.Alone {
		text += ", alone in the shop"
	}
	switch {
	case e.Total > 0:
		text += ", " + itoa(e.Total)
	case len(e.Lines) > 0:
		text += ", " + s.linesWords(e.Lines)
	}
	if e.Agreed {
		return text + ". Gate passed"
	}
	return text + ". It differs"
}

func (s *State) tellsDecision(ev events.Event) string {
	switch e := ev.(type) {
	case events.SentOut:
		return s.partsWords(e.Parts) + " sent out on slip " + string(e.Slip) + to(e.Shop)
	case events.Returned:
		text := "Slip " + string(e.Slip) + " back"
		if len(e.Parts) > 0 {
			text += ": " + s.partsWords(e.Parts)
		}
		if len(e.Lines) > 0 {
			text += ", counted: " + s.linesWords(e.Lines)
		}
		return text
	case events.Exchanged:
		return s.partWords(string(e.Part)) + " exchanged, " + string(e.Old) + " for " + string(e.New) + because(e.Why)
	case events.CoreAgreed, events.CoreSent, events.CoreCredited:
		return s.tellsCore(ev)
	case events.OwnerBrought, events.OwnerAsked, events.OwnerShown, events.OwnerGiven:
		return s.tellsOwner(ev)
	case events.WorkAsked:
		return "Slip " + string(e.Slip) + ": " + e.Work + ofLimits(e.Limits) + " asked"
	case events.LookedOver:
		return s.partsWords(e.Parts) + " looked over: nothing found" + because(e.Note)
	case events.ScopeDecided:
		return s.tellsScope(&e)
	case events.HoldSet:
		return "Hold " + e.Hold + " on " + s.nounWords(e.On) + because(e.Why)
	case events.HoldReleased:
		return "Hold " + e.Hold + " released" + because(e.Why)
	case events.Overridden:
		return s.nounWords(e.Ask) + " let pass by " + string(e.Second) + because(e.Why)
	case events.Measured:
		return tellsMeasured(e)
	case events.FindingRaised:
		return "Finding " + e.Finding + " on " + s.nounWords(e.On) + because(e.What)
	case events.FindingDecided:
		return s.tellsDecided(e)
	case events.EngineStarted, events.RunRead, events.OutputRead, events.EngineStopped, events.EngineCooled, events.DistanceRead, events.ObligationMet:
		return s.tellsRun(e)
	case events.FastenersMeasured:
		return s.tellsSet(&e)
	case events.OwnerAnswered:
		if e.Yes {
			return "Finding " + e.Finding + ": the owner said yes" + because(e.Why)
		}
		return "Finding " + e.Finding + ": the owner said no" + because(e.Why)
	case events.FindingDone:
		return "Finding " + e.Finding + ": done" + because(e.Why)
	case events.Corrected:
		if e.Instead == nil {
			return "Fact " + factName(e.Wrong) + " taken back" + because(e.Why)
		}
		return "Fact " + factName(e.Wrong) + " corrected: " + s.Tells(e.Instead) + because(e.Why)
	}
	return ""
}

func to(shop string) string {
	if shop == "" {
		return ""
	}
	return " to " + shop
}

func (s *State) partsWords(parts []events.Part) string {
	words := make([]string, len(parts))
	for i, p := range parts {
		words[i] = s.partWords(string(p))
	}
	return wordList(words)
}

// tellsJob tells what concerns the job as a whole.
func (s *State) tellsJob(ev events.Event) string {
	switch e := ev.(type) {
	case nil:
		return "nothing"
	case events.JobOpened:
		return "Job opened: " + e.Engine
	case events.TagsIssued:
		return plural(len(e.Tags), "label") + " issued"
	case events.RangeReserved:
		return "Label range " + e.Range + " for " + e.For
	case events.TagVoided:
		return "Label " + string(e.Code) + " voided" + because(e.Why)
	case events.BadgeIssued:
		return "Badge " + string(e.Code) + " for " + string(e.Badge)
	case events.PlanAmended:
		return "Plan amended: " + e.Op + " " + e.Section + " " + e.ID + because(e.Why)
	case events.LayoutSeen:
		return e.Variant + " is " + e.Layout
	case events.OptionSeen:
		if e.Fitted {
			return s.partWords(string(e.Part)) + " is fitted to this engine"
		}
		return s.partWords(string(e.Part)) + " is not fitted to this engine"
	case events.JointTagged:
		return "Joint " + string(e.Joint) + " tagged" + because(e.Name)
	case events.MissingOnArrival:
		return s.tellsMissing(e)
	case events.DamagedOnArrival:
		on := noun("part", e.Part)
		if e.Joint != "" {
			on = noun("joint", e.Joint)
		}
		return s.nounWords(on) + " damaged on arrival, " + e.What
	case events.CaughtUp:
		return "Deepest part off: " + s.partWords(string(e.Deepest))
	case events.HandedOver:
		return "Handed over to " + string(e.To)
	case events.AuditSigned:
		text := "Audit " + s.nounWords(noun("audit", e.Point)) + " signed"
		if e.Second != "" {
			text += " with " + string(e.Second)
		}
		return text
	case events.JobEnded:
		return "Job ended: " + string(e.How) + because(e.Why)
	case events.JobResumed:
		return "Job taken up again" + because(e.Why)
	case events.Unknown:
		return "A fact of the kind " + e.Kind + ", which this program does not know"
	}
	return events.NameOf(ev)
}

func (s *State) tellsMissing(e events.MissingOnArrival) string {
	on := noun("part", e.Part)
	if e.Joint != "" {
		on = noun("joint", e.Joint)
	}
	text := s.nounWords(on) + " missing on arrival"
	if len(e.Holes) > 0 {
		text = s.holesWords(e.Joint, e.Holes) + " missing on arrival"
	}
	if len(e.Lines) > 0 {
		text += ": " + s.linesWords(e.Lines)
	}
	return text
}
