package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// history fills in what was recorded about a thing: every fact that names it,
// and for a kind every fact that moved pieces of it.
func (s *State) history(w *Whereabouts, typ, id string) {
	var moved map[ledger.Fact]bool
	if typ == "kind" || typ == "part" {
		moved = make(map[ledger.Fact]bool)
		for _, p := range s.book.Log() {
			if s.book.KindName(s.book.KindOf(p.Item)) == events.Kind(id) {
				moved[p.Fact] = true
			}
		}
		delete(moved, s.Started) // the opening balance is no fact about one kind
	}
	for i := range s.job.facts {
		f := ledger.Fact(i + 1)
		ev, ok := s.job.standing(f)
		if !moved[f] && !(ok && names(ev, typ, id)) {
			continue
		}
		r := &s.job.facts[i]
		w.History = append(w.History, HistoryLine{r.ID(), r.At, r.From, r.To, who(r), s.Sentence(f)})
		w.Known = true
		if from, _ := span(r); from >= w.Seen {
			w.LastSeen, w.Seen = r.ID(), from
		}
	}
}

// names says whether an event is about a thing.
func names(ev events.Event, typ, id string) bool {
	switch typ {
	case "bag", "rack", "place", "stock", "slip", "bench":
		p := events.Place(typ + "/" + id)
		for _, at := range placesOf(ev) {
			if within(at, p) || within(p, at) {
				return true
			}
		}
	}
	switch typ {
	case "joint":
		j, _ := jointOf(ev)
		return string(j) == id
	case "hole":
		joint, hole := events.Seat(id).Split()
		j, holes := jointOf(ev)
		return j == joint && (len(holes) == 0 || contains(holes, hole))
	case "part":
		return contains(partsOf(ev), events.Part(id))
	}
	return namesOther(ev, typ, id)
}

func namesOther(ev events.Event, typ, id string) bool {
	switch e := ev.(type) {
	case events.LabelReprinted:
		return typ == "bag" && string(e.Code) == id
	case events.LoanIn:
		return typ == "loan" && string(e.Loan) == id
	case events.LoanOut:
		return typ == "loan" && string(e.Loan) == id
	case events.CavityOpened:
		return typ == "cavity" && string(e.Cavity) == id
	case events.CavityLooked:
		return typ == "cavity" && string(e.Cavity) == id
	case events.CavityClosed:
		return typ == "cavity" && string(e.Cavity) == id
	case events.FluidChanged:
		return typ == "cavity" && string(e.Cavity) == id
	case events.MarkMade:
		return typ == "mark" && string(e.Mark) == id
	case events.SecondChecked:
		return typ == "step" && string(e.Step) == id
	case events.SentOut:
		return typ == "slip" && string(e.Slip) == id
	case events.Returned:
		return typ == "slip" && string(e.Slip) == id
	case events.WorkAsked:
		return typ == "slip" && string(e.Slip) == id
	case events.LookedOver:
		return typ == "part" && contains(e.Parts, events.Part(id))
	case events.CoreAgreed:
		return typ == "part" && string(e.Part) == id
	case events.CoreSent:
		return typ == "part" && string(e.Part) == id
	case events.CoreCredited:
		return typ == "part" && string(e.Part) == id
	case events.OwnerAsked:
		return typ == "part" && string(e.Part) == id
	case events.OwnerShown:
		return typ == "part" && string(e.Part) == id
	case events.OwnerGiven:
		return typ == "part" && string(e.Part) == id
	case events.ScopeDecided:
		return contains(e.Goals, noun(typ, id))
	case events.HoldSet:
		return e.On == noun(typ, id)
	case events.FindingRaised:
		return e.On == noun(typ, id)
	case events.Overridden:
		return e.Ask == noun(typ, id)
	}
	return typ == "case" && string(caseOf(ev)) == id
}

// caseOf is the case that an event is about, empty if none.
func caseOf(ev events.Event) events.Code {
	switch e := ev.(type) {
	case events.FastenerBroken:
		return e.Case
	case events.OtherEndTold:
		return e.Case
	case events.HotWorkConfirmed:
		return e.Case
	case events.ExtractionTried:
		return e.Case
	case events.StudExtracted:
		return e.Case
	}
	return ""
}

// jointOf is the joint that an event is about, with the holes that it names;
// no holes: all of it.
func jointOf(ev events.Event) (events.Joint, []events.Hole) {
	switch e := ev.(type) {
	case events.PiecesOut:
		return e.Joint, e.Holes
	case events.PiecesParked:
		return e.Joint, e.Holes
	case events.PiecesFitted:
		return e.Joint, e.Holes
	case events.PiecesLoosened:
		return e.Joint, e.Holes
	case events.StageRecorded:
		return e.Joint, e.Holes
	case events.StageRestarted:
		return e.Joint, e.Holes
	case events.StageAccepted:
		return e.Joint, e.Holes
	case events.TorqueChosen:
		return e.Joint, e.Holes
	case events.FastenerBroken:
		return e.Joint, []events.Hole{e.Hole}
	case events.HoleChanged:
		return e.Joint, []events.Hole{e.Hole}
	case events.BagLabelled:
		return e.Joint, nil
	case events.MissingOnArrival:
		return e.Joint, e.Holes
	case events.DamagedOnArrival:
		if e.Hole == "" {
			return e.Joint, nil
		}
		return e.Joint, []events.Hole{e.Hole}
	case events.BenchSwept:
		return e.Joint, nil
	case events.RackRead:
		return e.Joint, nil
	case events.JointTagged:
		return e.Joint, nil
	case events.Counted:
		if word, id, _ := cutPlace(e.Place); word == "joint" {
			return events.Joint(id), nil
		}
	}
	return "", nil
}

// partsOf lists the parts that an event is about.
func partsOf(ev events.Event) []events.Part {
	switch e := ev.(type) {
	case events.PartRemoved:
		return []events.Part{e.Part}
	case events.PartPlaced:
		return []events.Part{e.Part}
	case events.PartFitted:
		return []events.Part{e.Part}
	case events.PartPressed:
		return []events.Part{e.Part}
	case events.DepthAccepted:
		return []events.Part{e.Part}
	case events.RackRead:
		return []events.Part{e.Part}
	case events.OrderLost:
		return []events.Part{e.Part}
	case events.Reassigned:
		return []events.Part{e.Part}
	case events.BagLabelled:
		return []events.Part{e.Part}
	case events.OptionSeen:
		return []events.Part{e.Part}
	case events.MissingOnArrival:
		return []events.Part{e.Part}
	case events.DamagedOnArrival:
		return []events.Part{e.Part}
	case events.CaughtUp:
		return []events.Part{e.Deepest}
	case events.SentOut:
		return e.Parts
	case events.Returned:
		return e.Parts
	case events.Exchanged:
		return []events.Part{e.Part}
	case events.HoldSet:
		return partNoun(e.On)
	case events.FindingRaised:
		return partNoun(e.On)
	}
	return nil
}

func partNoun(on string) []events.Part {
	if typ, id := cutNoun(on); typ == "part" {
		return []events.Part{events.Part(id)}
	}
	return nil
}
