package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/ledger"
)

// interval is when something happened that is told late, microseconds since
// 1970 by this terminal's clock; the zero interval is now.
type interval struct{ since, till int64 }

func (i interval) text() string {
	if i.since/60_000_000 == i.till/60_000_000 {
		return clockText(i.since)
	}
	return clockText(i.since) + " to " + clockText(i.till)
}

// answerTime takes a time: a number of hours, DAYS AGO and a number of days, a
// card, or what was typed.
func (t *turn) answerTime(tok scan.Token) {
	q := t.ask
	r := scan.Reply{}
	ok := false
	switch {
	case tok.Kind == scan.Said1 && tok.Word == scan.DaysAgo:
		q.days = true
		t.beep(Heard)
		return
	case tok.Kind == scan.Number && tok.Whole && q.days:
		r.Since, r.Till, ok = scan.DaysBack(tok.N, t.at)
	case tok.Kind == scan.Number && tok.Whole:
		r.Since, r.Till, ok = scan.HoursBack(tok.N, t.at)
	default:
		r.Since, r.Till, ok = scan.TimeOf(textOf(tok), t.at)
	}
	switch first := t.said.Reply("since"); {
	case !ok:
		t.view.Sign = Stop
		t.view.Lines = []string{capital(tokenText(tok)) + " is no time before now"}
		t.beep(Refusing)
		return
	case q.Key == "till" && r.Till < first.Since:
		t.view.Sign = Stop
		t.view.Lines = []string{clockText(r.Till) + " is before " + clockText(first.Since)}
		t.beep(Refusing)
		return
	}
	t.reply(r)
}

// textOf is what was typed, without the word before a text.
func textOf(tok scan.Token) string {
	text := tok.Line
	if tok.Kind == scan.Said1 {
		return string(tok.Word)
	}
	if len(text) > 5 && (text[:5] == "text " || text[:5] == "TEXT ") {
		text = text[5:]
	}
	return text
}

// timeText is what the screen asks when it asks for a time.
func (s *Screen) timeText(q *asking) string {
	switch first := s.said.Reply("since"); {
	case q.days:
		return "How many days ago?"
	case q.Key == "till" && first.Till > first.Since:
		return q.Prompt + " (OK: " + clockText(first.Till) + ")"
	case q.Key == "till":
		return q.Prompt + " (OK: now)"
	case s.before != (interval{}):
		return q.Prompt + " (OK: as before, " + s.before.text() + ")"
	}
	return q.Prompt
}

// happened keeps since when and until when the next thing that is told
// happened. What is on the screen stays.
func (t *turn) happened() {
	since, till, sure := t.said.Reply("since"), t.said.Reply("till"), t.said.Reply("sure")
	t.row, t.said, t.ask = nil, nil, nil
	switch {
	case sure.Word == scan.No:
		t.no("What is told next happens now", "HAPPENED, then since when")
		return
	case since.None && t.before == (interval{}):
		t.no("Nothing was told late before", "HAPPENED, then since when")
		return
	case since.None:
		t.when = t.before
	default:
		t.when = interval{since.Since, since.Till}
		if !till.None {
			t.when.till = till.Till
		} else if since.Till == since.Since {
			t.when.till = t.at
		}
	}
	t.show(Plain, "What is told next happened "+t.when.text())
	t.view.Ask = t.still()
	t.beep(Heard)
}

// dated is when a sentence happened, and how it is known then: what was only
// told, claimed or presumed is put together afterwards, and a number from
// then was not counted blind.
func (t *turn) dated(row *scan.Sentence, known events.Known) (interval, events.Known) {
	switch {
	case t.when == (interval{}) || row == nil || row.Nature != scan.Tell:
		return interval{}, known
	case ledger.Bounds(known):
		return t.when, events.CountedOpen
	}
	return t.when, events.Reconstructed
}
