package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// wasOpen says whether a cavity was open at any moment after one fact and up
// to another.
func (s *State) wasOpen(c plan.CavityIndex, after, upTo ledger.Fact) bool {
	open := s.lay.openAtFirst[c]
	for _, t := range s.turns {
		if t.fact > upTo {
			break
		}
		if t.cavity != c {
			continue
		}
		if t.fact > after && (open || t.open) {
			return true
		}
		open = t.open
	}
	return open
}

// wasOpenIn says whether a cavity may have been open within the window of an
// entry. Where facts were told later than they happened their times decide.
func (s *State) wasOpenIn(c plan.CavityIndex, en *ledger.Entry) bool {
	if !s.dated {
		return s.wasOpen(c, en.After, en.Shown)
	}
	w := s.windowOf(en)
	open, since := s.lay.openAtFirst[c], int64(0)
	for _, t := range s.turns {
		if t.cavity != c || t.open == open {
			continue
		}
		from, to := s.Happened(t.fact)
		if open && since <= w.to && to >= w.from {
			return true
		}
		open, since = t.open, from
	}
	return open && since <= w.to
}

// couldBeIn lists the cavities that a missing piece may be in: those that were
// open between the last good count and the count that was short, then those
// that these lead to. Rule R19.
func (s *State) couldBeIn(en *ledger.Entry) []plan.CavityIndex {
	var list []plan.CavityIndex
	for i := range s.lay.plan.Cavities {
		if c := plan.CavityIndex(i); s.wasOpenIn(c, en) {
			list = append(list, c)
		}
	}
	for i := 0; i < len(list); i++ {
		for _, c := range s.lay.plan.Cavities[list[i]].LeadsTo {
			if !contains(list, c) {
				list = append(list, c)
			}
		}
	}
	return list
}

// cleared says whether a cavity was looked into after a fact, or a second
// person signed for it. A look clears up to its own moment: a later loss needs
// its own.
func (s *State) cleared(c plan.CavityIndex, since ledger.Fact) bool {
	_, last := s.Happened(since)
	for i := len(s.looks) - 1; i >= 0 && (s.dated || s.looks[i].fact > since); i-- {
		if s.looks[i].cavity != c {
			continue
		}
		// a look that was told late clears what was missed before it, not what was missed before it was told
		if from, _ := s.Happened(s.looks[i].fact); s.looks[i].fact > since && from >= last || s.dated && from > last {
			return true
		}
	}
	ask := noun("cavity", s.lay.plan.Cavities[c].ID)
	for i := len(s.passes) - 1; i >= 0 && s.passes[i].Fact > since; i-- {
		if s.passes[i].Ask == ask {
			return true
		}
	}
	return false
}

// suspect is an open short with the cavities that it may be in and that nobody
// has looked into since.
type suspect struct {
	entry    ledger.Entry
	cavities []plan.CavityIndex
}

// suspects lists the open shorts that may lie in a cavity.
func (s *State) suspects() []suspect {
	if s.book.OpenEntries() == 0 {
		return nil
	}
	var list []suspect
	for k := 1; k <= s.book.Entries(); k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Open == 0 || en.Sign != ledger.Short {
			continue
		}
		var open []plan.CavityIndex
		for _, c := range s.couldBeIn(&en) {
			if !s.cleared(c, en.Shown) {
				open = append(open, c)
			}
		}
		if len(open) > 0 {
			list = append(list, suspect{en, open})
		}
	}
	return list
}

// lookInto says what clears a cavity for a short.
func (s *State) lookInto(c plan.CavityIndex) string {
	id := noun("cavity", s.lay.plan.Cavities[c].ID)
	if s.now.Open(c) {
		return "look into it: " + say(id, "LOOKED")
	}
	return "open it and look into it: " + orSay(say(id, "LOOKED"), override(id))
}

// shortWords names a short or over: "short 12: 1 M10x1.5x50".
func (s *State) shortWords(en *ledger.Entry) string {
	word := "short "
	if en.Sign == ledger.Over {
		word = "over "
	}
	return word + itoa(int(en.No)) + ", " + s.nOf(int(en.Open), s.kindOf(en))
}

func (s *State) kindOf(en *ledger.Entry) events.Kind { return s.book.KindName(s.book.KindOf(en.Item)) }
