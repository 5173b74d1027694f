package kiosk

import (
	"countback/projections/engine"
	"countback/projections/plan"
)

// before is the job as it was when a sentence went to the rules: what has
// changed since is what the sentence did.
type before struct {
	of        *engine.Job
	now       *plan.Present
	open      []bool // cavities
	uncounted int
	facts     int
	gates     map[string]bool // steps that waited for a second person
	red       map[string]bool // lines that were red
}

// snapshot is the job now; kept is one that may still be good.
func snapshot(j *engine.Job, kept *before) *before {
	if j == nil {
		return nil
	}
	if kept == nil || kept.of != j || kept.facts != len(j.Facts()) {
		kept = stateNow(j)
	}
	b := *kept
	b.red = map[string]bool{}
	for _, l := range j.Red() {
		b.red[l.Text] = true
	}
	return &b
}

// stateNow is a snapshot without what a new day can make red.
func stateNow(j *engine.Job) *before {
	st := j.State()
	b := &before{of: j, now: st.Now().Clone(), uncounted: len(st.Uncounted()), facts: len(j.Facts()), gates: map[string]bool{}}
	for i := range st.Plan().Cavities {
		b.open = append(b.open, st.Now().Open(plan.CavityIndex(i)))
	}
	for _, g := range st.Gates() {
		b.gates[string(g.Step)] = g.Owed && !g.Passed
	}
	return b
}

// alarming are the red lines that a fact is told with when it causes them.
// Shorts, what was never counted and what the sentence says itself are left
// out.
var alarming = map[string]bool{engine.RedOddKind: true, engine.RedReused: true, engine.RedCondemned: true, engine.RedSwapped: true,
	engine.RedMixed: true, engine.RedPastStop: true, engine.RedUnseen: true, engine.RedReopened: true, engine.RedTurned: true,
	engine.RedFoundOdd: true, engine.RedNoSuch: true, engine.RedStage: true, engine.RedNoStud: true,
	engine.RedCoreVoid: true}

// alarms are the lines that became red.
func (b *before) alarms(j *engine.Job) []string {
	var list []string
	for _, l := range j.Red() {
		if alarming[l.Code] && !b.red[l.Text] {
			list = append(list, l.String())
		}
	}
	return list
}

// parts lists the parts that came into a state.
func (b *before) parts(st *engine.State, want plan.PartState) []plan.PartIndex {
	var list []plan.PartIndex
	if b == nil || b.now.Plan() != st.Plan() {
		return nil
	}
	for i := range st.Plan().Parts {
		p := plan.PartIndex(i)
		if st.Now().Part(p) == want && b.now.Part(p) != want {
			list = append(list, p)
		}
	}
	return list
}

// cavities lists the cavities that opened, or that closed.
func (b *before) cavities(st *engine.State, open bool) []plan.CavityIndex {
	var list []plan.CavityIndex
	if b == nil || b.now.Plan() != st.Plan() {
		return nil
	}
	for i := range st.Plan().Cavities {
		if c := plan.CavityIndex(i); st.Now().Open(c) == open && b.open[i] != open {
			list = append(list, c)
		}
	}
	return list
}

// marks lists the marks that fell.
func (b *before) marks(st *engine.State) []plan.MarkIndex {
	var list []plan.MarkIndex
	if b == nil || b.now.Plan() != st.Plan() {
		return nil
	}
	for i := range st.Plan().Marks {
		if m := plan.MarkIndex(i); b.now.Mark(m) && !st.Now().Mark(m) {
			list = append(list, m)
		}
	}
	return list
}
