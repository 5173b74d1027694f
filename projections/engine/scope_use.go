package engine

import (
	"countback/events"
	"countback/projections/plan"
	"countback/projections/scope"
)

// scopeUses is what a way uses up there and back, and how much of it is here
// new and not promised to a step that needs it anyway: the rest must be bought.
func (s *State) scopeUses(a *scope.Answer) []ScopeUse {
	free := s.freeNew()
	var out []ScopeUse
	for _, list := range [][]plan.Used{a.Tally.Used, a.Back.Tally.Used} {
		for _, u := range list {
			use := ScopeUse{Kind: u.Kind, Used: u.Count}
			if u.Part != plan.None {
				use.Kind, use.Part = events.Kind(s.lay.plan.Parts[u.Part].ID), true
			}
			use.Name = s.kindWords(use.Kind)
			at := -1
			for i := range out {
				if out[i].Kind == use.Kind {
					at = i
				}
			}
			if at < 0 {
				out = append(out, use)
			} else {
				out[at].Used += use.Used
			}
		}
	}
	for i := range out {
		out[i].Here = free.take(out[i].Kind, out[i].Used)
		out[i].Buy = out[i].Used - out[i].Here
	}
	return out
}

// spare is new pieces at hand that no step is given.
type spare struct {
	h    *hardware
	left []int32 // by stock
}

func (s *State) freeNew() spare {
	h := s.view().hardware()
	f := spare{h: h, left: make([]int32, len(h.stock))}
	for i := range h.stock {
		if h.stock[i].cond == events.New {
			f.left[i] = h.stock[i].n
		}
	}
	for w := range h.wants {
		for _, t := range h.sharing.Shares[w].From {
			f.left[h.supplies[t.Supply].Class] -= t.Qty
		}
	}
	return f
}

// take gives up to n spare pieces of a kind, or of one that may stand in for it.
func (f spare) take(k events.Kind, n int) int {
	at, ok := f.h.s.kindIndex(k)
	if !ok {
		return 0
	}
	got := 0
	for _, i := range f.h.standIns(f.h.s.kinds[at]) {
		if m := min(int(max(f.left[i], 0)), n-got); m > 0 {
			f.left[i] -= int32(m)
			got += m
		}
	}
	return got
}

// scopeSlips is the slips that a way concerns: what must come off is away with
// one, a step there or back takes it back or works on it, or it is on a part
// that leaves with one.
func (s *State) scopeSlips(from *plan.Present, a *scope.Answer) []ScopeSlip {
	var out []ScopeSlip
	for _, sl := range s.slips {
		if len(sl.Out) == 0 {
			continue
		}
		text := s.slipGoal(sl, &a.Goal)
		for _, way := range [][]plan.StepIndex{a.Steps, a.Back.Steps, a.Undone} {
			for _, ix := range way {
				if text == "" {
					text = s.slipStep(sl, ix)
				}
			}
		}
		if text != "" {
			out = append(out, ScopeSlip{sl.Code, "Slip " + string(sl.Code) + to(sl.Shop) + ": " + text})
		}
	}
	return out
}

// slipGoal says that what must come off is away already.
func (s *State) slipGoal(sl *Slip, goal *plan.Condition) string {
	for i := range goal.Kids {
		if text := s.slipGoal(sl, &goal.Kids[i]); text != "" {
			return text
		}
	}
	if goal.Op == plan.OfPart && s.onSlip(sl, goal.Part) {
		return s.lay.plan.Parts[goal.Part].Name + " is away with it: ask them to do it, and write it on the slip"
	}
	if goal.Op == plan.OfSeats {
		for _, ix := range goal.Seats {
			if h := s.lay.plan.Seats[ix].Host; h != plan.None && s.onSlip(sl, h) {
				return s.lay.plan.Parts[h].Name + " is away with it: ask them to do it, and write it on the slip"
			}
		}
	}
	return ""
}

// slipStep says that a step waits for what is away with a slip.
func (s *State) slipStep(sl *Slip, ix plan.StepIndex) string {
	step := &s.lay.plan.Steps[ix]
	for _, id := range sl.Out {
		p, ok := s.lay.plan.Part(id)
		if ok && (contains(step.TakesBack, p) || s.worksOn(step, p)) {
			return s.lay.plan.Parts[p].Name + " must be back before " + step.Name
		}
	}
	return ""
}

// onSlip says whether a part is away with a slip, by itself or on another.
func (s *State) onSlip(sl *Slip, p plan.PartIndex) bool {
	for ; p != plan.None; p = s.lay.plan.Parts[p].In {
		if contains(sl.Out, s.lay.plan.Parts[p].ID) {
			return true
		}
		if s.now.Part(p) == plan.PartOff {
			return false
		}
	}
	return false
}
