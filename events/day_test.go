package events

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Days of the calendar, from the proleptic Gregorian rule: 2000 is a leap
// year, 1900 is not. The weekdays are those of any printed calendar.
func TestDaysOfTheCalendar(t *testing.T) {
	for _, c := range []struct {
		day   Day
		words string
	}{
		{"2026-12-14", "Monday 14 December 2026"},
		{"2024-02-29", "Thursday 29 February 2024"},
		{"2000-02-29", "Tuesday 29 February 2000"},
		{"1970-01-01", "Thursday 1 January 1970"},
	} {
		require.True(t, c.day.Valid(), c.day)
		require.Equal(t, c.words, c.day.Words())
	}
	for _, bad := range []Day{"", "2026-2-14", "2026-02-30", "1900-02-29", "2026-13-01", "2026-00-10", "14.12.2026",
		"2026-12-14T00:00", " 2026-12-14", "2026/12/14", "-026-12-14", "0000-12-14", "2026-12-1x", "tomorrow"} {
		require.False(t, bad.Valid(), bad)
		require.Empty(t, bad.Plus(1), bad)
		require.Zero(t, bad.Start(), bad)
		require.Zero(t, Day("2026-12-14").Until(bad), bad)
		require.Equal(t, Day("2026-12-14"), bad.Later("2026-12-14"), bad)
		require.Equal(t, Day("2026-12-14"), Day("2026-12-14").Earlier(bad), bad)
		require.Equal(t, string(bad), bad.Words(), "what was told is shown as it was told")
	}
	require.Equal(t, Day("2026-11-25"), DayOf(time.Date(2026, 11, 25, 23, 59, 59, 0, time.UTC).UnixMicro()))
	require.Empty(t, DayOf(0))
	_, ok := DateOf(2026, 2, 29)
	require.False(t, ok)
	require.Equal(t, "14 December", Day("2026-12-14").Short("2026-11-25"))
	require.Equal(t, "4 January 2027", Day("2027-01-04").Short("2026-11-25"))
	require.Empty(t, Day("9999-12-31").Plus(1))
	require.Empty(t, Day("0001-01-01").Plus(-1))
}

// Adding days and counting them are each other's reverse, and the texts stand
// in the order of the days.
func TestDaysAreCounted(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d := Day("1970-01-01").Plus(rapid.IntRange(0, 60_000).Draw(r, "day"))
		n := rapid.IntRange(-5_000, 5_000).Draw(r, "days")
		e := d.Plus(n)
		require.True(t, e.Valid())
		require.Equal(t, n, d.Until(e))
		require.Equal(t, -n, e.Until(d))
		require.Equal(t, n > 0, e > d)
		require.Equal(t, max(d, e), d.Later(e))
		require.Equal(t, min(d, e), d.Earlier(e))
		require.Equal(t, int64(n)*24*60*60*1_000_000, e.Start()-d.Start())
		require.Equal(t, DayOf(d.Start()+1), d)
	})
}
