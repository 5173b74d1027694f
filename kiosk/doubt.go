package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
)

// doubtCount questions a number that is far more than can be there, before it is
// taken; YES takes it, another number takes its place. It reports whether it
// does. Rule R80.
func (t *turn) doubtCount(k events.Kind, n int) bool {
	why := t.row.FarBeyond(t.said, k, n)
	if why == "" {
		return false
	}
	t.ask.many, t.ask.manyWhy = events.Line{Kind: k, Qty: n}, why
	t.view = View{Sign: Short, Big: itoa(n), Lines: []string{capital(why)}}
	t.beep(Heard)
	return true
}

// doubtAnswered takes the answer to such a question. taken: YES, the number n
// stands. answered: the scan is used up; otherwise it is looked at as any other,
// since another number has taken the place of the doubted one.
func (t *turn) doubtAnswered(tok scan.Token) (n int, taken, answered bool) {
	q := t.ask
	if q.manyWhy == "" {
		return 0, false, false
	}
	many := q.many.Qty
	switch {
	case tok.Kind == scan.Number: // said again
	case tok.Kind == scan.Said1 && tok.Word == scan.Yes:
		q.many, q.manyWhy = events.Line{}, ""
		return many, true, true
	case tok.Kind == scan.Said1 && tok.Word == scan.No:
		q.many, q.manyWhy = events.Line{}, ""
		t.view = View{}
		t.beep(Heard)
		return 0, false, true
	default:
		t.unasked(tok)
		return 0, false, true
	}
	q.many, q.manyWhy = events.Line{}, ""
	return 0, false, false
}

// sure is the question about numbers that were said before the verb, or that
// are of no size: false where there is nothing to doubt, or it was answered.
func (t *turn) sure() (scan.Ask, bool) {
	if t.row.Nature == scan.Query || t.said.Answered(sureKey) {
		return scan.Ask{}, false
	}
	why := ""
	for _, l := range t.said.Lines {
		if text := t.row.FarBeyond(t.said, l.Kind, l.Qty); text != "" {
			why = text + ": " + ShortNames([]events.Kind{l.Kind})[0]
			break
		}
	}
	if t.said.HasN && why == "" {
		why = t.row.FarBeyond(t.said, "", t.said.Number)
	}
	for _, key := range []string{"n", "masks"} {
		if r := t.said.Reply(key); r.Key != "" && !r.None && why == "" {
			why = t.row.FarBeyond(t.said, "", r.N)
		}
	}
	if why == "" {
		return scan.Ask{}, false
	}
	return scan.Ask{Key: sureKey, Kind: scan.AskWord, Words: []scan.Word{scan.Yes, scan.No}, Prompt: capital(why) + ". YES, it is so; NO, nothing is stored:"}, true
}

const sureKey = "count-sure"

// notSure drops a sentence whose number was not meant.
func (t *turn) notSure() bool {
	if t.said.Reply(sureKey).Word != scan.No {
		return false
	}
	t.clear()
	t.no("Nothing stored: the number was not meant", "Say it again with the right number")
	return true
}
