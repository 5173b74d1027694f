package engine

import (
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// tight is what was told of tightened holes. As long as a list goes as it
// should, counting the stages of each hole is all that the fold does; from the
// first fact on that only the matrix of the list can weigh (a value, a stage out
// of order, an angle broken off), the matrix says which holes are finished.
// Both give the same answer where both can.
type tight struct {
	log   []turn
	lists []listState              // by list of the layout, then those that persons chose
	own   []ownList                // that persons chose
	ownAt map[plan.SeatIndex]int32 // into lists
	dirty []int32                  // lists whose matrix has to take in facts
	heap  []plan.SeatIndex         // scratch
}

// listState is how one list stands.
type listState struct {
	choice int32 // the edition that was chosen, from 1; 0: none yet
	chose  ledger.Fact
	hard   bool // its matrix says what is finished
	dirty  bool
	m      *stage.Matrix // nil until it is asked for
	upto   int           // how much of the log it has
}

// ownList is a torque that a person chose for some holes.
type ownList struct {
	list tightening.List
	from int // in the log: what was told before belongs to no fitting of it
	fact ledger.Fact
}

// turn is one line of the log: what was told of one hole that is on a list, or
// of several at once.
type turn struct {
	fact  ledger.Fact
	span  int32 // several holes of the same list: see spanAt; 0: seat
	seat  plan.SeatIndex
	list  int16 // that the hole was on then
	what  turned
	stage uint8 // as told, from 1
	met   bool  // what the stage wants first was so
	bare  bool  // the stud in the hole was not set yet by its own list
}

// turned says what a turn is.
type turned uint8

const (
	turnIn     turned = iota // a fastener went in
	turnOut                  // it came out, or is finger-tight again
	turnLoose                // it was loosened
	turnCame                 // it is in and finished as it came
	turnAbsent               // this engine has no such hole
	turnWhole                // told without a list: so many stages are done
	turnStage                // one stage
	turnAgain                // a stage is begun anew
	turnAccept               // a person answers for what is doubtful in a stage
)

// beginTight forgets everything for the lists of a layout.
func (s *State) beginTight() {
	t := &s.tight
	t.log, t.own, t.ownAt, t.dirty = t.log[:0], nil, nil, t.dirty[:0]
	t.lists = resize(t.lists, len(s.lay.lists))
}

// listAt is the list that a hole is on, and its position there; -1: none.
func (s *State) listAt(ix plan.SeatIndex) (list int32, spot int) {
	if s.tight.ownAt != nil {
		return s.ownListAt(ix)
	}
	sl := &s.lay.seats[ix]
	return int32(sl.list), int(sl.spot)
}

// ownListAt is listAt where persons chose lists.
func (s *State) ownListAt(ix plan.SeatIndex) (list int32, spot int) {
	if li, ok := s.tight.ownAt[ix]; ok {
		return li, s.listOf(li).Spot(ix)
	}
	sl := &s.lay.seats[ix]
	return int32(sl.list), int(sl.spot)
}

// listOf is a list by its number.
func (s *State) listOf(li int32) *tightening.List {
	if n := int(li) - len(s.lay.lists); n >= 0 {
		return &s.tight.own[n].list
	}
	return &s.lay.lists[li]
}

// edition is the edition of a list that counts now.
func (s *State) edition(li int32) *tightening.Edition {
	return s.listOf(li).Edition(int(s.tight.lists[li].choice))
}

// owesStages reports whether a hole that is filled has to be tightened by a
// list.
func (s *State) owesStages(ix plan.SeatIndex) bool {
	if s.lay.seats[ix].stages != 0 {
		return true
	}
	_, ok := s.tight.ownAt[ix]
	return ok
}

// stagesOf is how many stages of a hole are due now.
func (s *State) stagesOf(ix plan.SeatIndex) int {
	li, spot := s.listAt(ix)
	if li < 0 {
		return 0
	}
	return s.edition(li).Now(spot)
}

// allStages is how many stages a hole has, what falls due later included.
func (s *State) allStages(ix plan.SeatIndex) int {
	_, all := s.stagesNowAndAll(ix)
	return all
}

func (s *State) stagesNowAndAll(ix plan.SeatIndex) (now, all int) {
	li, spot := s.listAt(ix)
	if li < 0 {
		return 0, 0
	}
	ed := s.edition(li)
	return ed.Now(spot), ed.All(spot)
}

// logTurn writes a line of the log.
func (s *State) logTurn(ix plan.SeatIndex, what turned, stage uint8, met bool) {
	li, _ := s.listAt(ix)
	if li < 0 {
		return
	}
	s.tight.log = append(s.tight.log, turn{fact: s.fact, seat: ix, list: int16(li), what: what, stage: stage, met: met})
	ls := &s.tight.lists[li]
	if !ls.hard && ls.choice == 0 && int(li) < len(s.lay.plain) && s.lay.plain[li] {
		return
	}
	if ls.hard || !s.edition(li).Plain {
		s.harden(li)
	}
}

// harden lets the matrix of a list say what is finished, from this fact on.
func (s *State) harden(li int32) {
	ls := &s.tight.lists[li]
	ls.hard = true
	if !ls.dirty {
		ls.dirty = true
		s.tight.dirty = append(s.tight.dirty, li)
	}
}

// recycled is the memory of one that is no longer needed.
func (t *tight) recycled() tight {
	return tight{log: t.log[:0], lists: t.lists, dirty: t.dirty[:0], heap: t.heap[:0]}
}

// settleTurns takes the facts in hand into the matrices that need them.
func (s *State) settleTurns() {
	for _, li := range s.tight.dirty {
		s.tight.lists[li].dirty = false
		s.refresh(li)
	}
	s.tight.dirty = s.tight.dirty[:0]
}

// refresh sets the holes of a list as its matrix says (rule R50).
func (s *State) refresh(li int32) {
	m, l, ed := s.matrix(li), s.listOf(li), s.edition(li)
	for spot, ix := range l.Seats {
		if at, _ := s.listAt(ix); at != li {
			continue
		}
		st := &s.seats[ix]
		n := doneUpTo(m, l, ed, spot)
		st.stages = uint8(min(n, 250))
		now := s.now.Seat(ix)
		if st.in != s.lay.seats[ix].full || st.parked || now != plan.SeatFilled && now != plan.SeatFinished {
			continue
		}
		state := plan.SeatFilled
		if n >= ed.Now(spot) {
			state = plan.SeatFinished
		}
		s.setSeat(ix, state)
	}
}

// doneUpTo is up to which of its numbers a position is done without a gap.
func doneUpTo(m *stage.Matrix, l *tightening.List, ed *tightening.Edition, spot int) int {
	n := 0
	for k := 1; k <= ed.All(spot); k++ {
		at := ed.Stage(spot, k)
		if at == 0 {
			n = k // the stage is for others
			continue
		}
		if c, _ := m.Cell(l.Names[spot], at); c.State != stage.Done {
			break
		}
		n = k
	}
	return n
}
