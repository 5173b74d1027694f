package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// Settle ends a disagreement between two facts that had not seen each other: it
// names both, says which one falls, and brings a count of each place concerned
// (rule R33).
type Settle struct {
	Facts  []events.FactID
	Falls  events.FactID
	Counts []events.PlaceCount
	Why    string
}

func (c Settle) decide(s *State) (events.Event, error) {
	if len(c.Facts) != 2 || c.Facts[0] == c.Facts[1] {
		return nil, refuse(Malformed, "pick the two facts of one disagreement", "%d facts", len(c.Facts))
	}
	if !contains(c.Facts, c.Falls) {
		return nil, refuse(Malformed, "say which of the two falls", "fact %s is none of the two", factName(c.Falls))
	}
	for _, pc := range c.Counts {
		if err := malformed(events.Counted{Place: pc.Place, Lines: pc.Lines}); err != nil {
			return nil, err
		}
	}
	for _, id := range c.Facts {
		if s.job.index(id) < 0 {
			return nil, refuse(Unknown, "pick two facts from the job's list", "this job has no fact %s", factName(id))
		}
	}
	open := s.disputed(c.Facts)
	if len(open) == 0 {
		return nil, nil // nothing is open between these two
	}
	for _, en := range open {
		place := s.book.Path(en.Place)
		if !counts(c.Counts, place) {
			return nil, refuse(Conflict, "count it, and scan the numbers", "%s is not counted", s.placeWords(place))
		}
	}
	return events.DisagreementSettled{Facts: c.Facts, Falls: c.Falls, Counts: c.Counts, Why: c.Why}, nil
}

// disputed lists the open differences between exactly these facts.
func (s *State) disputed(ids []events.FactID) []ledger.Entry {
	var list []ledger.Entry
	for k := 1; k <= s.book.Entries(); k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Open > 0 && en.Disputed() && s.named(en, ids) {
			list = append(list, en)
		}
	}
	return list
}

// counts says whether a place was counted: itself, or by the joint whose holes
// it is.
func counts(list []events.PlaceCount, place events.Place) bool {
	word, _, joint := cutPlace(place)
	for i := range list {
		if list[i].Place == place || (word == "fitted" && list[i].Place == events.Place("joint/"+joint)) {
			return true
		}
	}
	return false
}
