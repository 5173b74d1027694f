package tightening

import (
	"slices"

	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

// OfOne is a list of one stage for some holes: a torque that a person chose
// where the plan has none. The stage must be one that stage.List takes.
func OfOne(p *plan.Plan, seats []plan.SeatIndex, s stage.Stage) List {
	l := List{ID: "chosen", Chosen: true}
	for _, x := range seats {
		if j := p.Seats[x].Joint; !slices.Contains(l.Joints, j) {
			l.Joints = append(l.Joints, j)
		}
	}
	b := builder{p, &plan.Tightening{ID: l.ID}}
	b.order(&l, seats)
	b.loosen(&l)
	spots := make([]int, len(seats))
	now := make([]int, len(seats))
	for i := range spots {
		spots[i], now[i] = i, 1
	}
	l.Editions = []Edition{{Plain: true, Needs: make([]plan.Condition, 1),
		List: stage.List{ID: l.ID, Order: l.Names, Stages: []stage.Stage{s}},
		told: []told{{1, 0, spots}}, now: now, due: make([]int, len(seats)), need: [][]uint16{make([]uint16, len(seats))}}}
	return l
}
