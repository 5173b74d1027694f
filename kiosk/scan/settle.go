package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// dispute is the disagreement that a sentence is about.
func dispute(s *Said) (ledger.Entry, []events.FactID) {
	st := s.State()
	en := st.Book().Entry(st.Short(s.At(0, Short).Short))
	var ids []events.FactID
	for _, f := range en.Facts {
		if r := st.Fact(f); r != nil {
			ids = append(ids, r.ID())
		}
	}
	return en, ids
}

// disputeText says both facts of a disagreement.
func disputeText(s *Said) string {
	_, ids := dispute(s)
	var told []string
	for _, id := range ids {
		if r, ok := s.Job.Find(id); ok {
			told = append(told, s.State().Tells(r.Event)+" (bench "+string(id.Terminal)+")")
		}
	}
	if len(told) != 2 {
		return "Which of the two falls, FIRST or SECOND?"
	}
	return "FIRST: " + told[0] + ". SECOND: " + told[1] + ". Which one falls?"
}

// disputeSizes is the kind that the disagreement is about.
func disputeSizes(s *Said) []events.Kind {
	en, _ := dispute(s)
	if en.No == 0 {
		return nil
	}
	return []events.Kind{s.State().Book().ItemName(en.Item).Kind}
}

func buildSettle(s *Said) (engine.Command, error) {
	en, ids := dispute(s)
	if len(ids) != 2 {
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "no two benches disagree about that", Next: "count it again, or say MISCOUNT"}
	}
	e := events.DisagreementSettled{Facts: ids, Falls: ids[0], Why: s.Why("why")}
	if s.Reply("falls").Word == Second {
		e.Falls = ids[1]
	}
	place := s.State().Book().Path(en.Place)
	if strings.HasPrefix(string(place), "fitted/") {
		place = events.Place("joint/" + string(place)[strings.LastIndexByte(string(place), '/')+1:])
	}
	e.Counts = []events.PlaceCount{{Place: place, Lines: s.Reply("sizes").Lines}}
	return engine.Tell{Event: e}, nil
}

func buildGate(s *Said) (engine.Command, error) {
	step := events.Step(s.At(0, Step).ID)
	n := s.Reply("n").N
	return engine.Tell{Event: events.SecondChecked{Step: step, Second: events.Badge(s.Reply("second").Noun.ID), Total: n,
		Agreed: n == bookAtStep(s, step), Alone: s.Reply("second").Noun.ID == string(s.Who)}}, nil
}

func buildSign(s *Said) (engine.Command, error) {
	point := events.AuditPoint(s.At(0, Audit).ID)
	e := events.AuditSigned{Point: point, Second: events.Badge(s.Reply("second").Noun.ID)}
	return engine.Tell{Event: e}, nil
}
