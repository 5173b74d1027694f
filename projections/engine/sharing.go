package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/ledger/share"
	"countback/projections/plan"
)

// giving is the order in which conditions are taken: what few may use is kept
// for them.
var giving = [...]events.Condition{events.AsFound, events.Used, events.MeasuredGood, events.New}

// share gives every want what it may have, in the order of the steps.
func (h *hardware) share() {
	h.needs = make([]share.Need, len(h.wants))
	for w := range h.wants {
		wt := &h.wants[w]
		n := share.Need{Step: h.place[wt.step], Qty: wt.n, Own: h.keeper[h.keptAs(wt)], Released: h.s.released(wt.step)}
		list := h.standIns(wt.kind)
		n.Accept = h.classes.take(len(list), 512)[:0]
		for _, i := range list {
			if wt.rule.allows(h.stock[i].cond) {
				n.Accept = append(n.Accept, share.Class(i))
			}
		}
		h.needs[w] = n
	}
	h.sharing = share.Among(h.needs, h.supplies)
	for w := range h.wants {
		h.wants[w].got = h.wants[w].n - h.sharing.Shares[w].Missing
	}
}

// released says whether a second person gave a step's share free for later
// ones.
func (s *State) released(ix plan.StepIndex) bool {
	return len(s.passes) > 0 && s.overrideAfter(noun("share", s.lay.plan.Steps[ix].ID), 0)
}

// keptAs is the joint or part that a want's own pieces are kept for: of a hole
// that several joints share the first one that has a bag.
func (h *hardware) keptAs(wt *want) string {
	p := h.s.lay.plan
	if wt.part != plan.None {
		return h.s.lay.parts[wt.part].noun
	}
	st := &p.Seats[wt.seats[0]]
	own := string(p.Joints[st.Joint].ID)
	if _, ok := h.keeper[own]; ok {
		return own
	}
	for _, j := range st.SharedBy {
		if id := string(p.Joints[j].ID); h.keeper[id] != 0 {
			return id
		}
	}
	return own
}

// index finds the stocks of each kind.
func (h *hardware) index() {
	b := h.s.book
	h.byKind, h.layKind = make([][]int32, b.Kinds()+1), make([]int32, b.Kinds()+1)
	h.stands = make([][]int32, b.Kinds()+1)
	for i, k := range h.s.kinds {
		h.layKind[k] = int32(i) + 1
	}
	n := make([]int32, b.Kinds()+1)
	for i := range h.stock {
		n[h.stock[i].kind]++
	}
	for i := range h.stock {
		k := h.stock[i].kind
		if h.byKind[k] == nil {
			h.byKind[k] = h.ints.take(int(n[k]), 512)[:0]
			if h.layKind[k] == 0 {
				h.strange = append(h.strange, k)
			}
		}
		h.byKind[k] = append(h.byKind[k], int32(i))
	}
}

// standIns are the stocks that a want of a kind may use, its own kind first,
// the least wanted condition first.
func (h *hardware) standIns(k ledger.KindID) []int32 {
	if h.stands[k] != nil {
		return h.stands[k]
	}
	list := h.byCondition(k, h.ints.take(4, 512)[:0])
	for _, alt := range h.alternatives(k) {
		list = h.byCondition(alt, list)
	}
	h.stands[k] = list
	return list
}

func (h *hardware) byCondition(k ledger.KindID, list []int32) []int32 {
	for _, c := range giving {
		for _, i := range h.byKind[k] {
			if h.stock[i].cond == c {
				list = append(list, i)
			}
		}
	}
	return list
}

// alternatives are the other kinds at hand that may stand in for a kind. Those
// that the plan has are known from the plan.
func (h *hardware) alternatives(k ledger.KindID) []ledger.KindID {
	s := h.s
	var list []ledger.KindID
	lk := h.layKind[k]
	if lk != 0 {
		for _, alt := range s.lay.alike[lk-1] {
			list = append(list, s.kinds[alt])
		}
	}
	if lk != 0 && len(h.strange) == 0 {
		return list
	}
	sp, ok := specOf(s.book.KindName(k))
	if !ok {
		return list
	}
	for _, o := range h.strange {
		if o != k && interchange(sp, s.book.KindName(o)) {
			list = append(list, o)
		}
	}
	if lk != 0 {
		return list
	}
	for i, o := range s.kinds {
		if o != k && len(h.byKind[o]) > 0 && interchange(sp, s.lay.kinds[i]) {
			list = append(list, o)
		}
	}
	return list
}

// kept says that a supply is kept for the joint or part of a want.
func (h *hardware) kept(w int, supply int32) bool {
	return h.needs[w].Own != 0 && h.supplies[supply].Place == h.needs[w].Own
}

// drawn lists the accounts that a step takes its pieces from.
func (h *hardware) drawn(ix plan.StepIndex) []ledger.AccountID {
	var list []ledger.AccountID
	for w := h.first[ix]; w < h.end[ix]; w++ {
		for _, t := range h.sharing.Shares[w].From {
			list = append(list, h.at[t.Supply])
		}
	}
	return list
}
