package engine

import (
	"time"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Bead is sealant that was put on for one step: from then on the plan's open
// time runs until all that the step fits and fastens is in.
type Bead struct {
	Step   events.Step
	Lot    events.Lot
	Since  ledger.Fact
	At     int64         // when it was put on, microseconds since 1970
	Open   time.Duration // how long it may stay open; 0: the plan does not say
	Closed int64         // when the last piece of the step was in; 0: it is open
}

// Until is the end of the open time, microseconds since 1970; 0 where the plan
// gives none.
func (b *Bead) Until() int64 {
	if b.Open == 0 {
		return 0
	}
	return b.At + b.Open.Microseconds()
}

// Late is how long after its open time the bead was closed; 0: in time, or
// open.
func (b *Bead) Late() time.Duration {
	if b.Open == 0 || b.Closed == 0 {
		return 0
	}
	return max(0, time.Duration(b.Closed-b.Until())*time.Microsecond)
}

func (s *State) sealantApplied(e *events.SealantApplied) {
	ix := s.sealedStep(e)
	if ix == plan.None {
		on := noun("step", e.Step)
		switch {
		case e.Joint != "":
			on = noun("joint", e.Joint)
		case e.Part != "":
			on = noun("part", e.Part)
		}
		s.note(NoSuch, on, "sealant put on")
		return
	}
	step := &s.lay.plan.Steps[ix]
	if b := s.bead(step.ID); b != nil && b.Closed == 0 {
		s.ahead.running--
	}
	s.ahead.beads = append(s.ahead.beads, &Bead{Step: step.ID, Lot: e.Lot, Since: s.fact, At: s.rec.At, Open: s.openTime(ix)})
	s.ahead.running++
}

// bead is the last bead of a step; nil if none was told of.
func (s *State) bead(step events.Step) *Bead {
	for i := len(s.ahead.beads) - 1; i >= 0; i-- {
		if s.ahead.beads[i].Step == step {
			return s.ahead.beads[i]
		}
	}
	return nil
}

// Beads lists the sealant that was put on, oldest first.
func (s *State) Beads() []*Bead { return s.ahead.beads }

// sealedStep is the step that a bead is for: the one named, or of those that
// fasten a joint or fit a part the first that has sealant and is not closed.
func (s *State) sealedStep(e *events.SealantApplied) plan.StepIndex {
	p := s.lay.plan
	if e.Step != "" {
		if ix, ok := p.Step(e.Step); ok && !p.Steps[ix].Section.Apart() {
			return ix
		}
		return plan.None
	}
	part, isPart := p.Part(e.Part)
	joint, isJoint := p.Joint(e.Joint)
	best := plan.StepIndex(plan.None)
	rank := 0
	for _, ix := range s.lay.order {
		step := &p.Steps[ix]
		about := isPart && contains(step.Fits, part) || isJoint && anySeat(step, func(seat plan.SeatIndex) bool {
			return p.Seats[seat].Joint == joint || contains(p.Seats[seat].SharedBy, joint)
		})
		if !about {
			continue
		}
		r := 1
		if s.sealed(ix) {
			r += 2
		}
		if !s.closed(ix) {
			r++
		}
		if r > rank {
			best, rank = ix, r
		}
	}
	return best
}

// sealed says whether a step has sealant by the plan.
func (s *State) sealed(ix plan.StepIndex) bool {
	step := &s.lay.plan.Steps[ix]
	if step.Sealant.Used {
		return true
	}
	for _, f := range step.Fits {
		if s.lay.plan.Parts[f].Sealant.Used {
			return true
		}
	}
	return false
}

// openTime is the shortest open time of a step: its own, and those of the
// parts that it fits.
func (s *State) openTime(ix plan.StepIndex) time.Duration {
	step := &s.lay.plan.Steps[ix]
	least := step.Sealant.OpenTime
	for _, f := range step.Fits {
		if t := s.lay.plan.Parts[f].Sealant.OpenTime; t > 0 && (least == 0 || t < least) {
			least = t
		}
	}
	return least
}

// closed says that all that a step fits is on and all that it fastens is in,
// tightened or not.
func (s *State) closed(ix plan.StepIndex) bool {
	step := &s.lay.plan.Steps[ix]
	for _, f := range step.Fits {
		if st := s.now.Part(f); st != plan.PartOn && st != plan.PartAbsent {
			return false
		}
	}
	for _, seat := range step.Fastens {
		if st := s.now.Seat(seat); st < plan.SeatFilled {
			return false
		}
	}
	return len(step.Fits)+len(step.Fastens) > 0
}

// beadUntil is the end of the open time of a step's bead that is open; 0: none
// is, or it has no end.
func (s *State) beadUntil(ix plan.StepIndex) int64 {
	if s.ahead.running == 0 {
		return 0
	}
	if b := s.bead(s.lay.plan.Steps[ix].ID); b != nil && b.Closed == 0 {
		return b.Until()
	}
	return 0
}

// closeBeads stops the clocks of what is closed now.
func (s *State) closeBeads() {
	for _, b := range s.ahead.beads {
		if b.Closed != 0 {
			continue
		}
		if ix, ok := s.lay.plan.Step(b.Step); ok && s.bead(b.Step) == b && s.closed(ix) {
			b.Closed = s.rec.At
			s.ahead.running--
		}
	}
}

// sealant holds a step whose bead has stood open for too long. It is asked only
// when the job was told the time. Rule R37.
func (v *view) sealant(ix plan.StepIndex, list []Blocker) []Blocker {
	s := v.s
	if len(s.ahead.beads) == 0 || s.job.clock == 0 {
		return list
	}
	b := s.bead(s.lay.plan.Steps[ix].ID)
	if b == nil || b.Closed != 0 || b.Until() == 0 || s.job.moment() <= b.Until() {
		return list
	}
	return append(list, Blocker{"Sealant put on " + momentWords(b.At) + ": its " + spanWords(b.Open) + " were over " + momentWords(b.Until()),
		"clean it off both faces, put on new: " + say(noun("step", b.Step), "SEALANT ON")})
}

// lateBeads lists what was closed after the open time of its sealant.
func (r *redList) lateBeads() {
	s := r.s
	for _, b := range s.ahead.beads {
		late := b.Late()
		ix, ok := s.lay.plan.Step(b.Step)
		if late == 0 || !ok || s.bead(b.Step) != b || !s.closed(ix) || s.overrideAfter(noun("step", b.Step), b.Since) {
			continue
		}
		r.add(RedSealant, b.Since, s.lay.plan.Steps[ix].Name+": closed "+spanWords(late)+" after the sealant's "+spanWords(b.Open),
			orSay("take it off, clean both faces: "+say(noun("step", b.Step), "SEALANT ON"), override(noun("step", b.Step))))
	}
}
