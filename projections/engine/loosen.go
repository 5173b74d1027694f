package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// OutOfTurn is what is asked before holes that were loosened one by one are told
// so, where the plan orders how they are loosened and they come otherwise; empty:
// they come in turn, or nobody orders it. What is loose already has no turn, and a
// joint that is told as a whole tells no order (rule R72).
func (j *Job) OutOfTurn(joint events.Joint, holes []events.Hole) string {
	s := j.State()
	ix, ok := s.lay.plan.Joint(joint)
	if !ok {
		return ""
	}
	var told []plan.SeatIndex
	for _, h := range holes {
		if seat, ok := s.lay.hole(ix, h); ok {
			told = append(told, seat)
		}
	}
	for n, seat := range told {
		if first := s.tightBefore(seat, told[:n]); len(first) > 0 {
			l := s.listOf(s.listNo(seat))
			return s.jointWords(string(joint)) + ": the plan loosens " + wordList(first) + " before " + l.Names[l.Spot(seat)]
		}
	}
	return ""
}

func (s *State) listNo(ix plan.SeatIndex) int32 {
	li, _ := s.listAt(ix)
	return li
}

// tightBefore names the holes of the same order that are loosened before one and
// are still tight, but for those that were told before it; none where it is loose
// already, or the plan orders nothing.
func (s *State) tightBefore(ix plan.SeatIndex, told []plan.SeatIndex) []string {
	li := s.listNo(ix)
	if li < 0 || !s.listOf(li).InTurn || s.now.Seat(ix) != plan.SeatFinished {
		return nil
	}
	l := s.listOf(li)
	name := l.Names[l.Spot(ix)]
	var first []string
	for _, other := range l.Loosen {
		if other == name {
			break
		}
		for spot, n := range l.Names {
			if seat := l.Seats[spot]; n == other && s.now.Seat(seat) == plan.SeatFinished && !contains(told, seat) {
				first = append(first, other)
			}
		}
	}
	return first
}

// WarmLoosening is what is asked before a joint is loosened that the plan wants
// cold, while the engine is warm by the book; empty: it is not, or nothing of it
// is tight. Common practice for aluminium heads: what the maker says comes first.
func (j *Job) WarmLoosening(joint events.Joint, holes []events.Hole) string {
	s := j.State()
	ix, ok := s.lay.plan.Joint(joint)
	if !ok || !s.warm() {
		return ""
	}
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		if (len(holes) == 0 || contains(holes, s.lay.plan.Seats[seat].Hole)) && s.coldOnly(seat) {
			return s.jointWords(string(joint)) + ": by the plan loosened only while the engine is cold; it is warm since " + s.clock(s.warmSince())
		}
	}
	return ""
}

// coldOnly reports whether a hole is tight, and the plan loosens it only cold.
func (s *State) coldOnly(ix plan.SeatIndex) bool {
	li := s.listNo(ix)
	return li >= 0 && s.listOf(li).Cold && s.now.Seat(ix) == plan.SeatFinished
}

// warm reports whether the engine runs, or ran warm and nobody has told it cold.
func (s *State) warm() bool {
	n := len(s.run.starts)
	if n == 0 {
		return false
	}
	last := &s.run.starts[n-1]
	return last.Cold == 0 && (last.Stopped == 0 || last.Warm)
}

// warmSince is the fact since which it is warm: the last stop, or the start of what
// runs still.
func (s *State) warmSince() ledger.Fact {
	last := &s.run.starts[len(s.run.starts)-1]
	if last.Stopped != 0 {
		return last.Stopped
	}
	return last.Fact
}

// warmBlocks is why a step that loosens what the plan wants cold has to wait.
func (s *State) warmBlocks(step *plan.Step, list []Blocker) []Blocker {
	if !s.warm() {
		return list
	}
	for _, seat := range step.TakesOut {
		if s.coldOnly(seat) {
			joint := s.lay.plan.Joints[s.lay.plan.Seats[seat].Joint].ID
			return append(list, Blocker{s.job.WarmLoosening(joint, nil), "let it cool, and scan COLD"})
		}
	}
	return list
}

// howLoosened is what was told of a loosening besides: out of turn, warm.
func howLoosened(outOfTurn, warm bool) string {
	text := ""
	if outOfTurn {
		text += ", otherwise than the plan orders it"
	}
	if warm {
		text += ", while the engine was warm"
	}
	return text
}
