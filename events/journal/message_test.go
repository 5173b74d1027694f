package journal_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

func TestID(t *testing.T) {
	for want, n := range map[string]uint32{
		"b2-1": 1, "b2-42": 42, "b2-99999": 99_999, "b2-100000": 100_000,
		"b2-999999": 999_999, "b2-1000000": 1_000_000, "b2-2147483647": 1<<31 - 1,
	} {
		require.Equal(t, want, journal.ID("b2", n))
		require.Equal(t, want, journal.Message{Terminal: "b2", N: n}.ID())
		require.Equal(t, want, journal.Draft{Terminal: "b2", N: n}.ID())
		terminal, got, err := journal.ParseID(want)
		require.NoError(t, err)
		require.Equal(t, events.Terminal("b2"), terminal)
		require.Equal(t, n, got)
	}
	terminal, n, err := journal.ParseID("hub-1_A-7")
	require.NoError(t, err)
	require.Equal(t, events.Terminal("hub-1_A"), terminal)
	require.EqualValues(t, 7, n)
}

func TestParseIDRefuses(t *testing.T) {
	for id, why := range map[string]string{
		"":                             "no hyphen",
		"b2":                           "no hyphen",
		"-1":                           "name is empty",
		"b 2-1":                        `character ' '`,
		"b.2-1":                        `character '.'`,
		"b2-":                          "want digits",
		"b2-01":                        "without zeros in front",
		"b2-000001":                    "without zeros in front",
		"b2-0":                         "without zeros in front",
		"b2-2147483648":                "1 to 2147483647",
		"b2-10000000000":               "want digits",
		"b2-1x":                        `'x' is not a digit`,
		"b2-+1":                        `'+' is not a digit`,
		"b2-1 ":                        `' ' is not a digit`,
		strings.Repeat("b", 65) + "-1": "65 characters, 64 at most",
	} {
		_, _, err := journal.ParseID(id)
		require.ErrorContains(t, err, why, id)
	}
}

func FuzzParseID(f *testing.F) {
	for _, id := range []string{"b2-42", "a-b-1", "b2-2147483647", "-", "b2-01"} {
		f.Add(id)
	}
	f.Fuzz(func(t *testing.T, id string) {
		terminal, n, err := journal.ParseID(id)
		if err == nil && journal.ID(terminal, n) != id {
			t.Fatalf("%q is read as %q", id, journal.ID(terminal, n))
		}
	})
}

func TestErrorsSayWhatAndWhy(t *testing.T) {
	d := journal.Draft{Terminal: "b2", N: 42, Job: "J4K7"}
	for want, err := range map[string]error{
		"event b2-42 not stored: last message of job J4K7 is 9, expected 7":                                        journal.NewStale(d, journal.Checked(7), 9),
		"event b2-42 not stored: last message of terminal b2 is 9, expected 7":                                     journal.NewStale(d, journal.Recorded(7), 9),
		"event b2-42 not stored: message 9 has the same id and other content; two writers use one terminal's name": &journal.Conflict{ID: "b2-42", Seq: 9},
		"event b2-42 not stored: the next one of terminal b2 is b2-8":                                              &journal.Skipped{Terminal: "b2", N: 42, Last: 7},
		"event b2-42: unclear whether it is stored: no answer":                                                     &journal.Unclear{ID: "b2-42", Cause: errors.New("no answer")},
		"journal is damaged: 5 messages missing between 4 and 10; stop working and run: countback store check":     &journal.Gap{After: 4, Next: 10, Lost: 5},
		"journal is damaged: 1 message of job J4K7 missing after 4; stop working and run: countback store check":   &journal.Gap{Job: "J4K7", After: 4, Lost: 1},
	} {
		require.EqualError(t, err, want)
	}
	require.ErrorIs(t, &journal.Unclear{Cause: journal.ErrFull}, journal.ErrFull)
}
