package engine

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// view is one look at the whole job: what several rules need is worked out
// once.
type view struct {
	s        *State
	hw       *hardware
	suspects []suspect
	holds    []*Hold
	findings []*Finding
	cases    []*Case
	measured []Measure     // that hold something
	said     []string      // by step: what to scan for it; see State.sayStep
	after    *plan.Present // scratch
	room     []plan.Unmet  // scratch, empty
	due      *dates        // worked out when it is first asked for
	onOrder  *coming       // the same
}

// viewOf is what a view was worked out from: it is good until the next fact.
type viewOf struct {
	facts, refolds int
	clock          int64
	limits         Limits
	tools          int
}

// view gives the look at the job as it is now, the same one until a fact, the
// time or the shop's limits change.
func (s *State) view() *view {
	j := s.job
	of := viewOf{len(j.facts), j.refolds, j.clock, j.Limits(), j.toolsSaid}
	if j.view == nil || j.viewOf != of || j.view.s != s {
		j.view, j.viewOf = s.survey(), of
	}
	return j.view
}

func (s *State) survey() *view {
	v := &view{s: s, suspects: s.suspects()}
	for _, h := range s.holds {
		if h.Released == 0 {
			v.holds = append(v.holds, h)
		}
	}
	for _, f := range s.findings {
		if f.Open() || s.holdsUp(f) {
			v.findings = append(v.findings, f)
		}
	}
	for _, c := range s.cases {
		if c.Open() {
			v.cases = append(v.cases, c)
		}
	}
	v.measured = s.holding()
	return v
}

// hardware is worked out when it is first asked for.
func (v *view) hardware() *hardware {
	if v.hw == nil {
		v.hw = v.s.allot()
	}
	return v.hw
}

func (v *view) stepNow(ix plan.StepIndex) StepNow {
	s, step := v.s, &v.s.lay.plan.Steps[ix]
	n := StepNow{Step: step.ID, Name: step.Name, Section: step.Section, Optional: step.Optional}
	if s.now.IsDone(ix) {
		n.State, n.Earliest = Done, now
		return n
	}
	n.Blockers = slices.Clone(v.blockers(ix))
	n.When, n.Earliest = v.whenOf(ix)
	n.Planned = v.plannedStarts()[ix]
	n.Until = s.beadUntil(ix)
	if s.now.HowDone(ix) == plan.PartDone && leavesMetal(step) {
		d := s.now.Done(ix)
		n.State = PartDone
		n.Left = s.left(&d)
		return n
	}
	if n.Blockers == nil {
		n.State = CanStart
	}
	return n
}

// leavesMetal says whether a step changes more than loans and marks.
func leavesMetal(step *plan.Step) bool {
	return len(step.TakesOut)+len(step.Parks)+len(step.Removes)+len(step.SendsOut)+len(step.TakesBack)+
		len(step.Drains)+len(step.Fits)+len(step.Fastens)+len(step.Fills) > 0
}

// left names what a part-done step still has to do.
func (s *State) left(d *plan.Progress) []string {
	p := s.lay.plan
	var list []string
	if len(d.Seats) > 0 {
		list = append(list, p.SeatNames(d.Seats))
	}
	for _, i := range d.Parts {
		list = append(list, p.Parts[i].Name)
	}
	for _, i := range d.Cavities {
		list = append(list, p.Cavities[i].Name)
	}
	for _, i := range d.Marks {
		list = append(list, p.Marks[i].Name)
	}
	for _, i := range d.Loans {
		list = append(list, p.Loans[i].Name)
	}
	return list
}

// reasons is every reason why a step cannot be done now. Rule R20.
func (v *view) reasons(ix plan.StepIndex) []Blocker {
	s, step := v.s, &v.s.lay.plan.Steps[ix]
	var list []Blocker
	room := v.room // reasons of other steps are found while these are looked at
	if room == nil {
		room = make([]plan.Unmet, 0, 64)
	}
	if unmet := s.now.CanDoIn(room, ix); len(unmet) > 0 {
		if v.room = nil; cap(unmet) > len(unmet) {
			v.room = unmet[len(unmet):]
		}
		defer func() { v.room = room }()
		if v.said == nil {
			v.said = make([]string, len(s.lay.plan.Steps))
		}
		kept := s.said
		s.said = v.said
		defer func() { s.said = kept }()
		list = make([]Blocker, 0, len(unmet)+4)
		for i := range unmet {
			b := s.unmet(&unmet[i])
			v.dateOf(ix, b.Text, v.condition(&unmet[i].Cond))
			list = append(list, b)
		}
	}
	if !step.Section.Apart() {
		list = v.short(ix, list)
		list = v.trial(step, list)
		list = v.oldCounts(ix, list)
		list = v.openFindings(ix, list)
		list = v.openCases(step, list)
		list = v.openMeasures(ix, list)
	}
	list = v.sealant(ix, list)
	list = v.wait(ix, list)
	list = v.openHolds(ix, list)
	list = v.unlooked(ix, list)
	list = v.voiding(ix, list)
	list = v.cavities(ix, list)
	list = v.gates(ix, list)
	list = v.audit(step, list)
	list = v.tools(ix, list)
	list = v.batches(step, list)
	list = s.warmBlocks(step, list)
	return v.overridden(step, list)
}

// unmet puts a condition that does not hold into words; a loan says since when
// it is in, and a part that is away on which slip.
func (s *State) unmet(u *plan.Unmet) Blocker {
	b := Blocker{u.Text, u.Clear}
	if text := s.sayCondition(u); text != "" {
		b.Clear = text
	}
	if u.Cond.Op == plan.OfPart && s.now.Part(u.Cond.Part) == plan.PartAway {
		if sl := s.slipOf(u.Cond.Part); sl != nil {
			b.Text += ", since " + s.day(sl.Since)
			b.Clear = "when it is here " + say("slip "+string(sl.Code), "BACK")
		}
		return b
	}
	if u.Cond.Op != plan.OfLoan || u.Cond.Is != plan.IsOut {
		return b
	}
	l := &s.lay.plan.Loans[u.Cond.Loan]
	st, ok := s.loans[l.ID]
	if !ok || st.In == 0 {
		return b
	}
	_, why, _ := strings.Cut(u.Text, ": ")
	_, why, _ = strings.Cut(why, ", ")
	b.Text = s.loanIsIn(l.ID, st)
	if why != "" {
		b.Text += ", " + why
	}
	return b
}

// loanIsIn is "Tensioner lock pin in since 12 May".
func (s *State) loanIsIn(id events.Loan, st *LoanState) string {
	text := s.loanWords(id)
	if st.In > 1 {
		text += ", " + itoa(st.In)
	}
	text += " in since " + s.day(st.Since)
	if st.Where != "" {
		text += " (" + st.Where + ")"
	}
	return text
}

func (v *view) openHolds(ix plan.StepIndex, list []Blocker) []Blocker {
	for _, h := range v.holds {
		if v.s.concerns(ix, h.On) {
			b := Blocker{"Hold on " + v.s.nounWords(h.On) + " since " + v.s.day(h.Since) + ", " + h.Why, say("hold "+h.ID, "RELEASE")}
			v.dateOf(ix, b.Text, v.holdEnds(h))
			list = append(list, b)
		}
	}
	return list
}

func (v *view) openCases(step *plan.Step, list []Blocker) []Blocker {
	for _, c := range v.cases {
		if c.seat >= 0 && (contains(step.Fastens, c.seat) || contains(step.Trial, c.seat)) {
			list = append(list, Blocker{"Case " + string(c.Code) + ": a stub is in " + v.s.lay.plan.SeatNames([]plan.SeatIndex{c.seat}),
				"get it out, or send the part out with it: " + orSay(say("case "+string(c.Code), "TRIED"), say("case "+string(c.Code), "EXTRACTED"))})
		}
	}
	return list
}

// concerns says whether a step has to do with a noun: it is the step, or a
// part, hole or cavity that it works on.
func (s *State) concerns(ix plan.StepIndex, on string) bool {
	p, step := s.lay.plan, &s.lay.plan.Steps[ix]
	typ, id := cutNoun(on)
	switch typ {
	case "step":
		return string(step.ID) == id
	case "job", "engine":
		return true
	case "part":
		i, ok := p.Part(events.Part(id))
		return ok && s.worksOn(step, i)
	case "joint":
		j, ok := p.Joint(events.Joint(id))
		return ok && anySeat(step, func(seat plan.SeatIndex) bool {
			return p.Seats[seat].Joint == j || contains(p.Seats[seat].SharedBy, j)
		})
	case "hole":
		joint, hole := events.Seat(id).Split()
		seat, ok := p.Hole(joint, hole)
		return ok && anySeat(step, func(o plan.SeatIndex) bool { return o == seat })
	case "measurement":
		return s.measuresFor(ix, id)
	case "cavity":
		c, ok := p.Cavity(events.Cavity(id))
		return ok && (contains(step.Opens, c) || contains(step.Closes, c) || contains(step.Fills, c) || contains(step.Drains, c))
	}
	return false
}

// worksOn says whether a step moves a part, or fastens something to it.
func (s *State) worksOn(step *plan.Step, i plan.PartIndex) bool {
	if step.Part == i || contains(step.Fits, i) || contains(step.Removes, i) || contains(step.SendsOut, i) {
		return true
	}
	for _, f := range step.Fits {
		if s.lay.plan.Parts[f].In == i {
			return true
		}
	}
	return anySeat(step, func(seat plan.SeatIndex) bool { return s.lay.plan.Seats[seat].Host == i })
}

func anySeat(step *plan.Step, is func(plan.SeatIndex) bool) bool {
	for _, list := range [...][]plan.SeatIndex{step.Fastens, step.Trial, step.TakesOut, step.Parks} {
		for _, seat := range list {
			if is(seat) {
				return true
			}
		}
	}
	return false
}

// cavities holds a step that would close a cavity in which a missing piece may
// lie (rule R19).
func (v *view) cavities(ix plan.StepIndex, list []Blocker) []Blocker {
	step := &v.s.lay.plan.Steps[ix]
	if len(v.suspects) == 0 || len(step.Closes) == 0 {
		return list
	}
	for i := range v.suspects {
		sp := &v.suspects[i]
		for _, c := range sp.cavities {
			if contains(step.Closes, c) && v.s.now.Open(c) && v.closes(ix, c) {
				list = append(list, Blocker{v.s.cavityWords(c) + " may hold " + v.s.shortWords(&sp.entry) + " missing since " +
					v.s.day(sp.entry.Shown), v.s.lookInto(c)})
			}
		}
	}
	return list
}

// closes says whether a cavity would be closed after a step.
func (v *view) closes(ix plan.StepIndex, c plan.CavityIndex) bool {
	if v.after == nil {
		v.after = v.s.now.Clone()
	} else {
		v.after.CopyFrom(v.s.now)
	}
	v.after.Do(ix)
	return !v.after.Open(c)
}

// gates asks for the second counts of the steps that this one builds on.
func (v *view) gates(ix plan.StepIndex, list []Blocker) []Blocker {
	for _, before := range v.s.lay.gated[ix] {
		if g := v.s.gate(before); g.Owed && !g.Passed {
			list = append(list, Blocker{g.words(v.s), say("step "+string(g.Step), "GATE")})
		}
	}
	return list
}

// audit asks for the signature that a step waits for.
func (v *view) audit(step *plan.Step, list []Blocker) []Blocker {
	if step.Audit == plan.None || v.s.signedAudit(step.Audit) != nil {
		return list
	}
	point := &v.s.lay.plan.AuditPoints[step.Audit]
	return append(list, Blocker{"Audit " + v.s.nounWords(noun("audit", point.ID)) + " is not signed", "clear its red lines, then " + say(noun("audit", point.ID), "SIGN")})
}

// overridden drops what a second person let pass for this step.
func (v *view) overridden(step *plan.Step, list []Blocker) []Blocker {
	if len(list) == 0 || len(v.s.passes) == 0 {
		return list
	}
	var kept []Blocker
	for _, b := range list {
		if !v.s.letPass(noun("step", step.ID), b.Text) {
			kept = append(kept, b)
		}
	}
	return kept
}

// letPass says whether a second person let one reason of an ask pass.
func (s *State) letPass(ask, reason string) bool {
	for i := range s.passes {
		if s.passes[i].Ask == ask && contains(s.passes[i].Unmet, reason) {
			return true
		}
	}
	return false
}

// oldCounts asks for a new count of the bags that a step draws from, where
// their last count is older than the shop's limit.
func (v *view) oldCounts(ix plan.StepIndex, list []Blocker) []Blocker {
	s := v.s
	limit := s.job.Limits().CountAge
	if limit <= 0 || s.job.clock == 0 {
		return list
	}
	var asked []ledger.AccountID
	hw := v.hardware()
	for _, a := range hw.drawn(ix) {
		if s.book.Class(a) != ledger.Bag || contains(asked, a) {
			continue
		}
		asked = append(asked, a)
		last := s.book.LastCount(a)
		path := s.placeWords(s.book.Path(a))
		r := s.Fact(last.Fact)
		switch {
		case r == nil:
			list = append(list, Blocker{"The " + path + " was never counted", v.s.countAgain(s.book.Path(a))})
		case s.job.age(r) > limit:
			list = append(list, Blocker{"The " + path + " was counted " + plural(int(s.job.age(r).Hours()/24), "day") + " ago", v.s.countAgain(s.book.Path(a))})
		}
	}
	return list
}
