package tightening

import (
	"slices"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

// edition is the n-th edition of a list, from 0. A group that has fewer goes by
// its last one.
func (b *builder) edition(l *List, n int) (Edition, bool) {
	e := Edition{Plain: len(b.t.Sets) == 0 && len(b.t.With) == 0,
		List: stage.List{ID: b.t.ID, Order: l.Names, Pause: b.pause(), AnyHands: b.t.AnyHands},
		now:  make([]int, len(l.Seats)), due: make([]int, len(l.Seats))}
	groups := make([][]plan.Stage, len(b.t.Groups))
	for g := range b.t.Groups {
		eds := b.t.Groups[g].Editions
		if len(eds) == 0 {
			continue
		}
		ed := &eds[min(n, len(eds)-1)]
		groups[g] = ed.Stages
		if e.Name == "" && e.Source == "" && b.has(l, g) {
			e.Name, e.Source = ed.Edition, ed.Source
		}
	}
	passes := max(1, b.t.Passes)
	from := 0
	for pass := range passes {
		begin := len(e.told)
		b.stages(l, &e, groups, pass, false)
		for k := begin; k < len(e.told) && pass > 0; k++ {
			for a := from; a < begin; a++ {
				e.List.Stages[k].After = append(e.List.Stages[k].After, a+1)
			}
		}
		from = begin
	}
	b.stages(l, &e, groups, passes, true)
	if len(e.told) == 0 {
		return e, false
	}
	e.List.Sets, e.List.Neighbour = b.sets(l), named(l, b.t.With)
	e.need = needs(&e, len(l.Seats))
	return e, e.List.Check() == nil
}

// has reports whether a list has holes of a group.
func (b *builder) has(l *List, g int) bool {
	return slices.ContainsFunc(b.t.Groups[g].Holes, func(s plan.SeatIndex) bool { return l.Spot(s) >= 0 })
}

// stages adds one pass over all groups: their first stages, then their second
// ones; or what falls due later.
func (b *builder) stages(l *List, e *Edition, groups [][]plan.Stage, pass int, due bool) {
	counts := make([]int, len(groups)) // stages of a group that are due now
	longest := 0
	for g, list := range groups {
		longest = max(longest, len(list))
		for i := range list {
			if list[i].Due == "" {
				counts[g]++
			}
		}
	}
	at := make([]int, len(groups))
	for i := range longest {
		for g, list := range groups {
			if i >= len(list) || (list[i].Due != "") != due {
				continue
			}
			at[g]++
			b.stage(l, e, &list[i], g, pass*counts[g]+at[g])
		}
	}
}

// stage adds one stage of a group under its number.
func (b *builder) stage(l *List, e *Edition, s *plan.Stage, g, number int) {
	var spots []int
	for _, ix := range b.t.Groups[g].Holes {
		spot := l.Spot(ix)
		seat := &b.p.Seats[ix]
		if spot < 0 || slices.Contains(spots, spot) {
			continue
		}
		if len(s.Only) > 0 && !slices.Contains(s.Only, seat.Hole) && !slices.Contains(s.Only, events.Hole(seat.ID)) {
			continue
		}
		spots = append(spots, spot)
	}
	if len(spots) == 0 {
		return
	}
	slices.Sort(spots)
	st := stage.Stage{Kind: stage.Kind(s.Kind), Min: s.Min, Max: s.Max, Known: s.Known, Never: s.Never, Band: s.Band, Due: s.Due, Said: s.Said, Unit: s.Unit}
	if !s.Known {
		st.Text = s.Text
	}
	if st.Kind == stage.Loosen && !s.Known {
		st.Min, st.Max = 0, 0
	}
	if text := Words(b.p, &s.Needs); text != "" {
		st.Needs = []string{text}
	}
	if len(spots) < len(l.Seats) {
		for _, spot := range spots {
			st.Only = append(st.Only, l.Names[spot])
		}
	}
	e.Plain = e.Plain && len(s.Only) == 0 && st.Kind != stage.Loosen
	e.List.Stages = append(e.List.Stages, st)
	e.Needs = append(e.Needs, s.Needs)
	e.told = append(e.told, told{number, g, spots})
	for _, spot := range spots {
		if s.Due == "" {
			e.now[spot] = max(e.now[spot], number)
		} else {
			e.due[spot]++
		}
	}
}

// sets are the sets of the plan that this list has, and what is in none of them
// as one more.
func (b *builder) sets(l *List) [][]string {
	sets := named(l, b.t.Sets)
	if len(sets) == 0 {
		return nil
	}
	var rest []string
	for _, n := range l.Names {
		if !slices.ContainsFunc(sets, func(s []string) bool { return slices.Contains(s, n) }) {
			rest = append(rest, n)
		}
	}
	if len(rest) > 0 {
		sets = append(sets, rest)
	}
	return sets
}

// named are sets of holes as positions of a list; what the list does not have
// is left out, and a position stands in the first set that names it.
func named(l *List, sets [][]events.Hole) [][]string {
	var out [][]string
	for _, set := range sets {
		var names []string
		for _, h := range set {
			if slices.Contains(l.Names, string(h)) && !slices.Contains(names, string(h)) {
				names = append(names, string(h))
			}
		}
		if len(names) > 0 {
			out = append(out, names)
		}
	}
	return out
}

// needs works out for every stage what must be done before it: each earlier
// stage that shares a position with it, at all its positions, and those that it
// names.
func needs(e *Edition, spots int) [][]uint16 {
	out := make([][]uint16, len(e.told))
	for k := range e.told {
		out[k] = make([]uint16, spots)
		for j := range k {
			if e.List.Stages[j].Due != "" || !slices.Contains(e.List.Stages[k].After, j+1) && !share(e.told[j].spots, e.told[k].spots) {
				continue
			}
			for _, spot := range e.told[j].spots {
				out[k][spot] = max(out[k][spot], uint16(e.told[j].number))
			}
		}
	}
	return out
}

func share(a, b []int) bool {
	return slices.ContainsFunc(a, func(x int) bool { return slices.Contains(b, x) })
}
