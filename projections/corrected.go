package projections

import (
	"slices"
	"strings"

	"countback/events"
)

// Corrected is how often what was told in one kind of sentence had to be put
// right: a fact about the screen and the words on it, never about a person.
type Corrected struct {
	Kind      string // of fact, as it is stored: "pieces-out"
	Told      int    // facts of that kind
	Corrected int    // of which a correction or an UNDO stands
}

// Percent is the share of facts that were put right; 0 where none was told.
func (c *Corrected) Percent() float64 {
	if c.Told == 0 {
		return 0
	}
	return 100 * float64(c.Corrected) / float64(c.Told)
}

// Corrections lists the kinds of facts of which any was put right, over all
// jobs: the greatest share first, then by name.
func (r *Runner) Corrections() []Corrected {
	of := map[string]*Corrected{}
	for _, id := range r.Jobs() {
		facts := r.jobs[id].Facts()
		wrong := map[events.FactID]bool{}
		for i := range facts {
			if e, ok := facts[i].Event.(events.Corrected); ok {
				wrong[e.Wrong] = true
			}
		}
		for i := range facts {
			if _, mends := facts[i].Event.(events.Corrected); mends {
				continue
			}
			kind := events.NameOf(facts[i].Event)
			c := of[kind]
			if c == nil {
				c = &Corrected{Kind: kind}
				of[kind] = c
			}
			c.Told++
			if wrong[facts[i].ID()] {
				c.Corrected++
			}
		}
	}
	var list []Corrected
	for _, c := range of {
		if c.Corrected > 0 {
			list = append(list, *c)
		}
	}
	slices.SortFunc(list, func(a, b Corrected) int {
		if d := b.Corrected*a.Told - a.Corrected*b.Told; d != 0 {
			return d
		}
		return strings.Compare(a.Kind, b.Kind)
	})
	return list
}

// HoleTrouble is what happened at one hole on the engines of a family.
type HoleTrouble struct {
	Family  string
	Hole    events.Seat // of a loss that is known by its joint only: the joint
	Broken  int         // fasteners that broke there
	Lost    int         // pieces missed there
	Engines int         // jobs of the family
}

// Holes lists where fasteners broke and pieces were missed, by family and place:
// the most first.
func (r *Runner) Holes() []HoleTrouble {
	type key struct {
		family string
		hole   events.Seat
	}
	of, engines := map[key]*HoleTrouble{}, map[string]int{}
	at := func(family string, hole events.Seat) *HoleTrouble {
		k := key{family, hole}
		if of[k] == nil {
			of[k] = &HoleTrouble{Family: family, Hole: hole}
		}
		return of[k]
	}
	for _, id := range r.Jobs() {
		s := r.jobs[id].State()
		family := s.Opened.Family
		engines[family]++
		for _, c := range s.Cases() {
			at(family, events.SeatOf(c.Joint, c.Hole)).Broken++
		}
		for _, l := range r.contribution(id).losses.Lines {
			if l.Position != "" {
				at(family, events.Seat(l.Position)).Lost += l.Qty
			}
		}
	}
	var list []HoleTrouble
	for k, h := range of {
		h.Engines = engines[k.family]
		list = append(list, *h)
	}
	slices.SortFunc(list, func(a, b HoleTrouble) int {
		if d := b.Broken + b.Lost - a.Broken - a.Lost; d != 0 {
			return d
		}
		return strings.Compare(a.Family+"\x00"+string(a.Hole), b.Family+"\x00"+string(b.Hole))
	})
	return list
}
