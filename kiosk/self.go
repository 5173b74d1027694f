package kiosk

import (
	"slices"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// self takes the cards that are about the sentence or the screen itself. It is
// false for all others.
func (t *turn) self(w scan.Word) bool {
	if row := scan.Find(nil, w, false, false); row != nil && row.Nature == scan.Self && t.ask == nil && t.mend == nil {
		t.latest = row
	}
	switch w {
	case scan.Help:
		t.help()
	case scan.Cancel:
		t.cancel()
	case scan.Clear:
		t.clearNumber()
	case scan.More:
		t.more()
	case scan.OK:
		return t.okSaid()
	case scan.Undo:
		t.undo()
	case scan.Redo:
		t.redo()
	case scan.Correct:
		t.correct()
	case scan.Happened:
		if t.ask != nil || t.mend != nil {
			return false
		}
		t.begin(scan.Find(nil, w, false, false))
	default:
		return false
	}
	return true
}

// okSaid answers what only OK can answer; false leaves it to the sentence.
func (t *turn) okSaid() bool {
	switch {
	case t.ask != nil:
		return false
	case t.question != nil && t.question.to != "":
		t.switchTo(t.question.to)
	case t.mend != nil:
		t.mendOK()
	default:
		t.no("OK to what?", t.still())
	}
	return true
}

// cancel drops the sentence or the question, aloud.
func (t *turn) cancel() {
	switch {
	case t.pending():
		text := t.saidText()
		t.clear()
		t.show(Plain, "Dropped: "+text+". Nothing stored")
	case t.when != (interval{}):
		t.show(Plain, "What is told next happens now")
	case t.question != nil || t.mend != nil:
		t.show(Plain, "Left open")
	default:
		t.show(Plain, "Nothing to cancel")
	}
	t.question, t.mend, t.when = nil, nil, interval{}
	t.view.Ask = "Scan the bag or part first"
	t.beep(Refusing)
}

// clearNumber takes back the last number of a count that is going on.
func (t *turn) clearNumber() {
	if t.ask != nil && t.ask.manyWhy != "" {
		q := *t.ask
		q.many, q.manyWhy = events.Line{}, ""
		t.ask, t.view = &q, View{Lines: []string{"Last number cleared"}}
		t.beep(Heard)
		return
	}
	if t.ask == nil || len(t.ask.got) == 0 {
		t.no("No number to clear", t.still())
		return
	}
	q := *t.ask
	q.got = slices.Clone(q.got[:len(q.got)-1])
	t.ask = &q
	t.view.Lines = []string{"Last number cleared. " + t.gotText()}
	t.view.Big = ""
	t.beep(Heard)
}

func (t *turn) more() {
	if n := t.set.PageLines; len(t.list) > (t.page+1)*n {
		t.page++
		t.beep(Heard)
		return
	}
	t.page = 0
	t.beep(Heard)
}

// help shows what the nouns on the screen can do, or all cards.
func (t *turn) help() {
	ask := t.view.Ask
	nouns := t.nouns
	if len(nouns) == 0 && t.question != nil {
		nouns = t.question.subject
	}
	if row := scan.Find(nouns, scan.Help, false, false); row != nil {
		t.latest = row
	}
	text := t.saidText()
	if text == "" {
		text = "Nouns first, then a verb or numbers"
	}
	v := t.view
	t.show(Plain, text)
	t.list = scan.HelpFor(nouns)
	t.view.Ask = ask
	t.view.Sign = v.Sign
	t.beep(Heard)
}

// lastDeed is the last fact that this person stored here for this job and that
// can be taken back; -1 if there is none.
func (s *Screen) lastDeed() int {
	for i := len(s.mine) - 1; i >= 0; i-- {
		d := &s.mine[i]
		if d.job == s.id && d.who == s.badge {
			return i
		}
	}
	return -1
}

// undoText is what UNDO would take back, in the words of its sentence.
func (s *Screen) undoText() string {
	i := s.lastDeed()
	if i < 0 {
		return ""
	}
	if s.mine[i].undone.N != 0 {
		return "REDO puts back: " + s.mine[i].text
	}
	return "UNDO takes back: " + s.mine[i].text
}

// undo takes back the last fact of this person; a second one is refused and
// shows the list.
func (t *turn) undo() {
	if t.pending() {
		t.no("UNDO is for what is stored; the sentence on the screen is not", "CANCEL drops it")
		return
	}
	i := t.lastDeed()
	switch {
	case i < 0:
		t.no("Nothing of yours to take back here", "CORRECT shows the list")
		return
	case t.mine[i].undone.N != 0:
		t.no("UNDO takes back one thing, and it is taken back", "REDO puts it back; CORRECT and a number for another")
		t.list = t.deedList()
		return
	}
	t.send(correction(events.Corrected{Wrong: t.mine[i].id, Why: "undo"}), &flight{undo: i, redo: -1})
}

// redo puts back what UNDO took.
func (t *turn) redo() {
	i := t.lastDeed()
	if t.pending() || i < 0 || t.mine[i].undone.N == 0 {
		t.no("Nothing was taken back just now", t.still())
		return
	}
	t.send(correction(events.Corrected{Wrong: t.mine[i].undone, Why: "redo"}), &flight{undo: -1, redo: i})
}

// correction is the command behind UNDO, REDO and CORRECT.
func correction(c events.Corrected) engine.Command {
	return engine.Correct{Wrong: c.Wrong, Instead: c.Instead, Why: c.Why}
}

// deedList is what was stored for this job, newest first, each with the number
// that CORRECT takes.
func (s *Screen) deedList() []string {
	var list []string
	for i, r := range s.recent() {
		list = append(list, itoa(i+1)+"  "+clockText(r.At)+" "+whoText(r)+": "+s.job.State().Tells(r.Event)+s.job.State().HappenedWords(r))
	}
	return list
}

func whoText(r *events.Record) string {
	if r.Operator == "" {
		return "bench " + string(r.Terminal)
	}
	return string(r.Operator)
}

// listed is how many facts the list of CORRECT shows.
const listed = 16

// recent are the last facts of the job that a correction can name, newest
// first.
func (s *Screen) recent() []*events.Record {
	var list []*events.Record
	if s.job == nil {
		return nil
	}
	facts := s.job.Facts()
	for i := len(facts) - 1; i >= 0 && len(list) < listed; i-- {
		switch facts[i].Event.(type) {
		case events.JobOpened, events.TagsIssued, events.Corrected:
			continue
		}
		if _, ok := s.job.Standing(facts[i].ID()); ok {
			list = append(list, &facts[i])
		}
	}
	return list
}
