package kiosk

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Telling is one stored fact and what came of it, for the sentence in the past
// tense that the screen shows. It is also what UNDO shows: the sentence is the
// handle of what it takes back.
type Telling struct {
	Job    *engine.Job
	Record events.Record
	Opened []ledger.Entry // shorts and overs that the fact showed and that are open

	st *engine.State
	names
	was *before
}

// tell gathers what a fact came to.
func tell(j *engine.Job, r events.Record, c engine.Change, was *before) *Telling {
	st := j.State()
	t := &Telling{Job: j, Record: r, st: st, names: namesOf(st), was: was}
	for k := c.Opened.First; k < c.Opened.First+ledger.EntryNo(c.Opened.N); k++ {
		if e := st.Book().Entry(k); e.Open > 0 {
			t.Opened = append(t.Opened, e)
		}
	}
	return t
}

// Sentence is the fact in one sentence in the past tense, and between when it
// happened if that was told.
func (t *Telling) Sentence() string { return t.sentence() + t.st.HappenedWords(&t.Record) }

func (t *Telling) sentence() string {
	for _, tell := range []func(events.Event) string{t.pieces, t.containers, t.parts, t.cases, t.loans, t.shorts, t.shop} {
		if text := tell(t.Record.Event); text != "" {
			return text
		}
	}
	return capital(t.st.Tells(t.Record.Event))
}

// Lines are the sentence and what it means now, the most pressing first.
func (t *Telling) Lines() []string {
	lines := []string{t.Sentence()}
	if t.overtaken() {
		lines = append(lines, "It was handled or counted since: that says how it was then, and the later count stands")
	}
	if e, ok := t.Record.Event.(events.PiecesOut); ok && len(e.Holes) > 0 && t.nothingMoved() && t.known(e.Joint, e.Holes) {
		lines = append(lines, "By the book nothing was in there: if something came out, count what it went into")
	}
	if text := t.difference(); text != "" {
		lines = append(lines, text)
	}
	for _, b := range t.against() {
		lines = append(lines, "Look: "+b.String())
	}
	lines = append(lines, t.derived()...)
	lines = append(lines, t.failed()...)
	lines = append(lines, t.pressedShort()...)
	lines = append(lines, t.ahead()...)
	lines = append(lines, t.noticed()...)
	if e, ok := t.Record.Event.(events.PiecesFitted); ok {
		for _, text := range []string{t.lengths(e), t.sealant(e)} {
			if text != "" {
				lines = append(lines, text)
			}
		}
	}
	return append(lines, t.changed()...)
}

// overtaken: a count that was told after its place was handled or counted again.
func (t *Telling) overtaken() bool {
	f, ok := t.Job.FactOf(t.Record.ID())
	return ok && t.st.Overtaken(f)
}

// known says whether the plan has all of these holes.
func (t *Telling) known(j events.Joint, holes []events.Hole) bool {
	for _, h := range holes {
		if _, ok := t.p.Hole(j, h); !ok {
			return false
		}
	}
	return true
}

// nothingMoved: the fact left every piece where the book had it.
func (t *Telling) nothingMoved() bool {
	f, ok := t.Job.FactOf(t.Record.ID())
	return ok && len(t.st.Book().Of(f)) == 0
}

// Looks reports whether somebody should look at the screen.
func (t *Telling) Looks() bool {
	if e, ok := t.Record.Event.(events.SecondChecked); ok && !e.Agreed {
		return true
	}
	return len(t.Opened) > 0 || len(t.against()) > 0 || t.measureLooks() || t.runLooks() || len(t.failed()) > 0 || len(t.pressedShort()) > 0 || t.was != nil && (len(t.st.Uncounted()) > t.was.uncounted || len(t.was.alarms(t.Job)) > 0)
}

// against is what stood against the fact, which is stored all the same.
// What the engine is like now says nothing of an act of another time.
func (t *Telling) against() []engine.Blocker {
	switch t.Record.Event.(type) {
	case events.ActDone, events.EngineStarted:
		if t.Record.To != 0 {
			return nil
		}
	}
	return t.Job.Against(t.Record.Event)
}

// changed says which parts came off or on, and which spaces opened.
func (t *Telling) changed() []string {
	var lines []string
	if off := t.partNames(t.was.parts(t.st, plan.PartOff), true); off != "" {
		lines = append(lines, off)
	}
	if on := t.partNames(t.was.parts(t.st, plan.PartOn), false); on != "" {
		lines = append(lines, on)
	}
	if len(t.Opened) == 0 {
		for _, c := range t.was.cavities(t.st, true) {
			lines = append(lines, t.cavityText(c))
			break
		}
	}
	var fell []string
	for _, m := range t.was.marks(t.st) {
		fell = append(fell, lower(t.p.Marks[m].Name))
	}
	if len(fell) > 0 {
		lines = append(lines, "Void now: "+joinComma(fell))
	}
	return lines
}

// partNames is "Off now: front cover, cover rings"; what the sentence says
// already is left out.
func (t *Telling) partNames(list []plan.PartIndex, off bool) string {
	own := events.Part("")
	switch e := t.Record.Event.(type) {
	case events.PartRemoved:
		own = e.Part
	case events.PartFitted:
		own = e.Part
	}
	var words []string
	for _, p := range list {
		if t.p.Parts[p].ID != own {
			words = append(words, lower(t.p.Parts[p].Name))
		}
	}
	if len(words) == 0 {
		return ""
	}
	text := "On now: "
	if off {
		text = "Off now: "
	}
	if len(words) > 4 {
		return text + joinComma(words[:3]) + " and " + itoa(len(words)-3) + " more"
	}
	return text + joinComma(words)
}

// cavityText is "Open now: timing case, which leads to sump".
func (t *Telling) cavityText(c plan.CavityIndex) string {
	cav := &t.p.Cavities[c]
	text := "Open now: " + lower(cav.Name)
	var to []string
	for _, l := range cav.LeadsTo {
		to = append(to, lower(t.p.Cavities[l].Name))
	}
	if len(to) > 0 {
		text += ", which leads to " + joinAnd(to)
	}
	return text
}

// noticed is what became red with this fact, and what it presumes.
func (t *Telling) noticed() []string {
	if t.was == nil {
		return nil
	}
	var lines []string
	for _, text := range t.was.alarms(t.Job) {
		lines = append(lines, "Look: "+text)
	}
	if text := t.presumed(); text != "" {
		lines = append(lines, text)
	}
	return lines
}

// presumed is "the cover is off, so the pan was: never counted; scan their bag".
func (t *Telling) presumed() string {
	open := t.st.Uncounted()
	if len(open) <= t.was.uncounted {
		return ""
	}
	because, joints := events.Part(""), []string{}
	for _, u := range open[t.was.uncounted:] {
		because = u.Because
		name := lower(t.joint(u.Joint))
		if u.Joint == "" {
			name = lower(t.part(u.Part))
		}
		if !slices.Contains(joints, name) {
			joints = append(joints, name)
		}
	}
	if len(joints) > 4 {
		joints = append(joints[:3], itoa(len(joints)-3)+" more")
	}
	return "Out before " + lower(t.part(because)) + " and never counted: " + joinAnd(joints) + ". Scan each with its bag and count"
}

// placeShort is a container with its type word, to begin or to end a sentence.
func (t *Telling) placeShort(p events.Place) string {
	if p == "" || strings.HasPrefix(string(p), "bench/") {
		return "this bench"
	}
	return t.place(p)
}
