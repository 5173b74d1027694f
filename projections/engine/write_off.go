package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// WriteOff asks to give up the pieces of a short, or to let an over be. It is
// refused until every cavity that a short's pieces could be in was looked into,
// and a second person is needed (rule R30).
type WriteOff struct {
	Short    events.ShortID
	Qty      int // 0: all of it
	Operator events.Badge
	Second   events.Badge
	Why      string
}

func (c WriteOff) decide(s *State) (events.Event, error) {
	if c.Qty < 0 || c.Qty > events.MaxQty {
		return nil, refuse(Malformed, "scan the number again", "%d pieces", c.Qty)
	}
	if c.Why == "" {
		return nil, refuse(Malformed, "say where was looked", "nothing was written off: no reason")
	}
	k := s.Short(c.Short)
	if k == 0 {
		return nil, refuse(Unknown, "scan a short of this job", "this job has no short %s", shortName(c.Short))
	}
	en := s.book.Entry(k)
	if en.Open == 0 {
		return nil, nil
	}
	if en.Sign == ledger.Short {
		for _, cav := range s.couldBeIn(&en) {
			if !s.cleared(cav, en.Shown) {
				return nil, refuse(Conflict, s.lookInto(cav), "%s may be in %s", s.shortWords(&en), s.cavityWords(cav))
			}
		}
	}
	if err := second(c.Operator, c.Second); err != nil {
		return nil, err
	}
	return events.ShortEnded{Short: c.Short, How: events.WrittenOff, Qty: c.Qty, Second: c.Second, Why: c.Why}, nil
}
