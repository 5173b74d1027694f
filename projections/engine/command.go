package engine

import (
	"strings"

	"countback/events"
	"countback/projections/plan"
)

// Command is what a person wants recorded or asks. Its rule is decide: one
// event, or none with an answer of nothing to do (nil, nil), or a Refusal.
// Rules look in a fixed order: malformed, already done (transfers and states
// only), unknown, conflict with the state. Time, operator and ids are in the
// envelope and in the command; decide reads no clock.
type Command interface {
	decide(*State) (events.Event, error)
}

// Decide asks a rule. An error is a *Refusal; a nil event without an error
// means that it is done already.
func (j *Job) Decide(c Command) (events.Event, error) { return c.decide(j.State()) }

// Tell is the command behind every plain tell: what the hand has done or the
// eye has seen is stored as it is told. It is refused only if it is malformed
// (rule R18); what is already so, for transfers and states, stores nothing.
type Tell struct{ Event events.Event }

func (c Tell) decide(s *State) (events.Event, error) {
	if err := malformed(c.Event); err != nil {
		return nil, err
	}
	if s.already(c.Event) {
		return nil, nil
	}
	if e, ok := c.Event.(events.Carried); ok {
		if err := s.refuseRing(&e); err != nil {
			return nil, err
		}
	}
	return c.Event, nil
}

// malformed finds what makes no sense in any job.
func malformed(ev events.Event) error {
	if e, ok := ev.(events.StageRecorded); ok {
		return malformedStage(&e)
	}
	if e, ok := ev.(events.PartPressed); ok {
		return malformedStage(&events.StageRecorded{Stage: e.Stage, Value: e.Value, Unit: e.Unit, Read: e.Read})
	}
	for _, l := range LinesOf(ev) {
		switch {
		case l.Kind == "":
			return refuse(Malformed, "scan what it is, then how many", "a number without a kind")
		case l.Qty < 0:
			return refuse(Malformed, "count again", "%d %s: a number below zero", l.Qty, l.Kind)
		case l.Qty > events.MaxQty:
			return refuse(Malformed, "count again", "%d %s: more than %d", l.Qty, l.Kind, events.MaxQty)
		}
	}
	return malformedAhead(ev)
}

// LinesOf gives the lines that an event carries; of a reading in several
// places those of all. It must not be changed.
func LinesOf(ev events.Event) []events.Line {
	switch e := ev.(type) {
	case events.PiecesOut:
		return e.Lines
	case events.PiecesFitted:
		return e.Lines
	case events.Counted:
		return e.Lines
	case events.PiecesMoved:
		return e.Lines
	case events.BagClosed:
		return e.Lines
	case events.BagSplit:
		return e.Lines
	case events.PiecesScrapped:
		return e.Lines
	case events.PiecesKept:
		return e.Lines
	case events.ConditionChanged:
		return e.Lines
	case events.HardwareReceived:
		return e.Lines
	case events.KitOpened:
		return e.Lines
	case events.LossReported:
		return e.Lines
	case events.HardwareLent:
		return e.Lines
	case events.HardwareBorrowed:
		return e.Lines
	case events.MissingOnArrival:
		return e.Lines
	case events.CavityLooked:
		return e.Found
	case events.SentOut:
		return e.Stays
	case events.Returned:
		return e.Lines
	case events.OwnerBrought:
		return e.Lines
	case events.OwnerGiven:
		return e.Lines
	case events.SecondChecked:
		return e.Lines
	case events.BatchOpened:
		return e.Masks
	case events.BatchClosed:
		return e.Masks
	case events.TraySorted:
		var lines []events.Line
		for i := range e.Into {
			lines = append(lines, e.Into[i].Lines...)
		}
		return lines
	case events.Ordered:
		return e.Lines
	case events.HardwareSentBack:
		return e.Lines
	}
	return nil
}

// already says that a transfer or state is so. An observation never is: it is
// always an event.
func (s *State) already(ev events.Event) bool {
	switch e := ev.(type) {
	case events.PartRemoved:
		p, ok := s.lay.plan.Part(e.Part)
		return ok && e.Counted == 0 && !e.NoneCame && e.To == "" && len(e.Positions) == 0 && s.now.Part(p) == plan.PartOff
	case events.PartFitted:
		p, ok := s.lay.plan.Part(e.Part)
		return ok && e.Counted == 0 && len(e.Positions) == 0 && s.now.Part(p) == plan.PartOn
	case events.PiecesParked:
		return s.allAre(e.Joint, e.Holes, func(st *seat, sl *seatLayout) bool { return st.parked && st.in == sl.full })
	case events.PiecesLoosened:
		return s.allAre(e.Joint, e.Holes, func(st *seat, sl *seatLayout) bool {
			return st.in == 0 || st.stages == 0 && !s.weighed(sl) && !bareStud(st, sl)
		})
	case events.PiecesOut:
		return s.allOutHere(&e)
	case events.EngineStopped:
		n := len(s.run.starts)
		return n > 0 && s.run.starts[n-1].Stopped != 0 && s.run.starts[n-1].Warm == e.Warm
	case events.EngineCooled:
		n := len(s.run.starts)
		return n > 0 && s.run.starts[n-1].Cold != 0
	case events.ShortEnded:
		en := s.book.Entry(s.Short(e.Short))
		how := e.How
		if how == events.StillIn {
			how = events.Miscount // as the book has it
		}
		return en.No != 0 && en.Open == 0 && en.Ending == how
	case events.BagOpened:
		b, ok := s.bags[e.Bag]
		return ok && !b.Closed
	case events.BagLabelled:
		b, ok := s.bags[e.Bag]
		return ok && b.Joint == e.Joint && b.Part == e.Part
	case events.BagRetired:
		b, ok := s.bags[e.Bag]
		return ok && b.Retired != 0
	case events.LoanOut:
		st, ok := s.loans[e.Loan]
		return ok && st.In == 0
	case events.MarkMade:
		m, ok := s.lay.plan.Mark(e.Mark)
		return ok && s.now.Mark(m)
	case events.CavityOpened:
		return s.cavityIs(e.Cavity, true)
	case events.CavityClosed:
		return s.cavityIs(e.Cavity, false)
	case events.HoldReleased:
		for _, h := range s.holds {
			if h.ID == e.Hold && h.Released == 0 {
				return false
			}
		}
		return true
	case events.JobResumed:
		return s.Ended == nil
	case events.Returned:
		return s.isBack(&e)
	case events.OwnerAsked:
		w := s.wish(e.Part)
		return w != nil && w.OwnerAsked == e
	case events.OwnerShown:
		w := s.wish(e.Part)
		return w != nil && w.Shown != 0
	case events.WorkAsked:
		sl := s.slip(e.Slip)
		return sl != nil && sl.Scope == e.Work && sl.Limits == e.Limits
	case events.Carried:
		t, ok := s.Tray(e.What)
		return ok && t.Since != 0 && t.At == e.To && t.With == e.With
	case events.ToolBack:
		return !s.toolIsOut(e.Tool)
	case events.OrderLost:
		rack, _ := rackOf(e.Rack)
		r, ok := s.racks[rack]
		return ok && r.Lost != 0 && len(s.At(rack)) > 0
	}
	return s.alreadyAhead(ev)
}

// allOutHere says that all of a joint is out by the word of a person, and that
// nothing of it lies anywhere else than on this bench, or in the bag that is said.
func (s *State) allOutHere(e *events.PiecesOut) bool {
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok || !e.All || len(e.Lines)+len(e.Holes)+len(e.Left) > 0 || s.isUncounted(e.Joint, "") {
		return false
	}
	if seats := s.lay.plan.Joints[j].Seats; s.anyIn(seats) || !s.toldOut(seats) {
		return false
	}
	for _, a := range s.looseOf(string(e.Joint)) {
		if e.To != "" && !strings.HasPrefix(string(s.book.Path(a)), string(e.To)) {
			return false
		}
	}
	return true
}

// toldOut says whether these holes were emptied by a fact, not as the engine came.
func (s *State) toldOut(seats []plan.SeatIndex) bool {
	for _, ix := range seats {
		if s.seats[ix].changed != 0 {
			return true
		}
	}
	return false
}

func (s *State) cavityIs(c events.Cavity, open bool) bool {
	ix, ok := s.lay.plan.Cavity(c)
	return ok && s.caveOpen[ix] == open
}

func (s *State) allAre(joint events.Joint, holes []events.Hole, is func(*seat, *seatLayout) bool) bool {
	j, ok := s.lay.plan.Joint(joint)
	if !ok {
		return false
	}
	seats := s.lay.plan.Joints[j].Seats
	if len(holes) > 0 {
		seats = nil
		for _, h := range holes {
			if ix, ok := s.lay.plan.Hole(joint, h); ok {
				seats = append(seats, ix)
			}
		}
	}
	for _, ix := range seats {
		if s.lay.seats[ix].full != 0 && !is(&s.seats[ix], &s.lay.seats[ix]) {
			return false
		}
	}
	return len(seats) > 0
}
