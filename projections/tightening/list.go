package tightening

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

// UsualPause is the longest pause inside an angle stage where neither the plan
// nor the shop gives one: half an hour. Common practice, without a source.
const UsualPause = 30 * time.Minute

// List is one order of turning.
type List struct {
	ID       string // of the plan's list
	Joints   []plan.JointIndex
	Seats    []plan.SeatIndex // in the order of turning
	Names    []string         // of the positions: the holes, with their joint where the order goes over several
	How      string           // where the order is from, in words; empty: the plan names the holes
	Guided   bool             // the order was worked out: guidance
	Loosen   []string         // positions in the order in which they are loosened
	LoosenBy string           // the plan's words on it; empty: the reverse of the order
	InTurn   bool             // the plan says how it is loosened: otherwise than by Loosen is asked about
	Cold     bool             // loosened only while the engine is cold
	Chosen   bool             // a person chose the torque; the plan has none
	Editions []Edition        // at least one; the last one counts until a person chooses
}

// Edition is the stages as one source gives them.
type Edition struct {
	Name   string
	Source string
	List   stage.List
	Needs  []plan.Condition // by stage of List: what must be so before it
	Plain  bool             // no sets, no neighbours, no loosening, no stage for some of a group only
	told   []told           // by stage of List
	now    []int            // by position: how many numbers are due now
	due    []int            // by position: how many fall due later
	need   [][]uint16       // by stage of List, by position: the number up to which it must be done before
}

// told is how one stage of a list is numbered.
type told struct {
	number int
	group  int
	spots  []int // positions
}

// Label names an edition: "3, sheet 11 revised"; empty where there is nothing
// to tell apart.
func (e *Edition) Label() string {
	switch {
	case e.Name == "":
		return e.Source
	case e.Source == "":
		return e.Name
	}
	return e.Name + ", " + e.Source
}

// Now is how many stages a position has that are due now: their numbers are 1
// to that.
func (e *Edition) Now(spot int) int { return e.now[spot] }

// Due is how many stages of a position fall due later: their numbers follow.
func (e *Edition) Due(spot int) int { return e.due[spot] }

// All is how many stages a position has: those due now and those due later.
func (e *Edition) All(spot int) int { return e.now[spot] + e.due[spot] }

// Most is the largest number of stages that are due now.
func (e *Edition) Most() int { return slices.Max(e.now) }

// Stage is the stage of List, from 1, that is a number at a position; 0: none.
func (e *Edition) Stage(spot, number int) int {
	for i := range e.told {
		if e.told[i].number == number && slices.Contains(e.told[i].spots, spot) {
			return i + 1
		}
	}
	return 0
}

// Number is how a stage of List, from 1, is told.
func (e *Edition) Number(stage int) int { return e.told[stage-1].number }

// Spots are the positions that have a stage of List, from 1.
func (e *Edition) Spots(stage int) []int { return e.told[stage-1].spots }

// Before is by position the number up to which it has to be done before a stage
// of List, from 1, is in order; what falls due later is not in it.
func (e *Edition) Before(stage int) []uint16 { return e.need[stage-1] }

// Spot is the position of a hole; -1: the list has none.
func (l *List) Spot(s plan.SeatIndex) int { return slices.Index(l.Seats, s) }

// Edition is the edition that counts: the chosen one, from 1, or the last.
func (l *List) Edition(choice int) *Edition {
	if choice < 1 || choice > len(l.Editions) {
		choice = len(l.Editions)
	}
	return &l.Editions[choice-1]
}

// Lists are all orders of a plan, in its order. A hole that several lists name
// is turned by the first one that is not about its stud: those are in Studs.
func Lists(p *plan.Plan) []List {
	by := make([]int, len(p.Seats))
	for i := range by {
		by[i] = -1
	}
	for t := range p.Tightening {
		x := &p.Tightening[t]
		for g := range x.Groups {
			for _, s := range x.Groups[g].Holes {
				if by[s] < 0 && !x.Loosen && len(p.Seats[s].Members) > 0 && !aboutStud(x, &p.Seats[s]) {
					by[s] = t
				}
			}
		}
	}
	return lists(p, by)
}

// Studs are the orders of studs that are set before something goes onto them, in
// the plan's order, each stud by itself; a hole that several lists name goes by the
// first.
func Studs(p *plan.Plan) []List {
	by := make([]int, len(p.Seats))
	for i := range by {
		by[i] = -1
	}
	for t := range p.Tightening {
		x := &p.Tightening[t]
		for g := range x.Groups {
			for _, s := range x.Groups[g].Holes {
				if by[s] < 0 && !x.Loosen && aboutStud(x, &p.Seats[s]) {
					by[s] = t
				}
			}
		}
	}
	out := lists(p, by)
	for i := range out {
		out[i].apart()
	}
	return out
}

// apart lets each position go through the stages by itself, where the plan names
// no sets.
func (l *List) apart() {
	l.How, l.Guided = "", false
	for i := range l.Editions {
		if ed := &l.Editions[i]; len(ed.List.Sets) == 0 {
			for _, n := range l.Names {
				ed.List.Sets = append(ed.List.Sets, []string{n})
			}
		}
	}
}

// aboutStud reports whether a list is about the stud of a hole, and not about what
// goes onto it.
func aboutStud(t *plan.Tightening, s *plan.Seat) bool {
	return t.ByMember && t.Member == plan.RoleStud && StudOf(s) >= 0 && StudOf(s) < len(s.Members)-1
}

// StudOf is which member of a hole is its stud; -1: it has none.
func StudOf(s *plan.Seat) int {
	return slices.IndexFunc(s.Members, func(m plan.Member) bool { return m.Role == plan.RoleStud })
}

// lists are the orders of the holes that go by each entry of a plan.
func lists(p *plan.Plan, by []int) []List {
	var out []List
	for t := range p.Tightening {
		b := builder{p: p, t: &p.Tightening[t]}
		for _, seats := range b.split(by, t) {
			if l, ok := b.list(seats); ok {
				out = append(out, l)
			}
		}
	}
	return out
}

// builder makes the lists of one entry of a plan.
type builder struct {
	p *plan.Plan
	t *plan.Tightening
}

// split gives the holes of each order: by joint, or all together.
func (b *builder) split(by []int, t int) [][]plan.SeatIndex {
	across := b.t.Across(b.p)
	var joints []plan.JointIndex
	var out [][]plan.SeatIndex
	for g := range b.t.Groups {
		for _, s := range b.t.Groups[g].Holes {
			if by[s] != t {
				continue
			}
			j := b.p.Seats[s].Joint
			if across {
				j = plan.None
			}
			at := slices.Index(joints, j)
			if at < 0 {
				joints, out = append(joints, j), append(out, nil)
				at = len(joints) - 1
			}
			if !slices.Contains(out[at], s) {
				out[at] = append(out[at], s)
			}
		}
	}
	return out
}

// list is one order; false where its stages make none.
func (b *builder) list(seats []plan.SeatIndex) (List, bool) {
	l := List{ID: b.t.ID}
	for _, s := range seats {
		if j := b.p.Seats[s].Joint; !slices.Contains(l.Joints, j) {
			l.Joints = append(l.Joints, j)
		}
	}
	b.order(&l, seats)
	b.loosen(&l)
	editions := 1
	for g := range b.t.Groups {
		editions = max(editions, len(b.t.Groups[g].Editions))
	}
	for n := range editions {
		e, ok := b.edition(&l, n)
		if !ok {
			return List{}, false
		}
		l.Editions = append(l.Editions, e)
	}
	return l, true
}

// name is a position: the hole, with its joint where there are several.
func (b *builder) name(l *List, s plan.SeatIndex) string {
	if len(l.Joints) > 1 {
		return string(b.p.Seats[s].ID)
	}
	return string(b.p.Seats[s].Hole)
}

// pause is the longest pause inside an angle stage; 0: the plan gives none.
func (b *builder) pause() time.Duration { return time.Duration(b.t.Pause) * time.Minute }

// words joins names, the first few of them.
func words(list []string) string {
	const few = 12
	if len(list) > few {
		return strings.Join(list[:few], ", ") + " and " + strconv.Itoa(len(list)-few) + " more"
	}
	return strings.Join(list, ", ")
}
