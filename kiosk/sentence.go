package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// begin takes a sentence whose subject and verb are there.
func (t *turn) begin(row *scan.Sentence) {
	if t.id == "" && row.Event != "job-opened" && !ofShop(row.Event) {
		t.clear()
		t.no("No job is on the screen", "Scan a job card first")
		return
	}
	if n := firstNoun(t.nouns); n.Type == scan.JobNoun && n.Blank && row.Event != "job-opened" {
		t.clear()
		t.no("There is no job "+n.ID, "Scan the card of a job that is open")
		return
	}
	t.row, t.latest = row, row
	t.said = &scan.Said{Nouns: t.nouns, Verb: row.Verb, Lines: t.lines, Sizes: t.sizes, Number: t.number, HasN: t.hasN,
		Job: t.jobOrNone(), Dir: t.dir, Here: t.here, Who: t.badge, Clock: t.at, NextN: t.nextN}
	t.next()
}

func firstNoun(nouns []scan.Noun) scan.Noun {
	if len(nouns) == 0 {
		return scan.Noun{}
	}
	return nouns[0]
}

func (s *Screen) jobOrNone() *engine.Job {
	if s.job == nil {
		return &engine.Job{}
	}
	return s.job
}

// next asks what the sentence still needs, or gives it to the rules.
func (t *turn) next() {
	ask, ok := t.row.Next(t.said)
	if !ok {
		ask, ok = t.sure()
	}
	if ok {
		t.ask = newAsking(ask, t.said)
		t.view = View{}
		t.beep(Heard)
		return
	}
	t.ask = nil
	if t.notSure() {
		return
	}
	if t.row.Verb == scan.Happened {
		t.happened()
		return
	}
	if t.row.Nature == scan.Query {
		t.query()
		return
	}
	cmd, err := t.row.Build(t.said)
	if refusal, ok := err.(*engine.Refusal); ok {
		t.clear()
		t.no(capital(refusal.Fact), capital(refusal.Next))
		return
	}
	if cmd == nil {
		t.already()
		return
	}
	t.send(cmd, &flight{row: t.row, said: t.said, undo: -1, redo: -1})
}

// send gives a command to the rules; the answer comes as a message.
func (t *turn) send(cmd engine.Command, f *flight) {
	f.before = snapshot(t.job, t.asItIs)
	f.notes = append(t.toolNotes(f), t.oncePlaced(f)...)
	t.flight = f
	t.ask, t.row = nil, nil
	job := t.id
	if f.said != nil {
		job = jobOf(t.id, f)
	}
	known := events.Told
	if f.row != nil {
		known = f.row.KnownOf(f.said)
	}
	f.when, known = t.dated(f.row, known)
	t.do(Store{Job: job, Command: cmd, Known: known, Since: f.when.since, Till: f.when.till, Who: t.badge, Row: f.row, Checked: f.row == nil || f.row.Nature == scan.AskFor})
}

// jobOf is the subject that a sentence is stored under: the shop's own for
// what belongs to no job, the new job's for its opening.
func jobOf(id events.Job, f *flight) events.Job {
	switch {
	case ofShop(f.row.Event):
		return events.ShopJob
	case f.row.Event == "job-opened":
		return events.Job(f.said.At(0, scan.JobNoun).ID)
	case f.row.Event == "tool-back":
		return toolJob(id, f.said)
	}
	return id
}

// ofShop reports whether a fact belongs to the shop and to no job.
func ofShop(event string) bool {
	switch event {
	case "badge-issued", "range-reserved", "tool-issued":
		return true
	}
	return false
}
