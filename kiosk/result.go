package kiosk

import (
	"slices"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// stored shows the sentence of what is on disk now, asks what it left open,
// and beeps: that is the receipt.
func (t *turn) stored(m Stored) {
	f := t.flight
	t.flight, t.wait, t.nextN = nil, false, m.NextN
	dropped := t.dropped
	t.clear()
	t.question, t.mend = nil, nil
	switch e := m.Record.Event.(type) {
	case events.JobOpened:
		t.show(Good, "Job "+string(m.Record.Job)+" opened: "+e.Engine)
		t.fresh = true
		t.do(Switch{m.Record.Job})
		t.beep(StoredWell)
		return
	case events.BadgeIssued, events.RangeReserved, events.ToolIssued:
		told := &Telling{Job: &engine.Job{}, Record: m.Record}
		t.show(Good, told.shop(e))
		t.beep(StoredWell)
		return
	}
	if f == nil {
		return
	}
	if f.when != (interval{}) {
		t.when, t.before = interval{}, f.when
	}
	told := tell(t.job, m.Record, m.Change, f.before)
	lines := append(told.Lines(), f.notes...)
	lines = append(append(lines, t.trayNotes(f)...), append(batchNotes(told), lotNotes(told)...)...)
	if e, ok := m.Record.Event.(events.TagsIssued); ok && f.opening {
		lines[0] = "Job " + string(t.id) + " opened: " + t.engineName() + ". " + plural(len(e.Tags), "tag") + " issued"
	}
	if dropped != "" {
		lines = append(lines, dropped)
	}
	if m.Apart {
		lines = append(lines[:min(len(lines), MaxLines-1)], "This bench is cut off: saved here, sent later")
	}
	t.show(signOf(told, m.Apart), lines...)
	if !f.opening { // the opening of a job cannot be taken back
		t.remember(f, m.Record, lines[0])
	}
	t.follow(f, told)
	if t.job != nil {
		t.asItIs = stateNow(t.job) // now nobody waits for it
	}
	if told.Looks() {
		t.beep(StoredLook)
	} else {
		t.beep(StoredWell)
	}
}

func signOf(told *Telling, apart bool) Sign {
	switch {
	case told.Looks():
		return Short
	case apart:
		return Wait
	}
	return Good
}

// remember keeps what was stored here, so that UNDO can name it.
func (t *turn) remember(f *flight, r events.Record, text string) {
	switch {
	case f.undo >= 0:
		t.mine = slices.Clone(t.mine)
		t.mine[f.undo].undone = r.ID()
	case f.redo >= 0:
		t.mine = slices.Clone(t.mine)
		t.mine[f.redo].undone = events.FactID{}
	default:
		t.mine = grow(t.mine[max(0, len(t.mine)-deedsKept):], deed{id: r.ID(), job: r.Job, who: r.Operator, text: text})
	}
}

// deedsKept is how many facts of this terminal the list holds.
const deedsKept = 40

// already says that nothing had to be stored.
func (t *turn) already() {
	text := "That is so already: nothing stored"
	if t.flight != nil && t.flight.row != nil && t.flight.said != nil && len(t.flight.said.Nouns) > 0 {
		text = capital(nounsText(t.flight.said.Nouns)) + ": so already, nothing stored"
		if v := t.flight.row.Verb; v != "" {
			text = capital(nounsText(t.flight.said.Nouns)) + ", " + string(v) + ": so already, nothing stored"
		}
	}
	if t.flight != nil && t.flight.row != nil && t.flight.row.Verb == scan.Sign {
		text = "Signed already, and nothing has changed since: nothing stored"
	}
	if back := t.backBefore(); back != "" {
		text = back
	}
	t.flight = nil
	t.clear()
	t.no(text, "Next: scan a noun")
	t.view.Sign = Plain
}

// refused shows an expected no: the fact, then the next action. The sentence
// is used up; an OVERRIDE can still name what was refused.
func (t *turn) refused(r *engine.Refusal) {
	f := t.flight
	t.flight, t.wait = nil, false
	t.clear()
	t.no(capital(r.Fact), capital(r.Next))
	if n := refusedNoun(f); n.ID != "" && (r.Code == engine.Conflict || r.Code == engine.NeedsTwo) {
		t.question = &question{subject: []scan.Noun{n}, offers: []scan.Word{scan.Override}, text: t.view.Ask}
	}
}

// refusedNoun is what an OVERRIDE after a refusal is about.
func refusedNoun(f *flight) scan.Noun {
	if f == nil || f.row == nil || f.said == nil {
		return scan.Noun{}
	}
	switch f.row.Verb {
	case scan.Gate:
		return scan.Noun{Type: scan.GateNoun, ID: f.said.At(0, scan.Step).ID}
	case scan.Sign:
		return f.said.At(0, scan.Audit)
	case scan.Send, scan.CoreSent:
		return f.said.At(0, scan.Part)
	case scan.Released:
		return scan.Noun{Type: scan.JobNoun, ID: string(events.Released)}
	case scan.HandedBack:
		return scan.Noun{Type: scan.JobNoun, ID: string(events.HandedBack)}
	}
	return scan.Noun{}
}

// failed says that a fact is certainly not stored.
func (t *turn) failed(m Failed) {
	t.flight, t.wait = nil, false
	t.clear()
	t.show(Stop, "Not stored: "+m.Why)
	t.view.Ask = m.Next
	if m.Next == "" {
		t.view.Ask = "Say it again"
	}
	t.beep(Refusing)
}

// folded says what other benches told of this job meanwhile.
func (t *turn) folded(records []events.Record) {
	if t.job == nil {
		return
	}
	var lines []string
	for i := range records {
		r := &records[i]
		if r.Job == t.id {
			lines = append(lines, "Bench "+string(r.Terminal)+": "+t.job.State().Tells(r.Event)+t.job.State().HappenedWords(r))
		}
	}
	if len(lines) == 0 || t.pending() || t.question != nil {
		return
	}
	sign := Plain
	for _, d := range t.job.Differences() {
		if d.Disputed && slices.ContainsFunc(records, func(r events.Record) bool { return slices.Contains(d.Facts, r.ID()) }) {
			sign = Short
			lines = append(lines, "Disagreement "+itoa(d.No)+": "+d.Text)
		}
	}
	ask := t.view.Ask
	t.show(sign, lines[max(0, len(lines)-MaxLines):]...)
	t.view.Ask = ask
	if sign == Short {
		t.view.Ask = "Count it again; then scan the short, SETTLE"
		t.beep(Alert)
	}
}
