package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Source is a place that has pieces for a step.
type Source struct {
	Place events.Place
	Kind  events.Kind // what is there: the kind wanted, or one that may stand in for it
	Cond  events.Condition
	Qty   int
}

// Shortfall is what is missing of one kind before one step.
type Shortfall struct {
	Step    events.Step
	Name    string // of the step
	Kind    events.Kind
	Need    int // pieces that still have to go in
	Have    int // pieces that may go in and that no earlier step takes
	Missing int // Need less Have
	Seats   []events.Seat
	From    []Source    // what there is of it for this step
	Why     []string    // what there is of it and may not go in
	Look    []string    // where the missing ones may be, the likeliest first
	Robs    events.Step // a later step that goes short instead, since this one takes its pieces
	RobsQty int
	Shorts  []events.ShortID // open shorts of the kind
}

// Missing is what is short before each step on, in step order. No step is given
// what an earlier one needs; condemned pieces and samples are never given, and
// single-use ones only when they are new. A step that has enough only because
// it takes from what is kept for a later one is listed as well.
func (j *Job) Missing() []Shortfall {
	s := j.State()
	v := s.view()
	h := v.hardware()
	from := make([][]Source, len(h.wants))
	robs := make([]plan.StepIndex, len(h.wants))
	qty := make([]int, len(h.wants))
	for i := range robs {
		robs[i] = plan.None
	}
	for w := range h.wants {
		for _, t := range h.sharing.Shares[w].From {
			st := &h.stock[h.supplies[t.Supply].Class]
			from[w] = append(from[w], Source{s.book.Path(h.at[t.Supply]), s.book.KindName(st.kind), st.cond, int(t.Qty)})
			if o := h.robbed(w, t.Supply); o != plan.None {
				robs[w] = o
				qty[w] += int(t.Qty)
			}
		}
	}
	var list []Shortfall
	for w := range h.wants {
		if wt := &h.wants[w]; wt.got < wt.n || robs[w] != plan.None {
			sf := v.shortfall(w)
			sf.From, sf.RobsQty = from[w], qty[w]
			if robs[w] != plan.None {
				sf.Robs = s.lay.plan.Steps[robs[w]].ID
			}
			list = append(list, sf)
		}
	}
	return list
}

func (v *view) shortfall(w int) Shortfall {
	s, h := v.s, v.hw
	wt := &h.wants[w]
	step := &s.lay.plan.Steps[wt.step]
	sf := Shortfall{Step: step.ID, Name: step.Name, Kind: s.book.KindName(wt.kind),
		Need: int(wt.n), Have: int(wt.got), Missing: int(wt.n - wt.got)}
	for _, seat := range wt.seats {
		sf.Seats = append(sf.Seats, s.lay.plan.Seats[seat].ID)
	}
	if wt.part != plan.None {
		pt := &s.lay.plan.Parts[wt.part]
		for _, pos := range pt.Positions {
			sf.Seats = append(sf.Seats, pt.Seat(pos))
		}
	}
	if sf.Missing == 0 {
		return sf
	}
	for _, b := range h.whyNot(w) {
		sf.Why = append(sf.Why, b.words)
	}
	for k := 1; k <= s.book.Entries(); k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Open == 0 || en.Sign != ledger.Short || !h.serves(wt, s.book.KindOf(en.Item)) {
			continue
		}
		sf.Shorts = append(sf.Shorts, s.ShortID(en.No))
		for _, look := range s.lookFor(&en) {
			if !contains(sf.Look, look) {
				sf.Look = append(sf.Look, look)
			}
		}
	}
	return sf
}

// serves says whether a kind is the one wanted or may stand in for it.
func (h *hardware) serves(wt *want, k ledger.KindID) bool {
	return k == wt.kind || alike(h.s.book.KindName(wt.kind), h.s.book.KindName(k))
}

// robbed is the later step that goes short because a want takes from what is
// not kept for it; None where there is no such step.
func (h *hardware) robbed(w int, supply int32) plan.StepIndex {
	if h.supplies[supply].Place == 0 || h.kept(w, supply) {
		return plan.None
	}
	st := &h.stock[h.supplies[supply].Class]
	for o := w + 1; o < len(h.wants); o++ {
		wt := &h.wants[o]
		if wt.got < wt.n && wt.step != h.wants[w].step && h.kept(o, supply) &&
			contains(h.standIns(wt.kind), int32(h.supplies[supply].Class)) && wt.rule.allows(st.cond) {
			return wt.step
		}
	}
	return plan.None
}
