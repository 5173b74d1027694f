package plan

import (
	"slices"

	"countback/events"
)

// Sum is what a plan adds up to, for the layouts and options that a state
// has.
type Sum struct {
	Totals
	Threaded int // bolts, screws, plugs, switches
	Studs    int
	Nuts     int
	Washers  int
	ByKind   map[events.Kind]int // fasteners by canonical text, parts by id
}

// Sum counts every piece that this engine has when it is whole: absent parts,
// and the holes of layouts that it does not have, are not counted.
func (s *Present) Sum() Sum {
	out := Sum{ByKind: map[events.Kind]int{}}
	for i := range s.p.Seats {
		seat := &s.p.Seats[i]
		if s.seats[i] == SeatAbsent || len(seat.Members) == 0 {
			continue
		}
		out.Seats++
		for k := range seat.Members {
			m := &seat.Members[k]
			out.Fasteners += m.Count
			out.ByKind[m.Kind] += m.Count
			switch m.Role {
			case RoleStud:
				out.Studs += m.Count
			case RoleNut:
				out.Nuts += m.Count
			case RoleWasher:
				out.Washers += m.Count
			default:
				out.Threaded += m.Count
			}
		}
	}
	for i := range s.p.Parts {
		if s.parts[i] == PartAbsent {
			continue
		}
		out.Parts += s.p.Parts[i].Count
		out.ByKind[events.Kind(s.p.Parts[i].ID)] += s.p.Parts[i].Count
	}
	out.Pieces = out.Fasteners + out.Parts
	return out
}

// Tally is what a row of steps costs.
type Tally struct {
	Steps     int
	Seats     []SeatIndex // holes that were opened
	Fasteners int         // pieces that came out of them
	Parts     int         // pieces of parts that came off
	Removed   []PartIndex
	Used      []Used      // single-use pieces that are used up
	Void      []MarkIndex // marks that stood before and do not after
	Minutes   int         // of the steps that say so
}

// Used is single-use pieces of one kind that a row of steps uses up.
type Used struct {
	Kind  events.Kind // a fastener; empty: Part says what
	Part  PartIndex   // None: Kind says what
	Count int
}

// Single is how many single-use pieces are used up in all.
func (t *Tally) Single() int {
	n := 0
	for _, u := range t.Used {
		n += u.Count
	}
	return n
}

// Tally does the steps, in their order, and counts what came out and off on
// the way. A gasket that a joint's opening uses up counts when the first of
// the joint's holes is opened, whether or not it is taken off.
func (s *Present) Tally(steps []StepIndex) Tally {
	t := Tally{Steps: len(steps)}
	before := s.Clone()
	spent := make([]bool, len(s.p.Parts))
	for _, i := range steps {
		step := &s.p.Steps[i]
		t.Minutes += step.Minutes
		for _, seat := range step.TakesOut {
			if s.held(seat) {
				t.open(s, seat, spent)
			}
		}
		for _, part := range step.Removes {
			if s.there(part) {
				t.Removed = append(t.Removed, part)
				t.Parts += s.p.Parts[part].Count
				t.spend(s.p, part, spent)
			}
		}
		s.Do(i)
	}
	for i := range s.marks {
		if before.marks[i] != 0 && s.marks[i] == 0 {
			t.Void = append(t.Void, MarkIndex(i))
		}
	}
	return t
}

// open counts what comes out of a hole, and the seals that its joint uses up.
func (t *Tally) open(s *Present, i SeatIndex, spent []bool) {
	seat := &s.p.Seats[i]
	t.Seats = append(t.Seats, i)
	for k := range seat.Members {
		m := &seat.Members[k]
		if m.Stays {
			continue
		}
		t.Fasteners += m.Count
		if m.Reuse.Single() {
			t.use(Used{Kind: m.Kind, Part: None, Count: m.Count})
		}
	}
	for part := range s.p.Parts {
		joint := s.p.Parts[part].Seals
		if joint == None || s.parts[part] != PartOn {
			continue
		}
		if joint == seat.Joint || slices.Contains(seat.SharedBy, joint) {
			t.spend(s.p, PartIndex(part), spent)
		}
	}
}

func (t *Tally) spend(p *Plan, i PartIndex, spent []bool) {
	if !spent[i] && p.Parts[i].Reuse.Single() {
		spent[i] = true
		t.use(Used{Part: i, Count: p.Parts[i].Count})
	}
}

func (t *Tally) use(u Used) {
	for i := range t.Used {
		if t.Used[i].Kind == u.Kind && t.Used[i].Part == u.Part {
			t.Used[i].Count += u.Count
			return
		}
	}
	t.Used = append(t.Used, u)
}
