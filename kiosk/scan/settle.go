package scan

import (
	"slices"
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

// disputePlaces are the places that the two facts disagree about, and the
// kinds at each: all of them are counted in one settlement.
func disputePlaces(s *Said) (places []events.Place, kinds [][]events.Kind) {
	st := s.State()
	en, _ := dispute(s)
	if !en.Disputed() {
		return nil, nil
	}
	for _, k := range st.OpenShorts() {
		o := st.Book().Entry(k)
		if o.Facts != en.Facts {
			continue
		}
		place := countable(st.Book().Path(o.Place))
		i := slices.Index(places, place)
		if i < 0 {
			i = len(places)
			places, kinds = append(places, place), append(kinds, nil)
		}
		kinds[i] = addKind(kinds[i], st.Book().ItemName(o.Item).Kind)
	}
	return places, kinds
}

// countable is a place as a count names it: the holes of a joint by the joint.
func countable(p events.Place) events.Place {
	if strings.HasPrefix(string(p), "fitted/") {
		return events.Place("joint/" + string(p)[strings.LastIndexByte(string(p), '/')+1:])
	}
	return p
}

// settled is how many places one settlement counts at most.
const settled = 4

// settleAsks asks for a new count of each place that is in dispute.
func settleAsks() []Ask {
	asks := []Ask{{Key: "falls", Kind: AskWord, Prompts: disputeText, Words: []Word{First, Second}}}
	for i := range settled {
		asks = append(asks, Ask{Key: "sizes" + itoa(i), Kind: AskSizes,
			When: func(s *Said) bool { places, _ := disputePlaces(s); return len(places) > i },
			Prompts: func(s *Said) string {
				places, _ := disputePlaces(s)
				return "Count " + string(places[i]) + " again: how many of each size?"
			},
			Sizes: func(s *Said) []events.Kind {
				places, kinds := disputePlaces(s)
				at := &Said{Nouns: []Noun{nounOf(places[i])}, Job: s.Job}
				all := kinds[i]
				for _, k := range sizesAt(at) {
					all = addKind(all, k)
				}
				return all
			}})
	}
	return append(asks, askReason)
}

// nounOf is the noun of a place.
func nounOf(p events.Place) Noun {
	word, rest, _ := strings.Cut(string(p), "/")
	return Noun{Type: Type(word), ID: rest}
}

func buildSettle(s *Said) (engine.Command, error) {
	_, ids := dispute(s)
	if len(ids) != 2 {
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "no two benches disagree about that", Next: "count it again, or say MISCOUNT"}
	}
	c := engine.Settle{Facts: ids, Falls: ids[0], Why: s.Why("why")}
	if s.Reply("falls").Word == Second {
		c.Falls = ids[1]
	}
	places, _ := disputePlaces(s)
	for i := range places[:min(len(places), settled)] {
		c.Counts = append(c.Counts, events.PlaceCount{Place: places[i], Lines: s.Reply("sizes" + itoa(i)).Lines})
	}
	return c, nil
}

func buildGate(s *Said) (engine.Command, error) {
	second := events.Badge(s.Reply("second").Noun.ID)
	return engine.CheckBySecond{Step: events.Step(s.At(0, Step).ID), Second: second, Total: s.Reply("n").N, Alone: second == s.Who, Now: s.Clock}, nil
}

func buildSign(s *Said) (engine.Command, error) {
	return engine.SignAudit{Point: events.AuditPoint(s.At(0, Audit).ID), Operator: s.Who, Second: events.Badge(s.Reply("second").Noun.ID)}, nil
}
