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
//
// It is kept small: a fold runs over all of them, and little else of most facts.
type meant struct {
	lay   uint32 // the number of the layout that it is by; 0: not found out yet
	to    spotNo // the place or bag that it is about, or where things went
	from  spotNo // where they came from
	line  int32  // the first of its lines in Job.lineList
	lines uint16 // how many it has

	thing  int16  // joint, part, loan or mark; plan.None: the plan has no such
	bench  uint16 // the terminal that tells it, by its place in Job.high
	known  events.Known
	quick  quick    // how it is folded from this alone
	where  spotKind // what the place is that it is about, or where things went
	whole  bool     // all holes that it names are there
	byName bool     // it names holes
	part   bool     // of pieces taken out: it names holes, or those that were left in
	all    bool     // of pieces taken out: it counts all
	yield  bool     // a stage that stretches what it turns
	last   bool     // the last one of as many stages
	number uint8    // of a stage that was told without a list, of pieces of a loan; 0 to 250

	holes *holeSet // that it is about; nil: it is about none
}

// manyLines is the most lines of a fact that are kept.
const manyLines = 1<<16 - 1

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
	*m = meant{lay: s.lay.no, thing: plan.None, known: s.rec.Known, bench: j.benchNo(s.rec.Terminal)}
	switch e := ev.(type) {
	case events.PiecesOut:
		m.where = spotKindOf(e.To)
		m.seatsOf(s, e.Joint, e.Holes, e.Left)
		m.to = j.spots.ofPlace(e.To)
		m.linesOf(s, e.Lines)
		m.byName, m.all, m.part = len(e.Holes) > 0, e.All, len(e.Holes)+len(e.Left) > 0
		m.ifPlain(quickOut, m.whole && len(e.Left) == 0 && len(e.Lines) > 0 && s.plainLines(m) && m.to != 0 && m.where != inRack)
	case events.PiecesFitted:
		m.seatsOf(s, e.Joint, e.Holes, nil)
		m.from = j.spots.ofPlace(e.From)
		m.linesOf(s, e.Lines)
		m.ifPlain(quickIn, m.whole && len(e.Lines) == 0 && !e.Trial && (e.From == "" || m.from != 0))
	case events.StageRecorded:
		m.yield = strings.HasPrefix(e.What, "angle") || strings.HasPrefix(e.What, "stretch")
		m.seatsOf(s, e.Joint, e.Holes, nil)
		m.number, m.last = uint8(min(max(e.Stage, 0), 250)), e.Stage >= e.Stages
		m.ifPlain(quickStage, m.whole && e.Order == "")
	case events.Counted:
		m.where = spotKindOf(e.Place)
		m.to = j.spots.ofPlace(e.Place)
		m.linesOf(s, e.Lines)
		m.ifPlain(quickCount, e.All && m.to != 0 && m.where != inJoint && s.plainLines(m))
	case events.PartRemoved:
		m.where = spotKindOf(e.To)
		m.thing = number(s.lay.partOf.Get(e.Part))
		m.to = j.spots.ofPlace(e.To)
		m.ifPlain(quickOff, m.thing != plan.None && (e.To == "" || m.to != 0) && m.where != inRack && len(e.Positions) == 0 && e.Counted == 0 && !e.NoneCame)
	case events.PartFitted:
		m.thing = number(s.lay.partOf.Get(e.Part))
		m.from = j.spots.ofPlace(e.From)
		m.ifPlain(quickOn, m.thing != plan.None && e.From == "" && len(e.Positions) == 0 && e.Counted == 0)
	case events.BagLabelled:
		m.thing = number(s.lay.jointOf.Get(e.Joint))
		m.to = j.spots.ofBag(e.Bag)
		m.ifPlain(quickLabel, m.thing != plan.None && e.Part == "")
	case events.BagOpened:
		m.to = j.spots.ofBag(e.Bag)
		m.ifPlain(quickOpen, true)
	case events.BagClosed:
		m.to = j.spots.ofBag(e.Bag)
		m.linesOf(s, e.Lines)
		m.ifPlain(quickClose, len(e.Lines) == 0)
	case events.LoanIn:
		m.thing = number(s.lay.loanOf.Get(e.Loan))
		m.loan(quickLoanIn, max(1, e.Count), e.Where == "")
	case events.LoanOut:
		m.thing = number(s.lay.loanOf.Get(e.Loan))
		m.loan(quickLoanOut, max(1, e.Count), true)
	case events.MarkMade:
		m.thing = number(s.lay.markOf.Get(e.Mark))
		m.ifPlain(quickMark, m.thing != plan.None)
	}
	if s.rec.To != 0 {
		m.quick = slow // when it happened is asked as well
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
func (m *meant) seatsOf(s *State, joint events.Joint, holes, left []events.Hole) {
	m.thing = number(s.lay.jointOf.Get(joint))
	if m.thing == plan.None {
		return
	}
	m.whole = true
	ix := plan.JointIndex(m.thing)
	seats := s.lay.plan.Joints[ix].Seats
	if len(holes) > 0 {
		seats = m.named(s.lay, holes)
	}
	if len(left) > 0 {
		stay := m.named(s.lay, left)
		seats = slices.DeleteFunc(slices.Clone(seats), func(ix plan.SeatIndex) bool { return contains(stay, ix) })
	}
	m.holes = s.job.holeSetOf(s.lay, ix, seats)
}

// named finds holes of the joint; the fold notes those that it does not have.
func (m *meant) named(l *layout, holes []events.Hole) []plan.SeatIndex {
	seats := make([]plan.SeatIndex, 0, len(holes))
	for _, h := range holes {
		ix, ok := l.hole(plan.JointIndex(m.thing), h)
		if !ok {
			m.whole = false
			continue
		}
		seats = append(seats, ix)
	}
	return seats
}

// linesOf finds the kinds of lines among those of the plan.
func (m *meant) linesOf(s *State, lines []events.Line) {
	j := s.job
	m.line, m.lines = int32(len(j.lineList)), uint16(min(len(lines), manyLines))
	for i := range lines[:m.lines] {
		l := &lines[i]
		at := lineMeant{kind: -1, qty: int32(l.Qty)}
		if k, ok := s.lay.kindAt.Get(l.Kind); ok {
			at.kind, at.plain = k, l.Cond == "" && l.Lot == "" && l.Origin == "" && int(at.qty) == l.Qty
		}
		j.lineList = append(j.lineList, at)
	}
}

// linesMeant are the lines of the fact in hand.
func (s *State) linesMeant() []lineMeant {
	m := s.meant
	return s.job.lineList[m.line : m.line+int32(m.lines)]
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
