package engine

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/ledger/share"
	"countback/projections/plan"
)

// joints asks for what the holes of each joint lack.
func (w *sorting) joints(back []came) {
	p := w.s.lay.plan
	given := w.giveBack(back)
	for ji := range p.Joints {
		j := &p.Joints[ji]
		for _, k := range w.kindsOf(plan.JointIndex(ji)) {
			want, rank, single, own := w.wantedOf(plan.JointIndex(ji), k)
			if want == 0 {
				continue
			}
			fresh, spent := w.hasFor(j.ID, k, given)
			for _, o := range w.sharers(plan.JointIndex(ji), k) {
				f, sp := w.hasFor(p.Joints[o].ID, k, given)
				own, _, _, _ := w.wantedOf(o, k)
				fresh, spent = fresh+max(0, f-max(0, own-sp)), spent+max(0, sp-own)
			}
			if single {
				w.need(tierLack, rank, string(j.ID), j.Name, true, k, want-fresh, own)
				w.need(tierSpent, rank, string(j.ID), j.Name, false, k, want-spent, own)
			} else {
				w.need(tierLack, rank, string(j.ID), j.Name, false, k, want-spent-fresh, own)
			}
		}
	}
}

// hasFor counts what is kept for a joint elsewhere, and what goes back there.
func (w *sorting) hasFor(j events.Joint, k events.Kind, given []came) (fresh, spent int32) {
	b := w.s.book
	fresh, spent = w.keptOf(string(j), k)
	for _, g := range given {
		switch {
		case w.kept[g.from] != string(j) || !alike(k, b.ItemName(g.item).Kind):
		case b.Cond(g.item) == events.New:
			fresh += g.n
		default:
			spent += g.n
		}
	}
	return fresh, spent
}

// sharers lists the other joints that have holes of a joint as theirs too, of
// those that want a kind: what came out of such a hole may be kept for either.
func (w *sorting) sharers(j plan.JointIndex, k events.Kind) []plan.JointIndex {
	p := w.s.lay.plan
	var list []plan.JointIndex
	for o := range p.Joints {
		if plan.JointIndex(o) == j {
			continue
		}
		if slices.ContainsFunc(p.Joints[o].Seats, func(ix plan.SeatIndex) bool { return p.Seats[ix].Joint == j && w.takes(ix, k) }) {
			list = append(list, plan.JointIndex(o))
		}
	}
	return list
}

// takes reports whether a hole wants a kind.
func (w *sorting) takes(ix plan.SeatIndex, k events.Kind) bool {
	for m := range w.s.lay.plan.Seats[ix].Members {
		if w.s.wantedKind(ix, m) == k {
			return true
		}
	}
	return false
}

// giveBack asks for what came from each place that still stands, and returns
// what it asked for.
func (w *sorting) giveBack(back []came) []came {
	s := w.s
	var given []came
	for _, c := range back {
		path := s.book.Path(c.from)
		about := w.kept[c.from]
		if !s.stillHeld(path) {
			continue
		}
		name := s.book.ItemName(c.item)
		if c.n -= w.since(c); c.n <= 0 {
			continue
		}
		home := w.home(path, c.from, s.aboutWords(about))
		w.add(share.Need{Step: tierBack<<24 | w.rankOf(about), Accept: w.accept(name.Kind, func(o ledger.Item) int {
			switch {
			case o == name:
				return 1
			case (o.Cond == events.New) != (name.Cond == events.New) || (o.Origin != name.Origin && o.Origin != "" && name.Origin != ""):
				return 0
			case bad1(o.Cond) != bad1(name.Cond):
				return 0
			case o.Lot == name.Lot:
				return 2
			}
			return 3
		}), Qty: c.n}, sortNeed{home, name.Kind, tierBack})
		given = append(given, c)
	}
	return given
}

func bad1(c events.Condition) bool { return c == events.Condemned || c == events.Sample }

// stillHeld says that a container still stands: a bag that was not retired.
func (s *State) stillHeld(p events.Place) bool {
	code, ok := strings.CutPrefix(string(p), "bag/")
	if !ok {
		return true
	}
	b, ok := s.bags[events.Code(code)]
	return !ok || b.Retired == 0
}

// rankOf is the place in the order of what pieces are kept for; last for
// nothing.
func (w *sorting) rankOf(about string) int32 {
	const last = 1<<24 - 1
	p := w.s.lay.plan
	best := int32(last)
	if j, ok := p.Joint(events.Joint(about)); ok {
		for _, ix := range p.Joints[j].Seats {
			best = min(best, w.rankSeat(ix))
		}
	}
	if id, ok := strings.CutPrefix(about, "part "); ok {
		if pt, ok := p.Part(events.Part(id)); ok {
			best = w.rankSteps(w.s.lay.parts[pt].on, best)
		}
	}
	return best
}

func (w *sorting) rankSeat(ix plan.SeatIndex) int32 {
	return w.rankSteps(w.s.lay.seats[ix].in, 1<<24-1)
}

func (w *sorting) rankSteps(steps []plan.StepIndex, best int32) int32 {
	for _, st := range steps {
		best = min(best, w.place[st])
	}
	return best
}

// kindsOf lists the kinds that the own holes of a joint take.
func (w *sorting) kindsOf(j plan.JointIndex) []events.Kind {
	var kinds []events.Kind
	p := w.s.lay.plan
	for _, ix := range p.Joints[j].Seats {
		if p.Seats[ix].Joint != j {
			continue
		}
		for m := range p.Seats[ix].Members {
			if k := w.s.wantedKind(ix, m); !contains(kinds, k) && w.any(k) {
				kinds = append(kinds, k)
			}
		}
	}
	return kinds
}

// any says that a piece here could stand in for a kind: others are not this
// place's business.
func (w *sorting) any(k events.Kind) bool {
	for _, it := range w.items {
		if alike(k, w.s.book.ItemName(it).Kind) {
			return true
		}
	}
	return false
}

// wantedOf counts the empty holes of a joint that want a kind.
func (w *sorting) wantedOf(j plan.JointIndex, k events.Kind) (n, rank int32, single, own bool) {
	s, p := w.s, w.s.lay.plan
	rank = 1<<24 - 1
	for _, ix := range p.Joints[j].Seats {
		st := &p.Seats[ix]
		if st.Joint != j || s.now.Seat(ix) == plan.SeatAbsent {
			continue
		}
		for m := range st.Members {
			if s.seats[ix].in&(1<<m) == 0 && s.wantedKind(ix, m) == k {
				n++
				rank = min(rank, w.rankSeat(ix))
				single = single || st.Members[m].Reuse.Single()
				own = own || st.OwnSeat != plan.AnySeat
			}
		}
	}
	return n, rank, single, own
}

// keptOf counts what is kept for a joint or part elsewhere.
func (w *sorting) keptOf(about string, k events.Kind) (fresh, spent int32) {
	b := w.s.book
	for a := 1; a <= b.Accounts(); a++ {
		id := ledger.AccountID(a)
		if id == w.from || w.kept[a] != about || !usable(b.Class(id)) {
			continue
		}
		for it, n := range b.At(id) {
			name := b.ItemName(it)
			switch {
			case n <= 0 || bad1(name.Cond) || !alike(k, name.Kind):
			case name.Cond == events.New:
				fresh += n
			default:
				spent += n
			}
		}
	}
	return fresh, spent
}

// need asks for what holes lack.
func (w *sorting) need(tier, rank int32, about, name string, fresh bool, k events.Kind, n int32, own bool) {
	if n <= 0 {
		return
	}
	accept := w.accept(k, func(o ledger.Item) int {
		switch {
		case bad1(o.Cond) || (o.Cond == events.New) != fresh:
			return 0
		case own && o.Origin != "":
			if j, _ := w.s.Own(o.Origin).Split(); string(j) != strings.TrimPrefix(about, "part ") {
				return 0
			}
			return 1
		}
		return 1 + wish(o.Cond, false)
	})
	if len(accept) == 0 && tier == tierSpent {
		return
	}
	w.add(share.Need{Step: tier<<24 | rank, Accept: accept, Qty: n}, sortNeed{w.homeOf(about, name, fresh, k), k, tier})
}

func (w *sorting) add(n share.Need, about sortNeed) {
	w.needs, w.about = append(w.needs, n), append(w.about, about)
}
