package events

import "time"

// Day is a day of the calendar as it is stored: "2026-12-14". The zero Day is
// none. Two days compare as their texts do, so that == and < are right for
// days that are [Day.Valid]; what is not valid was told so, is kept, and means
// none to every computation. A day has no zone: whoever makes one of a clock
// says which day that clock shows ([DayOf] takes that of UTC, as everything
// shown does).
type Day string

// dayForm is the stored form: ISO 8601-1:2019, 5.2.2.1, the extended calendar
// date.
const dayForm = "2006-01-02"

// DayOf is the day in UTC of a time in microseconds since 1970; none for 0.
func DayOf(at int64) Day {
	if at == 0 {
		return ""
	}
	return Day(time.UnixMicro(at).UTC().Format(dayForm))
}

// DateOf is the day of a year, a month and a day of that month; false if the
// calendar has no such day (30 February) or the year is not 1 to 9999.
func DateOf(year, month, day int) (Day, bool) {
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if t.Year() != year || int(t.Month()) != month || t.Day() != day || year < 1 || year > 9999 {
		return "", false
	}
	return Day(t.Format(dayForm)), true
}

// Valid reports whether it is a day of the calendar in its one form. None is
// not valid.
func (d Day) Valid() bool {
	_, ok := d.time()
	return ok
}

// time is the first moment of the day in UTC.
func (d Day) time() (time.Time, bool) {
	if len(d) != len(dayForm) {
		return time.Time{}, false
	}
	t, err := time.Parse(dayForm, string(d))
	return t, err == nil && t.Year() > 0
}

// Start is the first moment of the day in UTC, microseconds since 1970; 0
// where it is no day.
func (d Day) Start() int64 {
	t, ok := d.time()
	if !ok {
		return 0
	}
	return t.UnixMicro()
}

// Plus is so many days later, earlier if negative. None stays none, and what
// leaves the years 1 to 9999 is none.
func (d Day) Plus(days int) Day {
	t, ok := d.time()
	if !ok || days > 4_000_000 || days < -4_000_000 {
		return ""
	}
	if t = t.AddDate(0, 0, days); t.Year() < 1 || t.Year() > 9999 {
		return ""
	}
	return Day(t.Format(dayForm))
}

// Until is how many days it is from this day to another, negative if that lies
// before; 0 where either is no day.
func (d Day) Until(other Day) int {
	a, ok := d.time()
	b, too := other.time()
	if !ok || !too {
		return 0
	}
	return int((b.Unix() - a.Unix()) / (24 * 60 * 60))
}

// Later is the later of two days, and the other where one of them is none.
func (d Day) Later(other Day) Day {
	if !other.Valid() || d.Valid() && d > other {
		return d
	}
	return other
}

// Earlier is the earlier of two days, and the other where one of them is none.
func (d Day) Earlier(other Day) Day {
	if !other.Valid() || d.Valid() && d < other {
		return d
	}
	return other
}

// Words is the day for people: "Monday 14 December 2026"; the stored text where
// it is no day, nothing for none.
func (d Day) Words() string {
	t, ok := d.time()
	if !ok {
		return string(d)
	}
	return t.Format("Monday 2 January 2006")
}

// Short is the day without its weekday: "14 December", with the year where it
// is not the year of the day from which it is seen.
func (d Day) Short(from Day) string {
	t, ok := d.time()
	switch {
	case !ok:
		return string(d)
	case len(from) >= 4 && d[:4] == from[:4]:
		return t.Format("2 January")
	}
	return t.Format("2 January 2006")
}
