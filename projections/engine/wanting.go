package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// short says what a step lacks: for each kind how many, and what clears it.
func (v *view) short(ix plan.StepIndex, list []Blocker) []Blocker {
	h := v.hardware()
	for _, w := range h.of(ix) {
		if wt := &h.wants[w]; wt.got < wt.n {
			b := v.lack(int(w))
			when, coming := v.comes(int(w))
			if coming != "" {
				b.Clear += "; " + coming
			}
			v.dateOf(ix, b.Text, when)
			list = append(list, b)
		}
	}
	return list
}

// of lists the wants that a step waits for: its own, and those of an earlier
// step that fills some of the same holes.
func (h *hardware) of(ix plan.StepIndex) []int32 {
	list := h.ints.take(int(h.end[ix]-h.first[ix]), 512)[:0]
	for w := h.first[ix]; w < h.end[ix]; w++ {
		list = append(list, w)
	}
	step := &h.s.lay.plan.Steps[ix]
	for _, seat := range step.Fastens {
		if o := h.seatOf[seat]; o != 0 && plan.StepIndex(o-1) != ix {
			for w := h.first[o-1]; w < h.end[o-1]; w++ {
				if contains(h.wants[w].seats, seat) && !contains(list, w) {
					list = append(list, w)
				}
			}
		}
	}
	for _, p := range step.Fits {
		if o := h.partOf[p]; o != 0 && plan.StepIndex(o-1) != ix {
			for w := h.first[o-1]; w < h.end[o-1]; w++ {
				if h.wants[w].part == p && !contains(list, w) {
					list = append(list, w)
				}
			}
		}
	}
	return list
}

// lack puts a want that is not met into words.
func (v *view) lack(w int) Blocker {
	s, h := v.s, v.hardware()
	wt := &h.wants[w]
	kind := s.book.KindName(wt.kind)
	b := Blocker{Text: s.kindWords(kind) + ": " + itoa(int(wt.got)) + " of " + itoa(int(wt.n)) + " that may go in"}
	if robs := h.sharing.Shares[w].Robs; len(robs) > 0 {
		b.Text += "; " + h.namesOf(robs) + " needs them first"
	}
	why := h.whyNot(w)
	for i := range why {
		if i == 0 {
			b.Text += "; "
		} else {
			b.Text += ", "
		}
		b.Text += why[i].words
	}
	b.Clear = v.clearLack(wt, kind, why)
	return b
}

// barred is a number of pieces that are at hand and may not go in.
type barred struct {
	cond  events.Condition
	n     int32
	words string
}

// whyNot says which pieces of the kind are at hand and may not go in.
func (h *hardware) whyNot(w int) []barred {
	wt := &h.wants[w]
	var list []barred
	for _, i := range h.standIns(wt.kind) {
		list = wt.bar(&h.stock[i], list)
	}
	for _, i := range h.byKind[wt.kind] {
		if c := h.stock[i].cond; c == events.Condemned || c == events.Sample {
			list = wt.bar(&h.stock[i], list)
		}
	}
	return list
}

func (w *want) bar(st *stock, list []barred) []barred {
	if w.rule.allows(st.cond) || st.n == 0 {
		return list
	}
	n := itoa(int(st.n))
	words := n + " not new, and single-use"
	switch {
	case st.cond == events.Condemned:
		words = n + " condemned"
	case st.cond == events.Sample:
		words = n + " kept as samples"
	case w.rule == measured:
		words = n + " not measured"
	case w.rule == replaced:
		words = n + " to be replaced"
	}
	return append(list, barred{st.cond, st.n, words})
}

// clearLack is the one thing that brings missing pieces: measuring those that
// are here, finding a short, or new ones.
func (v *view) clearLack(wt *want, kind events.Kind, why []barred) string {
	s := v.s
	if wt.rule == measured {
		for _, b := range why {
			if b.cond != events.Condemned && b.cond != events.Sample {
				return "measure them" + s.measureOf(wt) + "; or " + newOnes()
			}
		}
	}
	for k := 1; k <= s.book.Entries() && wt.rule != onlyNew && wt.rule != replaced; k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Open > 0 && en.Sign == ledger.Short && s.kindOf(&en) == kind {
			return orSay(say("short "+itoa(int(en.No)), "FOUND"), newOnes())
		}
	}
	return "when they come " + newOnes()
}

// measureOf names the measurement that a want's pieces must pass.
func (s *State) measureOf(wt *want) string {
	p, m := s.lay.plan, plan.MeasurementIndex(plan.None)
	if wt.part != plan.None {
		m = p.Parts[wt.part].Reuse.Measure
	} else {
		for _, mb := range p.Seats[wt.seats[0]].Members {
			if mb.Reuse.Rule == plan.ReuseMeasure {
				m = mb.Reuse.Measure
			}
		}
	}
	if m == plan.None {
		return ""
	}
	return " (" + p.Measurements[m].ID + ")"
}

// slipOf is the slip that a part is away with.
func (s *State) slipOf(p plan.PartIndex) *Slip {
	for ; p != plan.None; p = s.lay.plan.Parts[p].In {
		for _, sl := range s.slips {
			if contains(sl.Out, s.lay.plan.Parts[p].ID) {
				return sl
			}
		}
		if s.now.Part(p) == plan.PartOff {
			return nil
		}
	}
	return nil
}

// namesOf names steps by their places in the order.
func (h *hardware) namesOf(places []int32) string {
	words := make([]string, len(places))
	for i, n := range places {
		words[i] = h.s.lay.plan.Steps[h.s.lay.order[n]].Name
	}
	return wordList(words)
}

// trial asks that the pieces of a trial fitting are here at all: for a trial a
// single-use piece need not be new.
func (v *view) trial(step *plan.Step, list []Blocker) []Blocker {
	if len(step.Trial) == 0 {
		return list
	}
	s, h := v.s, v.hardware()
	type need struct {
		kind ledger.KindID
		n    int32
	}
	var needs []need
	for _, seat := range step.Trial {
		for m := range s.lay.seats[seat].members {
			if s.seats[seat].in&(1<<m) != 0 {
				continue
			}
			k := s.kinds[s.lay.seats[seat].members[m].kind]
			at := len(needs) - 1
			for at >= 0 && needs[at].kind != k {
				at--
			}
			if at < 0 {
				needs = append(needs, need{k, 0})
				at = len(needs) - 1
			}
			needs[at].n++
		}
	}
	for _, nd := range needs {
		has := int32(0)
		for _, i := range h.byKind[nd.kind] {
			if h.stock[i].cond != events.Sample && h.stock[i].cond != events.Condemned {
				has += h.stock[i].n
			}
		}
		if has < nd.n {
			list = append(list, Blocker{s.kindWords(s.book.KindName(nd.kind)) + ": " + itoa(int(has)) + " of " + itoa(int(nd.n)) + " for the trial",
				"find them, or take others: " + say("MISSING")})
		}
	}
	return list
}

// eitherOr marks steps of which each could start alone, but not both: the
// later one lacks only pieces that the earlier one takes, or each makes the
// other impossible.
func (v *view) eitherOr(list []StepNow) {
	v.eitherPieces(list)
	v.eitherState(list)
}

func (v *view) eitherPieces(list []StepNow) {
	if v.hw == nil || !v.hw.lacks() {
		return
	}
	h := v.hw
	for _, pair := range h.sharing.Either() {
		a, b := &list[v.s.lay.order[pair.First]], &list[v.s.lay.order[pair.Then]]
		// the later one must be blocked by nothing but its pieces
		if a.State == Blocked || a.State == Done || len(b.Blockers) != v.lacking(v.s.lay.order[pair.Then]) {
			continue
		}
		a.EitherOr = append(a.EitherOr, b.Step)
		b.EitherOr = append(b.EitherOr, a.Step)
	}
}

func (h *hardware) lacks() bool {
	for w := range h.wants {
		if h.wants[w].got < h.wants[w].n {
			return true
		}
	}
	return false
}

// lacking is how many kinds a step lacks.
func (v *view) lacking(ix plan.StepIndex) int {
	n := 0
	for _, w := range v.hw.of(ix) {
		if v.hw.wants[w].got < v.hw.wants[w].n {
			n++
		}
	}
	return n
}

// eitherState tries every pair that can start: after the one the other cannot
// be done any more, and the other way round.
func (v *view) eitherState(list []StepNow) {
	var can []plan.StepIndex
	for ix := range list {
		if list[ix].Blockers == nil && list[ix].State != Done {
			can = append(can, plan.StepIndex(ix))
		}
	}
	stops := make([]bool, len(can)*len(can))
	after := v.s.now.Clone()
	for a, x := range can {
		after.CopyFrom(v.s.now)
		after.Do(x)
		for b, y := range can {
			same := list[x].Section.Apart() == list[y].Section.Apart() // taking off what another puts on is no choice
			stops[a*len(can)+b] = a != b && same && !after.Can(y) && !after.IsDone(y)
		}
	}
	for a := range can {
		for b := a + 1; b < len(can); b++ {
			if stops[a*len(can)+b] && stops[b*len(can)+a] {
				x, y := &list[can[a]], &list[can[b]]
				x.EitherOr = append(x.EitherOr, y.Step)
				y.EitherOr = append(y.EitherOr, x.Step)
			}
		}
	}
}

// newOnes is how new pieces come in: the place where they are put, then what
// they are.
func newOnes() string { return say("place shelf", "RECEIVED") }
