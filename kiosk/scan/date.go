package scan

import (
	"strconv"
	"strings"

	"countback/events"
)

// MaxAhead is how many days a number card can be ahead as a date.
const MaxAhead = 3650

// longPast is how many days back a date without its year still means the past:
// yesterday's date is a slip of the hand, one of last spring means the next.
const longPast = 90

// Date reads a date as people write one, seen from today: 2026-12-14,
// 14.12.2026, 14.12. (also without its last point), 14 Dec, 14 December 2026,
// and a whole number for so many days from today (0 is today). Where
// the year is left out it is the first such day from three months back. False for all else, and for a day that no calendar has.
func Date(text string, today events.Day) (events.Day, bool) {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	if n, err := strconv.Atoi(text); err == nil {
		if n < 0 || n > MaxAhead || text[0] == '+' {
			return "", false
		}
		d := today.Plus(n)
		return d, d != ""
	}
	if d := events.Day(text); d.Valid() {
		return d, true
	}
	day, month, year, ok := pointed(text)
	if !ok {
		day, month, year, ok = spelled(text)
	}
	if !ok {
		return "", false
	}
	if year != 0 {
		return events.DateOf(year, month, day)
	}
	return nextOf(month, day, today)
}

// nextOf is the first day of that name from longPast days back. 29 February is
// that of the next leap year.
func nextOf(month, day int, today events.Day) (events.Day, bool) {
	if !today.Valid() {
		return "", false
	}
	year, _ := strconv.Atoi(string(today[:4]))
	for y := year - 1; y <= year+8; y++ {
		if d, ok := events.DateOf(y, month, day); ok && today.Until(d) >= -longPast {
			return d, true
		}
	}
	return "", false
}

// pointed reads 14.12. and 14.12.2026.
func pointed(text string) (day, month, year int, ok bool) {
	list := strings.Split(strings.ReplaceAll(text, " ", ""), ".")
	if len(list) < 2 || len(list) > 3 {
		return 0, 0, 0, false
	}
	day, ok = few(list[0], 2)
	month, also := few(list[1], 2)
	if len(list) == 2 || list[2] == "" {
		return day, month, 0, ok && also
	}
	year, full := few(list[2], 4)
	return day, month, year, ok && also && full && len(list[2]) == 4
}

var months = [...]string{"january", "february", "march", "april", "may", "june", "july", "august", "september",
	"october", "november", "december"}

// spelled reads 14 Dec, 14. December 2026; a month has three letters at least.
func spelled(text string) (day, month, year int, ok bool) {
	list := strings.Fields(text)
	if len(list) < 2 || len(list) > 3 {
		return 0, 0, 0, false
	}
	day, ok = few(strings.TrimSuffix(list[0], "."), 2)
	name := strings.TrimSuffix(list[1], ".")
	for i, m := range months {
		if len(name) >= 3 && strings.HasPrefix(m, name) {
			month = i + 1
		}
	}
	if len(list) == 3 {
		y, full := few(list[2], 4)
		year, ok = y, ok && full && len(list[2]) == 4
	}
	return day, month, year, ok && month > 0
}

// few reads up to so many digits and nothing else.
func few(text string, digits int) (int, bool) {
	if text == "" || len(text) > digits || strings.Trim(text, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	return n, err == nil && n > 0
}

// Today is the day that this terminal's clock shows, in UTC.
func (s *Said) Today() events.Day { return events.DayOf(s.Clock) }

// DateWords is a day as the screen echoes it, seen from today: "Monday 14
// December 2026, in 19 days".
func DateWords(d, today events.Day) string {
	text := d.Words()
	switch n := today.Until(d); {
	case n == 0 && d == today:
		return text + ", today"
	case n == 1:
		return text + ", tomorrow"
	case n == -1:
		return text + ", yesterday"
	case n > 1:
		return text + ", in " + strconv.Itoa(n) + " days"
	case n < -1:
		return text + ", " + strconv.Itoa(-n) + " days ago"
	}
	return text
}
