package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// EndJob ends a job. Released asks for every audit point to be signed, handed
// back for a counted inventory, suspended for a reason (rule R29). What a second
// person let pass for "job <end>" is no reason any more.
type EndJob struct {
	How events.JobEnd
	Why string
}

func (c EndJob) decide(s *State) (events.Event, error) {
	switch c.How {
	case events.Released, events.HandedBack, events.Suspended:
	default:
		return nil, refuse(Malformed, "scan RELEASED, HANDED BACK or SUSPENDED", "%q is no end of a job", c.How)
	}
	if s.Ended != nil && s.Ended.How == c.How {
		return nil, nil
	}
	if s.Started == 0 {
		return nil, refuse(Conflict, "open the job first", "the job is not open")
	}
	if c.How == events.Suspended && c.Why == "" {
		return nil, refuse(Malformed, "say why it waits", "the job was not suspended: no reason")
	}
	for _, b := range s.endBlockers(c.How) {
		if !s.letPass(noun("job", c.How), b.Text) {
			return nil, refuse(Conflict, b.Clear, "%s", b.Text)
		}
	}
	return events.JobEnded{How: c.How, Why: c.Why}, nil
}

// endBlockers is why a job may not end in a way.
func (s *State) endBlockers(how events.JobEnd) []Blocker {
	var list []Blocker
	switch how {
	case events.Released:
		for _, p := range s.AuditPoints() {
			if s.signature(p.ID) == nil {
				list = append(list, Blocker{"Audit " + s.nounWords(noun("audit", p.ID)) + " is not signed", "clear its red lines, then " + say(noun("audit", p.ID), "SIGN")})
			}
		}
	case events.HandedBack:
		list = s.uncountedInventory(list)
	}
	return list
}

// uncountedInventory lists what is not counted since a hand was last at it.
func (s *State) uncountedInventory(list []Blocker) []Blocker {
	for _, u := range s.Uncounted() {
		what := s.jointWords(string(u.Joint))
		if u.Joint == "" {
			what = s.partWords(string(u.Part))
		}
		list = append(list, Blocker{what + " was never counted", s.countOut(&u)})
	}
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		c := s.book.Class(id)
		if !container(c) || len(s.contents(id)) == 0 {
			continue
		}
		if last := s.countedAt(id); last == 0 || s.book.Touched(id) > last {
			list = append(list, Blocker{capital(s.placeWords(s.book.Path(id))) + " was not counted since a hand was last at it", s.countAgain(s.book.Path(id))})
		}
	}
	for _, sl := range s.slips {
		if len(sl.Out) > 0 {
			list = append(list, Blocker{"Slip " + string(sl.Code) + " is not back", orSay("when it is here "+say("slip "+string(sl.Code), "BACK"), "say on the inventory where it is")})
		}
	}
	return list
}

// countedAt is the last count of all that a place holds: of the whole place, or
// of each of its kinds. 0: some of it was never counted.
func (s *State) countedAt(a ledger.AccountID) ledger.Fact {
	least := ledger.Fact(0)
	for it, n := range s.book.At(a) {
		if n <= 0 {
			continue
		}
		f := s.book.LastCountOf(a, it).Fact
		if f == 0 {
			return 0
		}
		if least == 0 || f < least {
			least = f
		}
	}
	return least
}
