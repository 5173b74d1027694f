package scan

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

func TestDatesAsPeopleWriteThem(t *testing.T) {
	const today events.Day = "2026-11-25"
	for text, want := range map[string]events.Day{
		"2026-12-14": "2026-12-14", "2025-01-02": "2025-01-02",
		"14.12.": "2026-12-14", "14.12": "2026-12-14", "14. 12.": "2026-12-14", "1.2.": "2027-02-01", "01.02.": "2027-02-01",
		"14.12.2026": "2026-12-14", "14.12.2019": "2019-12-14",
		"14 Dec": "2026-12-14", "14 december": "2026-12-14", "14. DEC": "2026-12-14", "14 Dec.": "2026-12-14", "2 Jan 2027": "2027-01-02",
		"0": "2026-11-25", "1": "2026-11-26", "19": "2026-12-14", " 40 ": "2027-01-04",
		"24.11.": "2026-11-24", "27 Aug": "2026-08-27", // within three months back is the past
		"26 Aug": "2027-08-26", "24 Jul": "2027-07-24", // further back is next year
		"29 Feb": "2028-02-29",
	} {
		got, ok := Date(text, today)
		require.True(t, ok, text)
		require.Equal(t, want, got, text)
	}
	for text, why := range map[string]string{
		"": "nothing", "2026-02-30": "no such day", "30.2.": "no such day", "30 feb": "no such day", "0.12.": "no day 0",
		"14.13.": "no such month", "14.12.26": "a year of two digits could be a day", "14 De": "De is no month",
		"14 May June": "two months", "-3": "no days back by a number", "+3": "not a number card", "4000": "ten years ahead",
		"14": "", "soon": "a word", "14/12": "day or month first, nobody knows", "14 Ju": "two months begin so",
	} {
		if text == "14" { // a number is in so many days
			continue
		}
		_, ok := Date(text, today)
		require.False(t, ok, "%s: %s", text, why)
	}
	_, ok := Date("14.12.", "")
	require.False(t, ok, "no year without a clock")
	require.Equal(t, "Monday 14 December 2026, in 19 days", DateWords("2026-12-14", today))
	require.Equal(t, "Wednesday 25 November 2026, today", DateWords(today, today))
	require.Equal(t, "Tuesday 24 November 2026, yesterday", DateWords("2026-11-24", today))
}

// However a day is written, it is read as that day.
func TestEveryWayOfWritingADate(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		today := events.Day("2026-01-01").Plus(rapid.IntRange(0, 800).Draw(r, "today"))
		day := today.Plus(rapid.IntRange(-80, 270).Draw(r, "ahead"))
		at := time.UnixMicro(day.Start()).UTC()
		for _, text := range []string{string(day), at.Format("2.1."), at.Format("02.01."), at.Format("2.1.2006"),
			at.Format("2 Jan"), strings.ToUpper(at.Format("2 January")), at.Format("2. Jan 2006")} {
			if at.Day() == 29 && at.Month() == 2 {
				continue
			}
			got, ok := Date(text, today)
			require.True(t, ok, text)
			require.Equal(t, day, got, fmt.Sprint(text, " seen from ", today))
		}
		if n := today.Until(day); n >= 0 {
			got, ok := Date(fmt.Sprint(n), today)
			require.True(t, ok)
			require.Equal(t, day, got)
		}
	})
}

func FuzzDate(f *testing.F) {
	for _, s := range []string{"2026-12-14", "14.12.", "14 Dec", "12", "29.2."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if d, ok := Date(text, "2026-11-25"); ok {
			require.True(t, d.Valid(), "%q gave %q", text, d)
		}
	})
}
