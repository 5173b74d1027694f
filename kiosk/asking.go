package kiosk

import (
	"slices"

	"countback/events"
	"countback/kiosk/scan"
)

// asking is one question of a sentence, and how far its answer is.
type asking struct {
	scan.Ask
	kinds []events.Kind // sizes that are asked in turn
	short []string      // what they are called
	got   []events.Line
	left  []events.Kind // left in on purpose
	size  events.Kind   // a size card was scanned: the number is for it
	items []string
	item  int
	day   events.Day // a day that is past, until OK confirms it
	days  bool       // of a time: the number that comes is one of days
	readings
	took, kept []string    // of what can be accepted
	many       events.Line // a number that is hard to believe, until YES or another
	manyWhy    string      // why it is; empty: there is none
}

func newAsking(a scan.Ask, said *scan.Said) *asking {
	q := &asking{Ask: a}
	if a.Sizes != nil {
		q.kinds = a.Sizes(said)
		q.short = ShortNames(q.kinds)
	}
	if a.Items != nil {
		q.items = a.Items(said)
	}
	q.beginReadings(said)
	if a.Kind == scan.AskLine && len(said.Sizes) == 1 {
		q.size = said.Sizes[0]
	} else if a.Kind == scan.AskLine && len(q.kinds) == 1 {
		q.size = q.kinds[0]
	}
	return q
}

// mode is the word of a count that is going on.
func (q *asking) mode() string {
	if q.Kind == scan.AskSizes || q.Kind == scan.AskLines {
		return "COUNT"
	}
	if q.Kind == scan.AskReadings && q.want != 1 {
		return "MEASURE"
	}
	return ""
}

// turnOf is the size that the next number is for; empty: a size card first.
func (q *asking) turnOf() events.Kind {
	if q.size != "" || q.Kind != scan.AskSizes {
		return q.size
	}
	for _, k := range q.kinds {
		if !q.has(k) {
			return k
		}
	}
	return ""
}

func (q *asking) has(k events.Kind) bool {
	if slices.Contains(q.left, k) {
		return true
	}
	for _, l := range q.got {
		if l.Kind == k {
			return true
		}
	}
	return false
}

func (q *asking) whole() bool {
	if len(q.kinds) == 0 {
		return false // OK ends it
	}
	for _, k := range q.kinds {
		if !q.has(k) {
			return false
		}
	}
	return true
}

// askText is what the screen asks now. Numbers that are expected are not in it.
func (s *Screen) askText() string {
	q := s.ask
	text := q.Text(s.said)
	if q.manyWhy != "" {
		return capital(q.manyWhy) + ". YES, it is so; or the number again"
	}
	switch q.Kind {
	case scan.AskSizes:
		text = s.sizesText(q, text)
	case scan.AskOK:
		if q.item < len(q.items) {
			text = capital(q.items[q.item]) + ". OK? (" + itoa(q.item+1) + " of " + itoa(len(q.items)) + ")"
		}
	case scan.AskReadings:
		text = q.readingsText(text)
	case scan.AskAccept:
		if q.item < len(q.items) {
			text = q.items[q.item] + ". OK takes it over, NO leaves it, ACCEPT takes all (" + itoa(q.item+1) + " of " + itoa(len(q.items)) + ")"
		}
	case scan.AskLine, scan.AskLines:
		if q.size != "" {
			text = "How many " + ShortNames([]events.Kind{q.size})[0] + "?"
		}
	case scan.AskTime:
		text = s.timeText(q)
	case scan.AskWord, scan.AskText:
		if len(q.Words) > 0 {
			text += " " + wordsText(q.Words)
		}
	case scan.AskDate:
		text = q.dateText(text, s.said.Today())
	}
	return text
}

func (s *Screen) sizesText(q *asking, text string) string {
	if len(q.kinds) == 0 {
		if q.size != "" {
			return "How many " + string(q.size) + "?"
		}
		if len(q.got) > 0 {
			return "Another size, or OK"
		}
		return "The book does not say which sizes. Scan a size, then a number; OK ends it"
	}
	if len(q.got)+len(q.left) == 0 && q.size == "" {
		return text + " (" + joinComma(q.short) + ")"
	}
	name := string(q.turnOf())
	if i := slices.Index(q.kinds, q.turnOf()); i >= 0 {
		name = q.short[i]
	}
	return "How many " + name + "?"
}
