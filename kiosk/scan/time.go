package scan

import (
	"strconv"
	"strings"
	"time"

	"countback/events"
)

// TimeOf reads a time that is past as people type it: "14:30", "yesterday",
// "yesterday 14:30", a day as [Date] reads one, with or without a time behind
// it, "3 hours", "2 days ago". It gives the first and the last moment of what
// is named, microseconds since 1970 UTC: the whole day where no time is named,
// and never later than now. All times are in UTC, as the screen shows them.
func TimeOf(text string, now int64) (since, till int64, ok bool) {
	text = strings.TrimSuffix(strings.ToLower(strings.Join(strings.Fields(text), " ")), " ago")
	if n, unit, found := strings.Cut(text, " "); found {
		switch count, one := few(n, 4); {
		case !one:
		case strings.TrimSuffix(unit, "s") == "hour":
			return HoursBack(count, now)
		case strings.TrimSuffix(unit, "s") == "day":
			return DaysBack(count, now)
		}
	}
	if text == "" {
		return 0, 0, false
	}
	dayText, clock := text, time.Duration(-1)
	if i := strings.LastIndexByte(text, ' '); strings.Contains(text[i+1:], ":") {
		t, err := time.Parse("15:04", text[i+1:])
		if err != nil {
			return 0, 0, false
		}
		dayText, clock = text[:max(i, 0)], time.Duration(t.Hour())*time.Hour+time.Duration(t.Minute())*time.Minute
	}
	day, ok := dayBack(dayText, events.DayOf(now))
	switch {
	case !ok:
		return 0, 0, false
	case clock >= 0:
		return within(day.Start()+clock.Microseconds(), 0, now)
	}
	return within(day.Start(), 24*time.Hour, now)
}

// dayBack is a day by its name or its date; no text is today.
func dayBack(text string, today events.Day) (events.Day, bool) {
	switch text {
	case "", "today":
		return today, today.Valid()
	case "yesterday":
		return today.Plus(-1), today.Valid()
	}
	if _, err := strconv.Atoi(text); err == nil {
		return "", false // hours or days: nobody said
	}
	return Date(text, today)
}

// HoursBack is the moment so many hours before now; false before 1970.
func HoursBack(n int, now int64) (since, till int64, ok bool) {
	return within(now-int64(n)*time.Hour.Microseconds(), 0, now)
}

// DaysBack is the whole day so many days before now's; 0 is today.
func DaysBack(n int, now int64) (since, till int64, ok bool) {
	return within(events.DayOf(now).Plus(-n).Start(), 24*time.Hour, now)
}

func within(from int64, last time.Duration, now int64) (since, till int64, ok bool) {
	return from, min(from+last.Microseconds(), now), from > 0 && from <= now
}

// beforeOpened asks about a time at which the job was not open yet; empty: it
// was, or there is no job.
func beforeOpened(s *Said) string {
	facts := s.Job.Facts()
	first := s.Reply("since")
	if len(facts) == 0 || first.Key == "" || first.None || first.Till >= facts[0].At {
		return ""
	}
	return "That is before this job was opened, on " + time.UnixMicro(facts[0].At).UTC().Format("2 January 2006") + ". Is it meant?"
}
