package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/ledger/share"
	"countback/projections/plan"
)

// hardware is what the steps that put together still need, and how much of it
// each may have: in the order of the steps, so that none takes from one before
// it. A step that is blocked for another reason keeps its share, unless a second
// person released it.
type hardware struct {
	s        *State
	wants    []want
	stock    []stock
	needs    []share.Need
	supplies []share.Supply
	at       []ledger.AccountID // by supply
	sharing  *share.Sharing

	place  []int32                     // by plan.StepIndex: its place in the order
	first  []int32                     // by plan.StepIndex: its first want
	end    []int32                     // by plan.StepIndex: behind its last want
	seatOf []int32                     // by plan.SeatIndex: 1 + the step that wants for it, 0 none
	partOf []int32                     // by plan.PartIndex: 1 + the step that wants it, 0 none
	about  []string                    // by account: the joint or part that its pieces are kept for
	keeper map[string]ledger.AccountID // number of a joint or part, for sharing

	byKind  [][]int32       // by kind: its stocks
	layKind []int32         // by kind: 1 + its place in the layout, 0: the plan has no such kind
	strange []ledger.KindID // kinds at hand that the plan does not have
	stands  [][]int32       // by wanted kind: the stocks that may serve it, if looked up

	ints    room[int32] // for short lists
	classes room[share.Class]
	holes   room[plan.SeatIndex]
}

// want is a number of pieces of one kind that one step needs.
type want struct {
	step  plan.StepIndex
	kind  ledger.KindID
	rule  rule
	n     int32 // still to go in
	got   int32 // may go in
	seats []plan.SeatIndex
	part  plan.PartIndex // None: a fastener
}

// stock is all pieces of one kind in one condition that are at hand.
type stock struct {
	kind ledger.KindID
	cond events.Condition
	n    int32
}

// rule is which conditions of a piece may go in.
type rule uint8

const (
	anyGood  rule = iota // neither condemned nor a sample
	measured             // measured good, or new
	onlyNew              // single-use
	replaced             // to be replaced by a new one, by a finding
)

// allows says whether a piece in a condition may go in.
func (r rule) allows(c events.Condition) bool {
	switch c {
	case events.Condemned, events.Sample:
		return false
	case events.New:
		return true
	case events.MeasuredGood:
		return r == anyGood || r == measured
	}
	return r == anyGood
}

// partRule is the rule of a part: one that is to be replaced comes back new.
func (s *State) partRule(p plan.PartIndex) rule {
	if len(s.findings) > 0 && s.replaceOn(s.lay.plan.Parts[p].ID) != nil {
		return replaced
	}
	return ruleOf(s.lay.plan.Parts[p].Reuse)
}

func ruleOf(r plan.Reuse) rule {
	switch {
	case r.Single():
		return onlyNew
	case r.Rule == plan.ReuseMeasure:
		return measured
	}
	return anyGood
}

// allot works out what every step may have.
func (s *State) allot() *hardware {
	steps := len(s.lay.plan.Steps)
	h := &hardware{s: s, seatOf: make([]int32, len(s.lay.seats)), partOf: make([]int32, len(s.lay.parts)),
		first: make([]int32, steps), end: make([]int32, steps), place: make([]int32, steps)}
	h.about = s.keptFor()
	h.keeper = make(map[string]ledger.AccountID, len(s.lay.plan.Joints))
	room := s.book.Kinds() + s.book.Kinds()/2
	h.stock, h.supplies, h.at = make([]stock, 0, room), make([]share.Supply, 0, room), make([]ledger.AccountID, 0, room)
	h.wants = make([]want, 0, room)
	h.collect()
	for n, ix := range s.lay.order {
		h.place[ix] = int32(n)
		h.first[ix] = int32(len(h.wants))
		h.wantsOf(ix)
		h.end[ix] = int32(len(h.wants))
	}
	h.index()
	h.share()
	return h
}

// aboutOf is what pieces are kept for: a joint by its id, or "part" and the id,
// since a joint and a part may have one name.
func aboutOf(j events.Joint, p events.Part) string {
	switch {
	case j != "":
		return string(j)
	case p != "":
		return noun("part", p)
	}
	return ""
}

// keptFor says of each account for which joint or part its pieces are kept, as
// aboutOf writes it.
func (s *State) keptFor() []string {
	about := make([]string, s.book.Accounts()+1)
	for i := range s.benches {
		about[s.benches[i].account] = s.benches[i].about
	}
	for _, b := range s.bags {
		about[b.account] = aboutOf(b.Joint, b.Part)
	}
	if len(s.racks) == 0 {
		return about
	}
	for a := 1; a < len(about); a++ {
		if id := ledger.AccountID(a); s.book.Class(id) == ledger.Rack {
			rack, _ := rackOf(s.book.Path(id))
			if r, ok := s.racks[rack]; ok {
				about[a] = aboutOf(r.Joint, r.Part)
			}
		}
	}
	return about
}

// collect lists what is at hand, in the order of the accounts.
func (h *hardware) collect() {
	b := h.s.book
	byKind := make([]int32, b.Kinds()+1)   // 1 + the first stock of the kind
	next := make([]int32, 0, cap(h.stock)) // 1 + the next stock of the same kind
	for a := 1; a <= b.Accounts(); a++ {
		id := ledger.AccountID(a)
		if !usable(b.Class(id)) {
			continue
		}
		for it, n := range b.At(id) {
			if n <= 0 {
				continue
			}
			k, item := b.KindOf(it), b.ItemName(it)
			at := byKind[k]
			for at != 0 && h.stock[at-1].cond != item.Cond {
				at = next[at-1]
			}
			if at == 0 {
				h.stock = append(h.stock, stock{kind: k, cond: item.Cond})
				next = append(next, byKind[k])
				at = int32(len(h.stock))
				byKind[k] = at
			}
			h.stock[at-1].n += n
			if last := len(h.supplies) - 1; last >= 0 && h.supplies[last].Class == share.Class(at-1) && h.at[last] == id {
				h.supplies[last].Qty += n // the same kind from another lot or seat
				continue
			}
			h.supplies = append(h.supplies, share.Supply{Class: share.Class(at - 1), Place: h.keep(h.about[a]), Lot: item.Lot, Qty: n,
				Usable: item.Cond != events.Condemned && item.Cond != events.Sample})
			h.at = append(h.at, id)
		}
	}
}

// keep numbers a joint or part that pieces are kept for; 0 for none.
func (h *hardware) keep(about string) ledger.AccountID {
	if about == "" {
		return 0
	}
	id, ok := h.keeper[about]
	if !ok {
		id = ledger.AccountID(len(h.keeper) + 1)
		h.keeper[about] = id
	}
	return id
}

// wantsOf adds what one step needs and no step before it asked for.
func (h *hardware) wantsOf(ix plan.StepIndex) {
	s, step := h.s, &h.s.lay.plan.Steps[ix]
	first := len(h.wants)
	for _, seat := range step.Fastens {
		sl, st := &s.lay.seats[seat], &s.seats[seat]
		miss := sl.full &^ st.in
		if miss == 0 || h.seatOf[seat] != 0 || s.now.Seat(seat) == plan.SeatAbsent {
			continue
		}
		h.seatOf[seat] = int32(ix) + 1
		for m := range sl.members {
			if miss&(1<<m) != 0 {
				h.wantSeat(first, ix, seat, m)
			}
		}
	}
	for _, p := range step.Fits {
		pl := &s.lay.parts[p]
		if st := s.now.Part(p); h.partOf[p] != 0 || st == plan.PartOn || st == plan.PartAbsent || st == plan.PartAway {
			continue // what is away is not missing
		}
		k := s.kinds[pl.kind]
		n := int32(s.lay.plan.Parts[p].Count) - s.book.Balance(s.group[pl.group], ledger.OfKind(k))
		if n <= 0 {
			continue
		}
		h.wants = append(h.wants, want{step: ix, kind: k, rule: s.partRule(p), n: n, part: p})
		h.partOf[p] = int32(ix) + 1
	}
}

func (h *hardware) wantSeat(first int, ix plan.StepIndex, seat plan.SeatIndex, m int) {
	s := h.s
	k := s.kinds[s.lay.seats[seat].members[m].kind]
	if hole, ok := s.holes[seat]; ok && hole.Takes != "" {
		k = s.book.Kind(s.wantedKind(seat, m)) // met already: see setHole
	}
	r := ruleOf(s.lay.plan.Seats[seat].Members[m].Reuse)
	for i := first; i < len(h.wants); i++ {
		w := &h.wants[i]
		if w.kind == k && w.rule == r && w.part == plan.None && s.lay.plan.Seats[w.seats[0]].Joint == s.lay.plan.Seats[seat].Joint {
			w.n++
			if w.seats[len(w.seats)-1] != seat {
				w.seats = append(w.seats, seat)
			}
			return
		}
	}
	h.wants = append(h.wants, want{step: ix, kind: k, rule: r, n: 1, seats: append(h.holes.take(4, 512)[:0], seat), part: plan.None})
}
