package engine

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/plan"
)

// meant is what the names in one fact mean: the joint, part, loan or mark of
// the plan, its holes, the kinds of its lines, the places. It is found when the
// fact is folded first, and holds for every later fold by the same plan: a fold
// after a late fact looks up no text. Kinds of fact that come a few times in a
// job have none and look their names up.
type meant struct {
	lay   *layout
	thing int16    // joint, part, loan or mark; plan.None: the plan has no such
	whole bool     // all holes that it names are there
	where spotKind // what the place is that it is about, or where things went
	yield bool     // a stage that stretches what it turns
	to    spotNo   // the place or bag that it is about, or where things went
	from  spotNo   // where they came from
	holes *holeSet // that it is about; nil: it is about none
	lines []lineMeant
}

// spotKind says what sort of place one is, as far as the fold asks.
type spotKind uint8

const (
	otherSpot spotKind = iota
	inBag
	inRack
	inJoint
)

func spotKindOf(p events.Place) spotKind {
	switch word, _, _ := strings.Cut(string(p), "/"); {
	case len(word) == len(p):
		return otherSpot
	case word == "bag":
		return inBag
	case word == "rack":
		return inRack
	case word == "joint":
		return inJoint
	}
	return otherSpot
}

// lineMeant is what a line of pieces means.
type lineMeant struct {
	kind  int32 // by layout kind; -1: not of the plan
	qty   int32
	plain bool // a kind of the plan, and no more is said than how many
}

// joint is the joint of the fact in hand.
func (s *State) joint() (plan.JointIndex, bool) {
	return plan.JointIndex(s.meant.thing), s.meant.thing != plan.None
}

// part is the part of the fact in hand.
func (s *State) part() (plan.PartIndex, bool) {
	return plan.PartIndex(s.meant.thing), s.meant.thing != plan.None
}

// understand finds out what a fact means by the plan in force.
func (s *State) understand(m *meant, ev events.Event) {
	j := s.job
	*m = meant{lay: s.lay, thing: plan.None}
	switch e := ev.(type) {
	case events.PiecesOut:
		m.where = spotKindOf(e.To)
		m.seatsOf(j, e.Joint, e.Holes, e.Left)
		m.to = j.spots.ofPlace(e.To)
		m.linesOf(j, e.Lines)
	case events.PiecesFitted:
		m.seatsOf(j, e.Joint, e.Holes, nil)
		m.from = j.spots.ofPlace(e.From)
		m.linesOf(j, e.Lines)
	case events.StageRecorded:
		m.yield = strings.HasPrefix(e.What, "angle") || strings.HasPrefix(e.What, "stretch")
		m.seatsOf(j, e.Joint, e.Holes, nil)
	case events.Counted:
		m.where = spotKindOf(e.Place)
		m.to = j.spots.ofPlace(e.Place)
		m.linesOf(j, e.Lines)
	case events.PartRemoved:
		m.where = spotKindOf(e.To)
		m.thing = number(m.lay.partOf.Get(e.Part))
		m.to = j.spots.ofPlace(e.To)
	case events.PartFitted:
		m.thing = number(m.lay.partOf.Get(e.Part))
		m.from = j.spots.ofPlace(e.From)
	case events.BagLabelled:
		m.thing = number(m.lay.jointOf.Get(e.Joint))
		m.to = j.spots.ofBag(e.Bag)
	case events.BagOpened:
		m.to = j.spots.ofBag(e.Bag)
	case events.BagClosed:
		m.to = j.spots.ofBag(e.Bag)
		m.linesOf(j, e.Lines)
	case events.LoanIn:
		m.thing = number(m.lay.loanOf.Get(e.Loan))
	case events.LoanOut:
		m.thing = number(m.lay.loanOf.Get(e.Loan))
	case events.MarkMade:
		m.thing = number(m.lay.markOf.Get(e.Mark))
	}
	s.spots = grown(s.spots, len(j.spots.list))
}

// number is an index of the plan, plan.None for none.
func number(n int32, ok bool) int16 {
	if !ok {
		return plan.None
	}
	return int16(n)
}

// seatsOf finds the joint and the holes that are named, or all of the joint,
// less those that were left in on purpose.
func (m *meant) seatsOf(j *Job, joint events.Joint, holes, left []events.Hole) {
	m.thing = number(m.lay.jointOf.Get(joint))
	if m.thing == plan.None {
		return
	}
	m.whole = true
	ix := plan.JointIndex(m.thing)
	seats := m.lay.plan.Joints[ix].Seats
	if len(holes) > 0 {
		seats = m.named(holes)
	}
	if len(left) > 0 {
		stay := m.named(left)
		seats = slices.DeleteFunc(slices.Clone(seats), func(s plan.SeatIndex) bool { return contains(stay, s) })
	}
	m.holes = j.holeSetOf(m.lay, ix, seats)
}

// named finds holes of the joint; the fold notes those that it does not have.
func (m *meant) named(holes []events.Hole) []plan.SeatIndex {
	seats := make([]plan.SeatIndex, 0, len(holes))
	for _, h := range holes {
		ix, ok := m.lay.hole(plan.JointIndex(m.thing), h)
		if !ok {
			m.whole = false
			continue
		}
		seats = append(seats, ix)
	}
	return seats
}

// linesOf finds the kinds of lines among those of the plan.
func (m *meant) linesOf(j *Job, lines []events.Line) {
	m.lines = j.lineRoom.take(len(lines), 512)
	for i := range lines {
		l := &lines[i]
		at := lineMeant{kind: -1, qty: int32(l.Qty)}
		if k, ok := m.lay.kindAt.Get(l.Kind); ok {
			at.kind, at.plain = k, l.Cond == "" && l.Lot == "" && l.Origin == "" && int(at.qty) == l.Qty
		}
		m.lines[i] = at
	}
}

// room hands out short lists from long ones.
type room[T any] struct{ free []T }

// take gives a list of n empty elements, and makes long lists of so many.
func (r *room[T]) take(n, long int) []T {
	if n == 0 {
		return nil
	}
	if len(r.free) < n {
		r.free = make([]T, max(long, n))
	}
	list := r.free[:n:n]
	r.free = r.free[n:]
	return list
}

// grown gives a list at least n elements, the new ones empty.
func grown[T any](list []T, n int) []T {
	if len(list) >= n {
		return list
	}
	if cap(list) >= n {
		old := len(list)
		list = list[:n]
		clear(list[old:])
		return list
	}
	longer := make([]T, n, max(2*cap(list), n))
	copy(longer, list)
	return longer
}
