package scan

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestTimeOf(t *testing.T) {
	now := time.Date(2025, 5, 14, 8, 30, 15, 0, time.UTC)
	const form = "2006-01-02 15:04:05"
	for _, row := range []struct{ text, since, till string }{
		{"today", "2025-05-14 00:00:00", "2025-05-14 08:30:15"},
		{"YESTERDAY", "2025-05-13 00:00:00", "2025-05-14 00:00:00"},
		{"yesterday 14:30", "2025-05-13 14:30:00", "2025-05-13 14:30:00"},
		{"Today 7:05", "2025-05-14 07:05:00", "2025-05-14 07:05:00"},
		{"08:30", "2025-05-14 08:30:00", "2025-05-14 08:30:00"},
		{"2025-05-12", "2025-05-12 00:00:00", "2025-05-13 00:00:00"},
		{"2025-05-14", "2025-05-14 00:00:00", "2025-05-14 08:30:15"},
		{" 2025-05-12   16:45 ", "2025-05-12 16:45:00", "2025-05-12 16:45:00"},
		{"3 hours", "2025-05-14 05:30:15", "2025-05-14 05:30:15"},
		{"1 hour ago", "2025-05-14 07:30:15", "2025-05-14 07:30:15"},
		{"2 days", "2025-05-12 00:00:00", "2025-05-13 00:00:00"},
		{"12.5.", "2025-05-12 00:00:00", "2025-05-13 00:00:00"},
		{"12 May 6:00", "2025-05-12 06:00:00", "2025-05-12 06:00:00"},
	} {
		since, till, ok := TimeOf(row.text, now.UnixMicro())
		require.True(t, ok, row.text)
		require.Equal(t, row.since, time.UnixMicro(since).UTC().Format(form), row.text)
		require.Equal(t, row.till, time.UnixMicro(till).UTC().Format(form), row.text)
	}
	for text, why := range map[string]string{"": "nothing", "tomorrow": "not before now", "2025-05-15": "not before now", "09:00": "not before now", "25:00": "no such hour",
		"2025-02-30": "no such day", "-3 hours": "negative", "3": "hours or days?", "99999 days": "before every engine", "3 weeks": "no such unit", "yesterday noon": "no time", "15.5.": "not before now", "6:60": "no such minute",
		"1066-10-14": "before 1970"} {
		_, _, ok := TimeOf(text, now.UnixMicro())
		require.False(t, ok, "%q: %s", text, why)
	}
}

// Whatever is typed, an interval that is taken lies before now and is none
// backwards.
func TestAnyTime(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		now := rapid.Int64Range(1, 4_000_000_000_000_000).Draw(rt, "now")
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`(today|yesterday)? ?[0-2]?[0-9]:[0-5][0-9]`), rapid.StringMatching(`(19|20)[0-9]{2}-[01][0-9]-[0-3][0-9]( [0-2][0-9]:[0-5][0-9])?`),
			rapid.StringMatching(`[0-9]{1,5} (hours|days)( ago)?`)).Draw(rt, "text")
		since, till, ok := TimeOf(text, now)
		if ok {
			require.Positive(rt, since)
			require.LessOrEqual(rt, since, till)
			require.LessOrEqual(rt, till, now)
		}
	})
}
