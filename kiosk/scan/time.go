package scan

import (
	"strconv"
	"strings"
	"time"
)

// stamps are the forms in which a date or a time can be typed, and how long
// what they name lasts.
var stamps = []struct {
	form string
	last time.Duration
	day  bool // names its own day
}{
	{"2006-01-02 15:04", 0, true}, {"2006-01-02T15:04", 0, true}, {"2006-01-02", 24 * time.Hour, true},
	{"15:04", 0, false},
}

// TimeOf reads a time as people type it: "14:30", "yesterday 14:30",
// "2025-11-24", "2025-11-24 14:30", "3 hours", "2 days". It gives the first
// and the last moment of what is named, microseconds since 1970 UTC; a time of
// the day is that of now's day, and a last moment is never after now. All
// times are in UTC, as the screen shows them.
func TimeOf(text string, now int64) (since, till int64, ok bool) {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	day := dayOf(now)
	for _, w := range []struct {
		word string
		back int
	}{{"today", 0}, {"yesterday", 1}} {
		rest, is := strings.CutPrefix(text, w.word)
		if !is {
			continue
		}
		day = day.AddDate(0, 0, -w.back)
		if text = strings.TrimSpace(rest); text == "" {
			return within(day, 24*time.Hour, now)
		}
	}
	if n, unit, found := strings.Cut(text, " "); found {
		if count, err := strconv.Atoi(n); err == nil && count >= 0 && count <= 9999 {
			switch strings.TrimSuffix(strings.TrimSuffix(unit, " ago"), "s") {
			case "hour":
				return HoursAgo(count, now)
			case "day":
				return DaysAgoAt(count, now)
			}
		}
	}
	for _, f := range stamps {
		if t, err := time.Parse(f.form, text); err == nil {
			if !f.day {
				t = day.Add(time.Duration(t.Hour())*time.Hour + time.Duration(t.Minute())*time.Minute)
			}
			return within(t, f.last, now)
		}
	}
	return 0, 0, false
}

// HoursAgo is the moment so many hours before now; false before 1970.
func HoursAgo(n int, now int64) (since, till int64, ok bool) {
	return within(time.UnixMicro(now).UTC().Add(-time.Duration(n)*time.Hour), 0, now)
}

// DaysAgoAt is the whole day so many days before now's; 0 is today.
func DaysAgoAt(n int, now int64) (since, till int64, ok bool) {
	return within(dayOf(now).AddDate(0, 0, -n), 24*time.Hour, now)
}

func dayOf(at int64) time.Time { return time.UnixMicro(at).UTC().Truncate(24 * time.Hour) }

func within(from time.Time, last time.Duration, now int64) (since, till int64, ok bool) {
	since, till = from.UnixMicro(), min(from.Add(last).UnixMicro(), now)
	return since, till, since > 0 && since <= now
}
