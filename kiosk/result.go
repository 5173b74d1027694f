package kiosk

import (
	"slices"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// opened puts another job on the screen.
func (t *turn) opened(m Opened) {
	changed := m.ID != t.id
	t.id, t.job, t.dir, t.nextN = m.ID, m.Job, m.Dir, m.NextN
	if t.fresh {
		t.fresh = false
		t.issueTags()
		return
	}
	if !changed {
		return
	}
	t.clear()
	t.question, t.mend = nil, nil
	if m.ID == "" {
		return
	}
	t.show(Plain, append([]string{"Job " + string(m.ID) + ", " + t.engineName() + ". " + t.stands()}, t.redLines(3)...)...)
	t.view.Ask = "Scan a joint, a bag, a part; or WHAT NOW"
	t.beep(Heard)
}

// stands says how far the job is.
func (s *Screen) stands() string {
	done := 0
	now := s.job.WhatNow()
	for _, st := range now {
		if st.State == engine.Done {
			done++
		}
	}
	if e := s.job.State().Ended; e != nil {
		return "It ended: " + string(e.How)
	}
	if len(now) == 0 {
		return "It has no plan"
	}
	return itoa(done) + " of " + itoa(len(now)) + " states stand"
}

// redLines are the first lines that are not as they should be.
func (s *Screen) redLines(n int) []string {
	var list []string
	for _, d := range s.job.Differences() {
		list = append(list, "Short "+itoa(d.No)+" open: "+d.Text)
	}
	for _, u := range s.job.State().Uncounted() {
		list = append(list, "Never counted: "+namesOf(s.job.State()).about(u))
	}
	return list[:min(n, len(list))]
}

func (n names) about(u engine.Uncounted) string {
	if u.Joint != "" {
		return n.joint(u.Joint)
	}
	return n.part(u.Part)
}

// issueTags gives every noun of a new job its tag.
func (t *turn) issueTags() {
	tags := t.dir.Untagged()
	if len(tags) == 0 {
		return
	}
	row := scan.Find([]scan.Noun{{Type: scan.JobNoun, ID: string(t.id)}}, scan.Tags, false, false)
	said := &scan.Said{Job: t.job, Dir: t.dir, Here: t.here, Who: t.badge, NextN: t.nextN}
	t.send(engine.Tell{Event: events.TagsIssued{Tags: tags}}, &flight{row: row, said: said, undo: -1, redo: -1, opening: true})
}

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
	case events.BadgeIssued, events.RangeReserved:
		told := &Telling{Job: &engine.Job{}, Record: m.Record}
		t.show(Good, told.shop(e))
		t.beep(StoredWell)
		return
	}
	if f == nil {
		return
	}
	told := tell(t.job, m.Record, m.Change, f.before)
	lines := told.Lines()
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
	t.remember(f, m.Record, lines[0])
	t.follow(f, told)
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

// follow asks what the fact left open.
func (t *turn) follow(f *flight, told *Telling) {
	var list []*question
	for i := range told.Opened {
		if q := t.asksAbout(told.Opened[i]); q != nil {
			list = append(list, q)
		}
	}
	if len(told.Opened) > 0 && askedAlready(told.Record.Event) {
		list = nil
	}
	for i := len(list) - 2; i >= 0; i-- {
		list[i].then = list[i+1]
	}
	if len(list) > 0 {
		t.asks(list[0])
		return
	}
	if q := t.afterwards(f, told); q != nil {
		t.asks(q)
		return
	}
	t.view.Ask = "Next: scan a noun"
}

func (t *turn) asks(q *question) {
	t.question = q
	t.view.Ask = q.text
}

// askedAlready: what ends a difference is not asked about again.
func askedAlready(ev events.Event) bool {
	switch ev.(type) {
	case events.ShortEnded, events.DisagreementSettled, events.Corrected, events.LossReported, events.FastenerBroken, events.OtherEndTold:
		return true
	}
	return false
}

// asksAbout is the question after a short or an over.
func (t *turn) asksAbout(e ledger.Entry) *question {
	st := t.job.State()
	id := st.ShortID(e.No)
	if id.N == 0 || e.Open == 0 {
		return nil
	}
	q := &question{subject: []scan.Noun{{Type: scan.Short, ID: itoa(int(e.No)), Short: id}}}
	what := itoa(int(e.Open)) + " " + namesOf(st).kind(st.Book().ItemName(e.Item).Kind)
	no := "Short " + itoa(int(e.No)) + ", " + what + ": "
	switch {
	case e.Disputed():
		q.offers = []scan.Word{scan.Settle, scan.DoNotKnow}
		q.text = "Disagreement " + itoa(int(e.No)) + ", " + what + ": count it again, then SETTLE; or DO NOT KNOW"
	case e.Sign == ledger.Over:
		q.offers = []scan.Word{scan.PlanWrong, scan.Miscount, scan.DoNotKnow}
		q.text = "Over " + itoa(int(e.No)) + ", " + what + ": PLAN WRONG, MISCOUNT or DO NOT KNOW?"
		t.mayPair(q, e)
	case st.Book().Class(e.Place) == ledger.Fitted:
		q.offers = []scan.Word{scan.StillIn, scan.Broken, scan.NeverThere, scan.DoNotKnow}
		q.text = no + "STILL IN, BROKEN, NEVER THERE or DO NOT KNOW?"
	case e.After == 0:
		q.offers = []scan.Word{scan.FoundWord, scan.NeverThere, scan.Miscount, scan.DoNotKnow}
		q.text = no + "FOUND, NEVER THERE, MISCOUNT or DO NOT KNOW?"
	default:
		q.offers = []scan.Word{scan.FoundWord, scan.Miscount, scan.DoNotKnow}
		q.text = no + "FOUND, MISCOUNT or DO NOT KNOW?"
	}
	return q
}

// mayPair offers PAIR where one open short, and only one, is of the same kind
// as an over.
func (t *turn) mayPair(q *question, over ledger.Entry) {
	st := t.job.State()
	var match []ledger.Entry
	for _, k := range st.OpenShorts() {
		if e := st.Book().Entry(k); e.Sign == ledger.Short && st.Book().KindOf(e.Item) == st.Book().KindOf(over.Item) {
			match = append(match, e)
		}
	}
	if len(match) != 1 {
		return
	}
	q.pair = []scan.Noun{{Type: scan.Short, ID: itoa(int(match[0].No)), Short: st.ShortID(match[0].No)}, q.subject[0]}
	q.offers = append(q.offers, scan.Pair)
	q.text = "Is it what short " + itoa(int(match[0].No)) + " lacks? PAIR. Or " + q.text
}

// afterwards is what a fact without a difference makes one ask.
func (t *turn) afterwards(f *flight, told *Telling) *question {
	nm := namesOf(t.job.State())
	switch e := told.Record.Event.(type) {
	case events.FastenerBroken:
		if e.OtherEnd == "" {
			return &question{subject: []scan.Noun{{Type: scan.Case, ID: string(e.Case)}}, offers: []scan.Word{scan.Yes, scan.No},
				text: "Have you the other end? YES or NO"}
		}
	case events.PiecesFitted:
		if e.All && told.Record.Known == events.Claimed && e.From != "" {
			return &question{text: "Scan " + nm.place(e.From) + ": EMPTY, or COUNT how many are left"}
		}
	case events.ShortEnded:
		if f.row != nil && f.row.Verb == scan.Broken {
			return &question{text: "Which hole is it? Scan the hole, then BROKEN"}
		}
	}
	return t.gateNow(f)
}

// gateNow asks for the second person when a step with a gate has come to its end.
func (t *turn) gateNow(f *flight) *question {
	st := t.job.State()
	for _, g := range st.Gates() {
		if !g.Owed || g.Passed || f.before == nil || f.before.gates[string(g.Step)] {
			continue
		}
		if ix, ok := st.Plan().Step(g.Step); ok && st.Now().IsDone(ix) {
			return &question{subject: []scan.Noun{{Type: scan.Step, ID: string(g.Step)}}, offers: []scan.Word{scan.Gate},
				text: capital(namesOf(st).step(g.Step)) + " waits for a second person: GATE, then the second badge"}
		}
	}
	return nil
}

// already says that nothing had to be stored.
func (t *turn) already() {
	text := "That is so already: nothing stored"
	if t.flight != nil && t.flight.row != nil && t.flight.said != nil && len(t.flight.said.Nouns) > 0 {
		text = capital(nounsText(t.flight.said.Nouns)) + ", " + string(t.flight.row.Verb) + ": so already, nothing stored"
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
	case scan.Send:
		return f.said.At(0, scan.Part)
	case scan.Released:
		return scan.Noun{Type: scan.JobNoun, ID: string(events.Released)}
	case scan.HandedBack:
		return scan.Noun{Type: scan.JobNoun, ID: string(events.HandedBack)}
	}
	return scan.Noun{}
}

// failed says that a fact is certainly not stored.
func (t *turn) failed(why string) {
	t.flight, t.wait = nil, false
	t.clear()
	t.show(Stop, "Not stored: "+why)
	t.view.Ask = "Say it again when that is cleared"
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
			lines = append(lines, "Bench "+string(r.Terminal)+": "+t.job.State().Tells(r.Event))
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
		t.beep(StoredLook)
	}
}
