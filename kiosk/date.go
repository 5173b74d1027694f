package kiosk

import (
	"slices"
	"strings"

	"countback/events"
	"countback/kiosk/scan"
)

// howDates are written, for who typed something else.
const howDates = "Type it as 2026-12-14, 14.12. or 14 Dec; a number card is in so many days"

// takesDate reports whether what was typed is meant as the date that is asked:
// whatever reads as one, and what is nothing else.
func (t *turn) takesDate(tok scan.Token) bool {
	if tok.Scan {
		return false
	}
	switch tok.Kind {
	case scan.Words, scan.Foreign, scan.Number:
		return true
	case scan.Said1, scan.Digit, scan.Swallowed:
		return false
	}
	_, ok := scan.Date(tok.Line, t.said.Today())
	return ok
}

// answerDate takes a day. One that is past is questioned: OK confirms it, and
// another date takes its place.
func (t *turn) answerDate(tok scan.Token) {
	q, today := t.ask, t.said.Today()
	if tok.Kind == scan.Said1 && (tok.Word == scan.OK || tok.Word == scan.Yes) && q.day != "" {
		t.replyDay(q.day)
		return
	}
	if tok.Kind == scan.Said1 && slices.Contains(q.Words, tok.Word) {
		t.reply(scan.Reply{Word: tok.Word})
		return
	}
	text := tok.Line
	if tok.Kind == scan.Number && tok.Whole {
		text = itoa(tok.N)
	}
	day, ok := scan.Date(text, today)
	switch {
	case !ok && tok.Kind != scan.Said1 && tok.Kind != scan.Saw:
		t.view.Sign = Stop
		t.view.Lines = []string{`"` + shorten(text, 40) + `" is no date`, howDates}
		t.beep(Refusing)
	case !ok:
		t.unasked(tok)
	case day < today:
		q.day = day
		t.view.Sign, t.view.Big = Short, dayBig(day)
		t.view.Lines = []string{scan.DateWords(day, today) + ": that is past"}
		t.beep(Refusing)
	default:
		t.replyDay(day)
	}
}

func (t *turn) replyDay(day events.Day) {
	lines := []string{scan.DateWords(day, t.said.Today())}
	t.view.Big = dayBig(day)
	t.reply(scan.Reply{Day: day})
	if t.ask != nil { // the sentence goes on: what was understood stays in view
		t.view.Big, t.view.Lines = dayBig(day), lines
	}
}

// dayBig is a day for the large echo: "14 DEC".
func dayBig(day events.Day) string {
	list := strings.Fields(day.Words())
	if len(list) < 3 {
		return ""
	}
	return list[1] + " " + strings.ToUpper(list[2][:3])
}

// dateText is what is asked while a day is: the question, or whether a day
// that is past is meant.
func (q *asking) dateText(text string, today events.Day) string {
	if q.day != "" {
		return scan.DateWords(q.day, today) + ": that is past. OK takes it; or another date"
	}
	return text
}
