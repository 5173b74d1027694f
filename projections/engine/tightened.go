package engine

import (
	"slices"
	"strings"
	"time"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// Tightened is how one order of turning stands: holes by stages.
type Tightened struct {
	Order    string         // id of the plan's list; "chosen": a person chose the torque
	Member   string         // "stud": it is about the studs, and another list about what goes onto them
	Joints   []events.Joint // over which it goes
	How      string         // where the order of turning is from, in words; empty: the plan names the holes
	Guided   bool           // that order was worked out: guidance
	Editions []string       // where the plan has several that disagree
	Edition  int            // which one counts, from 1
	Chosen   ledger.Fact    // the fact that chose it, or the torque; 0: nobody has
	Spots    []Spot         // in the order of turning
	Rows     []StageRow     // by number
	Count    stage.Count    // of cells; those of holes that nothing is in are among them
	Next     []Turn         // can be done now
	Owed     []Turn         // not done, of what is due now
	Later    []Turn         // not done, falls due later
	Loosen   []string       // positions in the order in which they are loosened
	LoosenBy string         // the plan's words on that
	InTurn   bool           // the plan orders it: loosened otherwise is asked about
	Cold     bool           // and only while the engine is cold
	History  []stage.Entry
	Pause    time.Duration // the longest inside an angle stage; 0: none is too long, or no stage goes by angle
	Planned  bool          // the plan gives it; otherwise it is the shop's

	s  *State
	li int32
}

// Spot is one position of an order.
type Spot struct {
	Name   string // of the hole, with its joint where the order goes over several
	Joint  events.Joint
	Hole   events.Hole
	Part   events.Part // of a position of a part that is pressed in: Hole is its name, Joint is empty
	In     bool        // a fastener is in it
	Here   bool        // it was put in here, and not as the engine came
	Trial  bool        // for a trial
	Absent bool        // this engine has no such hole
}

// StageRow is one stage over all positions.
type StageRow struct {
	Number int      // as told, from 1
	What   []string // what it is; of several groups each
	Due    string   // falls due later
	Needs  []string // what is wanted first
	Cells  []Cell   // by position
}

// Cell is one position of one stage.
type Cell struct {
	stage.Cell
	Is   bool // the position has this stage
	What string
	Unit string // of the value
}

// Turn is one cell that is to be done.
type Turn struct {
	Spot
	Number int // of the stage as told
	Of     int // how many the hole has that are due now
	What   string
	Value  string // the number alone, as large letters have it: "40 N.m"
	Kind   stage.Kind
	State  stage.State
	Why    string // what holds it up or is wrong with it
}

// Finished reports whether every cell that is due now is done.
func (t *Tightened) Finished() bool { return len(t.Owed) == 0 }

// Disagree reports whether editions disagree and nobody has chosen.
func (t *Tightened) Disagree() bool { return len(t.Editions) > 1 && t.Chosen == 0 }

// Tightened is how the orders of turning of a joint stand; none where the plan
// has no list for it and nobody chose a torque.
func (j *Job) Tightened(joint events.Joint) []Tightened {
	s := j.State()
	ix, ok := s.lay.plan.Joint(joint)
	if !ok {
		return nil
	}
	var lists []int32
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		if li, _ := s.listAt(seat); li >= 0 && !contains(lists, li) {
			lists = append(lists, li)
		}
	}
	slices.Sort(lists)
	out := make([]Tightened, len(lists))
	for i, li := range lists {
		out[i] = s.tightened(li)
	}
	for _, li := range s.studsOf(ix) {
		out = append(out, s.studView(li))
	}
	return out
}

// tightened is the view of one list. The matrix is read as it is now: with the
// marks that stand, and on a copy, so that looking changes nothing.
func (s *State) tightened(li int32) Tightened {
	l, ed := s.listOf(li), s.edition(li)
	m := s.matrix(li).Clone()
	t := Tightened{Order: l.ID, How: l.How, Guided: l.Guided, Edition: int(s.tight.lists[li].choice), Chosen: s.tight.lists[li].chose,
		Loosen: l.Loosen, LoosenBy: l.LoosenBy, InTurn: l.InTurn, Cold: l.Cold, History: m.History(), Count: m.Count(), s: s, li: li}
	for i := range ed.List.Stages {
		for _, mark := range ed.List.Stages[i].Needs {
			m.Mark(mark, ed.Needs[i].Eval(s.now), "", m.At())
		}
	}
	if n := int(li) - len(s.lay.lists); n >= 0 {
		t.Chosen = s.tight.own[n].fact
	}
	if len(l.Editions) > 1 {
		for i := range l.Editions {
			t.Editions = append(t.Editions, l.Editions[i].Label())
		}
	}
	if t.Edition == 0 {
		t.Edition = len(l.Editions)
	}
	for _, j := range l.Joints {
		t.Joints = append(t.Joints, s.lay.plan.Joints[j].ID)
	}
	for i, ix := range l.Seats {
		t.Spots = append(t.Spots, s.spot(l.Names[i], ix))
	}
	for i := range ed.List.Stages {
		if ed.List.Stages[i].Kind == stage.Angle {
			t.Pause, t.Planned = s.pauseOf(ed)
		}
	}
	t.rows(m, l, ed)
	t.Next = s.turnsOf(l, ed, m.Next(), false)
	t.Owed = s.turnsOf(l, ed, m.Owed(), true)
	t.Later = s.turnsOf(l, ed, m.Later(), true)
	return t
}

func (s *State) spot(name string, ix plan.SeatIndex) Spot {
	seat := &s.lay.plan.Seats[ix]
	return Spot{Name: name, Joint: s.lay.plan.Joints[seat.Joint].ID, Hole: seat.Hole, In: s.holdsMain(ix), Here: s.putInHere(ix),
		Trial: s.seats[ix].trial && s.seats[ix].in != 0, Absent: s.now.Seat(ix) == plan.SeatAbsent}
}

// rows are the stages by number.
func (t *Tightened) rows(m *stage.Matrix, l *tightening.List, ed *tightening.Edition) {
	for n := range ed.List.Stages {
		st := &ed.List.Stages[n]
		number := ed.Number(n + 1)
		at := slices.IndexFunc(t.Rows, func(r StageRow) bool { return r.Number == number && r.Due == st.Due })
		if at < 0 {
			at = len(t.Rows)
			t.Rows = append(t.Rows, StageRow{Number: number, Due: st.Due, Cells: make([]Cell, len(l.Seats))})
		}
		row := &t.Rows[at]
		row.What = addOnce(row.What, st.String())
		for _, need := range st.Needs {
			row.Needs = addOnce(row.Needs, need)
		}
		for _, spot := range ed.Spots(n + 1) {
			c, _ := m.Cell(l.Names[spot], n+1)
			row.Cells[spot] = Cell{Cell: c, Is: true, What: st.String(), Unit: st.Kind.Unit()}
		}
	}
	slices.SortStableFunc(t.Rows, func(a, b StageRow) int { return a.Number - b.Number })
}

// turnsOf are turns of a matrix as people tell them. What nothing is in can be
// tightened by nobody; where all are wanted it says so.
func (s *State) turnsOf(l *tightening.List, ed *tightening.Edition, list []stage.Turn, all bool) []Turn {
	var out []Turn
	for _, t := range list {
		spot := slices.Index(l.Names, t.Position)
		x := Turn{Spot: s.spot(t.Position, l.Seats[spot]), Number: ed.Number(t.Stage), Of: ed.Now(spot), What: t.Do.String(),
			Value: valueWords(t.Do), Kind: t.Do.Kind, State: t.State, Why: t.Why}
		if !x.In {
			if !all || x.Absent {
				continue
			}
			x.Why = "nothing is in it: fit it first"
		}
		out = append(out, x)
	}
	return out
}

// valueWords is the value of a stage without its kind.
func valueWords(s stage.Stage) string {
	return strings.TrimSpace(strings.TrimPrefix(s.String(), string(s.Kind)))
}

// weighed reports whether the matrix of a hole's list says what is done.
func (s *State) weighed(sl *seatLayout) bool {
	return sl.list >= 0 && s.tight.lists[sl.list].hard
}

// holeNames joins the names of spots, the first twelve of them.
func holeNames(list []Turn) string {
	const shown = 12
	var names []string
	for i, t := range list {
		if i == shown {
			names = append(names, itoa(len(list)-shown)+" more")
			break
		}
		names = append(names, t.Name)
	}
	return strings.Join(names, ", ")
}

// spotSince is the fact that filled a position last.
func (s *State) spotSince(at Spot) ledger.Fact {
	if p, ok := s.lay.plan.Part(at.Part); ok {
		return s.parts[p].changed
	}
	if ix, ok := s.lay.plan.Hole(at.Joint, at.Hole); ok {
		return s.seats[ix].changed
	}
	return 0
}

func addOnce[T comparable](list []T, x T) []T {
	if contains(list, x) {
		return list
	}
	return append(list, x)
}

// missingStage says which stage some holes of one joint lack first and where,
// and the scan that records it; empty where no stage is open.
func (s *State) missingStage(seats []plan.SeatIndex) (what, scan string) {
	joint := s.lay.plan.Joints[s.lay.plan.Seats[seats[0]].Joint].ID
	holes := make([]events.Hole, len(seats))
	for i, ix := range seats {
		holes[i] = s.lay.plan.Seats[ix].Hole
	}
	n, ok := s.nextTurned(s.lay.plan.Seats[seats[0]].Joint, holes, 0)
	if !ok || n.Kind == "" || n.Due != "" {
		return "", ""
	}
	at := make([]string, len(n.Holes))
	scan = "scan joint " + string(joint)
	for i, h := range n.Holes {
		at[i] = string(h)
		if len(n.Holes) < len(s.lay.plan.Joints[s.lay.plan.Seats[seats[0]].Joint].Seats) {
			scan += ", hole " + string(h)
		}
	}
	return "stage " + itoa(n.Stage) + " of " + itoa(n.Stages) + ", " + n.What + ", is missing at " + wordList(at), scan + ", STAGE"
}
