package engine

import (
	"math/bits"
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// holeSet is the holes that a fact is about, with what is the same each time
// they all go the way they should: which pieces leave and enter, what they
// clamp, how they are tightened. It is worked out once for a joint, or for the
// holes of it that a fact names, and never changes. The ways below that use it
// do what the ways hole by hole do, all of it or nothing.
type holeSet struct {
	joint    plan.JointIndex
	seats    []plan.SeatIndex
	masks    []masks // by hole
	outs     []kindOut
	ins      []kindIn         // in the order in which the holes want them
	turns    []need           // the outermost pieces, where a stage uses up any
	used     bool             // all outermost pieces are used up by a stage; none is else
	even     bool             // turns and used tell the truth, and all seats are on one list with one number of stages
	list     int16            // that all holes are on; -1: none
	now      int              // stages of each hole that are due at once
	most     int              // all stages of each hole
	span     int32            // of all holes: see spanAt
	steps    []plan.StepIndex // that take pieces out of them
	after    []follow
	cavities []plan.CavityIndex // that open or close with any hole
	waited   bool               // the conditions of a step that waits look at any hole
	fresh    bool               // every hole has pieces that leave with it
}

// masks are the members of a hole, and those that stay when it is opened.
type masks struct{ full, stay uint8 }

// kindOut is one kind that leaves holes.
type kindOut struct {
	kind  int32
	bits  []seatBit
	seats []plan.SeatIndex // of the bits
	needs []need           // by group
	mains int              // of how many of its holes it is the outermost piece
	span  int32            // of the seats
}

type seatBit struct {
	seat plan.SeatIndex
	bit  uint8
	stay uint8
	main uint8
}

// kindIn is one kind that goes into holes of one group.
type kindIn struct {
	need
	single bool
}

// follow is what has to be looked at when holes were filled: a part that they
// clamp, or else a step that fastens them.
type follow struct {
	part plan.PartIndex // plan.None: a step
	step plan.StepIndex
}

// holeSetOf gives the set of some holes of a joint: one that the layout has, or
// one that this job's facts name.
func (j *Job) holeSetOf(l *layout, joint plan.JointIndex, seats []plan.SeatIndex) *holeSet {
	if hs := setAmong(l.joints[joint].sets, seats); hs != nil {
		return hs
	}
	if j.setsOf != l {
		j.setsOf, j.sets = l, make([][]*holeSet, len(l.joints))
	}
	if hs := setAmong(j.sets[joint], seats); hs != nil {
		return hs
	}
	hs := l.newHoleSet(joint, seats)
	hs.number(func(seats []plan.SeatIndex) int32 {
		j.spans = append(j.spans, seats)
		return -int32(len(j.spans))
	})
	j.sets[joint] = append(j.sets[joint], hs)
	return hs
}

func setAmong(sets []*holeSet, seats []plan.SeatIndex) *holeSet {
	for _, hs := range sets {
		if slices.Equal(hs.seats, seats) {
			return hs
		}
	}
	return nil
}

// sets works out the sets of each joint that most facts are about: all of its
// holes, and those that a step empties or fills.
func (b *layoutBuilder) sets() {
	p := b.plan
	for j := range p.Joints {
		b.addSet(plan.JointIndex(j), p.Joints[j].Seats)
	}
	for i := range p.Steps {
		b.setsOf(p.Steps[i].TakesOut)
		b.setsOf(p.Steps[i].Fastens)
	}
}

// setsOf adds sets for what a list of holes has of each joint.
func (b *layoutBuilder) setsOf(seats []plan.SeatIndex) {
	byJoint := make(map[plan.JointIndex][]plan.SeatIndex)
	var joints []plan.JointIndex
	for _, ix := range seats {
		j := b.plan.Seats[ix].Joint
		if byJoint[j] == nil {
			joints = append(joints, j)
		}
		byJoint[j] = append(byJoint[j], ix)
	}
	for _, j := range joints {
		b.addSet(j, byJoint[j])
	}
}

func (b *layoutBuilder) addSet(j plan.JointIndex, seats []plan.SeatIndex) {
	jl := &b.layout.joints[j]
	if setAmong(jl.sets, seats) != nil {
		return
	}
	hs := b.newHoleSet(j, seats)
	hs.number(func(seats []plan.SeatIndex) int32 {
		b.spans = append(b.spans, seats)
		return int32(len(b.spans))
	})
	jl.sets = append(jl.sets, hs)
}

// number gives all lists of holes of the set a number for the log of turns.
func (hs *holeSet) number(spanOf func([]plan.SeatIndex) int32) {
	hs.span = spanOf(hs.seats)
	for i := range hs.outs {
		k := &hs.outs[i]
		k.seats = make([]plan.SeatIndex, len(k.bits))
		for n := range k.bits {
			k.seats[n] = k.bits[n].seat
		}
		k.span = spanOf(k.seats)
	}
}

// spanAt is the list of holes behind a number that is not 0: of the layout, or
// below 0 of this job.
func (j *Job) spanAt(l *layout, span int32) []plan.SeatIndex {
	if span < 0 {
		return j.spans[-span-1]
	}
	return l.spans[span-1]
}

func (l *layout) newHoleSet(joint plan.JointIndex, seats []plan.SeatIndex) *holeSet {
	hs := &holeSet{joint: joint, seats: seats, steps: l.outOf(seats), fresh: true}
	ins, turns := State{}, State{}
	for _, ix := range seats {
		sl := &l.seats[ix]
		hs.masks = append(hs.masks, masks{sl.full, sl.stay})
		hs.waited = hs.waited || sl.waited
		for _, c := range sl.cavities {
			if !contains(hs.cavities, c) {
				hs.cavities = append(hs.cavities, c)
			}
		}
		hs.fresh = hs.fresh && sl.full&^sl.stay != 0
		for i := range sl.members {
			if bit := uint8(1) << i; sl.stay&bit == 0 {
				hs.leaves(sl, sl.members[i].kind, seatBit{ix, bit, sl.stay, sl.main})
			}
		}
		for m := sl.full &^ sl.stay; m != 0; m &= m - 1 {
			ins.wantKind(sl.group, sl.members[bits.TrailingZeros8(m)].kind)
		}
		if n := len(sl.members); n > 0 {
			turns.wantKind(sl.group, sl.members[n-1].kind)
		}
	}
	for _, n := range ins.need {
		hs.ins = append(hs.ins, kindIn{n, l.singleIn(seats, n)})
	}
	hs.turns = turns.need
	hs.follows(l)
	hs.evens(l)
	return hs
}

// leaves adds one piece to what can be taken out.
func (hs *holeSet) leaves(sl *seatLayout, kind int32, one seatBit) {
	at := slices.IndexFunc(hs.outs, func(k kindOut) bool { return k.kind == kind })
	if at < 0 {
		at = len(hs.outs)
		hs.outs = append(hs.outs, kindOut{kind: kind})
	}
	k := &hs.outs[at]
	k.bits = append(k.bits, one)
	if one.bit == sl.main {
		k.mains++
	}
	for i := range k.needs {
		if k.needs[i].group == sl.group {
			k.needs[i].n++
			return
		}
	}
	k.needs = append(k.needs, need{sl.group, kind, 1})
}

// follows lists what is looked at after all holes were filled, in the order in
// which it is looked at hole by hole.
func (hs *holeSet) follows(l *layout) {
	last := plan.StepIndex(-1)
	for _, ix := range hs.seats {
		for _, p := range l.plan.Seats[ix].Clamps {
			if f := (follow{part: p}); !contains(hs.after, f) {
				hs.after = append(hs.after, f)
			}
		}
		for _, st := range l.seats[ix].in {
			if st != last && len(l.plan.Steps[st].Fits) > 0 {
				hs.after = append(hs.after, follow{plan.None, st})
			}
			last = st
		}
	}
}

// evens finds out whether all holes are tightened alike.
func (hs *holeSet) evens(l *layout) {
	for i, ix := range hs.seats {
		sl := &l.seats[ix]
		now, most := 0, 0
		if sl.list >= 0 {
			ed := l.lists[sl.list].Edition(0)
			now, most = ed.Now(int(sl.spot)), ed.All(int(sl.spot))
		}
		if i == 0 {
			hs.list, hs.now, hs.most, hs.used, hs.even = sl.list, now, most, sl.single, len(sl.members) > 0
		}
		hs.even = hs.even && hs.list == sl.list && hs.now == now && hs.most == most && hs.used == sl.single &&
			sl.main&^sl.stay == 1<<(len(sl.members)-1) && !contains(hs.seats[:i], ix) &&
			(sl.stud < 0 || sl.stay&sl.studBit != 0)
	}
}

// byCount reports whether what is told of all holes of a set can be counted: its
// list is counted stage by stage, and by the plan.
func (s *State) byCount(hs *holeSet) bool {
	if !hs.even || s.tight.ownAt != nil || s.job.byHole {
		return false
	}
	if hs.list < 0 {
		return true
	}
	ls := &s.tight.lists[hs.list]
	return s.lay.plain[hs.list] && !ls.hard && ls.choice == 0
}

// logSpan writes one line of the log for several holes that are on a list.
func (s *State) logSpan(list int16, span int32, what turned, stage uint8, met bool) {
	if list >= 0 {
		s.tight.log = append(s.tight.log, turn{fact: s.fact, span: span, list: list, what: what, stage: stage, met: met})
	}
}

// allOfKind takes the kind of a line out of all holes that the plan has it in; false, and
// nothing is done, where they are not all in, or it is not so many.
func (s *State) allOfKind(hs *holeSet, m *lineMeant, line int, to ledger.AccountID) bool {
	at := 0
	for at < len(hs.outs) && hs.outs[at].kind != m.kind {
		at++
	}
	if at == len(hs.outs) || len(hs.outs[at].bits) != int(m.qty) || len(s.odd) > 0 || !s.byCount(hs) {
		return false
	}
	k := &hs.outs[at]
	main := k.mains == len(k.bits)
	if !main && k.mains > 0 {
		return false
	}
	for i := range k.bits {
		st := &s.seats[k.bits[i].seat]
		if st.in&k.bits[i].bit == 0 || st.broken || st.oddKind || !main && st.stages != 0 {
			return false
		}
	}
	if main {
		s.logSpan(hs.list, k.span, turnOut, 0, false)
	}
	now := seat{byNumber: true, byClaim: s.meant.known == events.Claimed || s.meant.known == events.Presumed, changed: s.fact}
	emptied := 0
	for i := range k.bits {
		b := &k.bits[i]
		st := &s.seats[b.seat]
		in, fitting := st.in&^b.bit, st.fitting
		*st = now
		st.in, st.fitting = in, fitting
		if letsGo(in, b.stay, b.main) {
			emptied++
		}
	}
	s.emptyNow(hs, k, emptied)
	for i := range k.needs {
		n := &k.needs[i]
		if m.plain {
			s.book.MoveKind(s.fact, s.kinds[m.kind], n.n, s.group[n.group], to)
		} else {
			s.moveKind(&s.linesOut()[line], s.kinds[m.kind], n.n, s.group[n.group], to)
		}
	}
	return true
}

// emptyNow empties the holes that hold nothing any more without a kind: all, none or
// some of those that it was in.
func (s *State) emptyNow(hs *holeSet, k *kindOut, n int) {
	if n == len(k.bits) {
		s.setSeats(hs, k.seats, plan.SeatEmpty)
		return
	}
	for i := 0; i < len(k.bits) && n > 0; i++ {
		if b := &k.bits[i]; letsGo(s.seats[b.seat].in, b.stay, b.main) {
			s.setSeat(b.seat, plan.SeatEmpty)
		}
	}
}

// allIn fills all holes of a set, that are all empty, with all that belongs in
// them; false, and nothing is done, where it is not so.
func (s *State) allIn(hs *holeSet, from ledger.AccountID, trial bool) bool {
	if !hs.fresh || len(s.holes) > 0 || !s.byCount(hs) {
		return false
	}
	for i, ix := range hs.seats {
		st := &s.seats[ix]
		if st.in != hs.masks[i].stay || st.stages != 0 || st.broken || st.reused || st.oddKind || st.badPiece {
			return false
		}
	}
	s.logSpan(hs.list, hs.span, turnIn, 0, false)
	state := plan.SeatFinished
	if hs.most > 0 {
		state = plan.SeatFilled
	}
	now := seat{trial: trial, byClaim: s.meant.known == events.Claimed, changed: s.fact}
	for i, ix := range hs.seats {
		st := &s.seats[ix]
		fitting := st.fitting + 1
		*st = now
		st.in, st.fitting = hs.masks[i].full, fitting
	}
	s.setSeats(hs, hs.seats, state)
	for i := range hs.ins {
		n := &hs.ins[i]
		if b := s.supply(s.kinds[n.kind], n.n, n.single, from, s.group[n.group]); b != (bad{}) {
			s.markBad(hs.seats, n.need, b, trial)
		}
	}
	for _, f := range hs.after {
		if f.part == plan.None {
			s.onByFasteners(f.step)
		} else if st := s.now.Part(f.part); st == plan.PartOff || st == plan.PartPartly {
			s.presumeOn(f.part)
		}
	}
	return true
}

// allTold takes a stage that was told without a list of all holes of a set, that
// are all filled; false, and nothing is done, where it is not so.
func (s *State) allTold(hs *holeSet, number int, last, yield bool) bool {
	if !s.byCount(hs) {
		return false
	}
	for i, ix := range hs.seats {
		if s.seats[ix].in != hs.masks[i].full {
			return false
		}
	}
	n, state := wholeStage(number, last, hs.now, hs.most)
	s.logSpan(hs.list, hs.span, turnWhole, n, true)
	for _, ix := range hs.seats {
		st := &s.seats[ix]
		st.parked, st.stages = false, n
	}
	s.setSeats(hs, hs.seats, state)
	if yield || hs.used {
		s.useUpTurned(hs.turns)
	}
	return true
}
