package kiosk_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/testdata/plans"
)

// screenAfter is the screen of a bench after some lines, a second apart.
func screenAfter(t *testing.T, home *journal.Memory, lines ...string) kiosk.Screen {
	now := time.Date(2025, 5, 12, 7, 0, 0, 0, time.UTC).UnixMicro()
	term, err := bench.Open(context.Background(), bench.Config{Shop: "hill", Name: "b1", Home: home, Clock: func() int64 { now += 1_000_000; return now },
		Plans: map[string]string{"sorrel": plans.Sorrel}, Settings: kiosk.UsualSettings()})
	require.NoError(t, err)
	begin := []string{"range BC", "bench b1", "RESERVE", labelOf(t, code.Badge, 0), "LABEL", "text Marit"}
	for _, l := range append(begin, lines...) {
		_, err := term.Scan(context.Background(), l)
		require.NoError(t, err, l)
	}
	return term.Screen()
}

func labelOf(t *testing.T, typ code.Type, n uint32) string {
	issuer, err := code.NewIssuer("BC")
	require.NoError(t, err)
	c, _, ok := issuer.Next(typ, n)
	require.True(t, ok)
	return string(c)
}

var opened = []string{"badge Marit", "job 4K7", "engine Sorrel I4-20", "plan sorrel", "OPEN JOB"}

func TestNextIsTheNextThingToDo(t *testing.T) {
	bag, tag := labelOf(t, code.Bag, 0), labelOf(t, code.Case, 0)
	broken := []string{"joint exhaust", "hole 9", "BROKEN", "BELOW", tag}
	for _, row := range []struct {
		name  string
		lines []string
		want  string
	}{
		{"after a fact", []string{"joint coils", "ALL OUT"}, ""},
		{"a joint that is in", []string{"joint front-cover"}, "SCAN BAG"},
		{"a joint that is out", []string{"joint coils", "ALL OUT", "joint coils"}, "ALL IN?"},
		{"its new bag", []string{"joint front-cover", bag}, "HOW MANY M6"},
		{"the next size", []string{"joint front-cover", bag, "1", "8"}, "HOW MANY M8 LONG"},
		{"a digit that may go on", []string{"joint front-cover", bag, "DIGIT 1"}, "1"},
		{"a bag with something in it", []string{"joint coils", bag, "4", bag}, "SCAN JOINT"},
		{"a short", []string{"joint mount-bracket", "ALL OUT", "joint front-cover", bag, "1", "8", "4", "4"}, "FIND 1 M10"},
		{"a hole that is filled", []string{"joint oil-pan", "hole 3"}, "OUT?"},
		{"a hole that is empty", []string{"joint oil-pan", "hole 3", "OUT", "joint oil-pan", "hole 3"}, "IN?"},
		{"a part that is on", []string{"part oil-pan"}, "OFF?"},
		{"a part that is off", []string{"part oil-pan", "OFF", "part oil-pan"}, "ON?"},
		{"a loan that is out", []string{"loan rag"}, "IN?"},
		{"a loan that is in", []string{"loan rag", "IN", "1", "loan rag"}, "OUT?"},
		{"the face of a stub", broken[:3], "WHICH?"},
		{"the other end", broken[:4], "YES OR NO"},
		{"a case", append(broken[:5:5], "YES", tag), "TRIED?"},
		{"a case that has to stop", append(broken[:5:5], "YES", tag, "TRIED", "SOAK", "NOT MOVED", "20", tag, "TRIED", "LEFT-HAND DRILL", "NOT MOVED", "20", tag), "ASK A SECOND PERSON"},
		{"the bag after ALL IN", []string{"joint coils", bag, "4", bag, "joint coils", "ALL IN"}, "SCAN BAG"},
		{"what to correct", []string{"joint coils", "ALL OUT", "CORRECT"}, "ITS NUMBER"},
		{"why", []string{"joint coils", "ALL OUT", "CORRECT", "1"}, "WHY?"},
		{"whether it is so", []string{"joint coils", "ALL OUT", "CORRECT", "1", "DID NOT HAPPEN"}, "OK OR CANCEL"},
		{"an audit with red lines", []string{"joint coils", "ALL OUT", "AUDIT"}, "NOT YET"},
		{"a step that has to wait", []string{"step cover-off", "CAN I?"}, "SCAN JOINT PULLEY, NUMBERS"},
		{"a misread", []string{"BBCBR6K2"}, "SCAN AGAIN"},
		{"a misread within a count", []string{"joint front-cover", bag, "1", "BBCBR6K2"}, "SCAN AGAIN"},
		{"who takes it over", []string{"HAND OVER"}, "SCAN BADGE"},
	} {
		s := screenAfter(t, journal.NewMemory(), append(append([]string{}, opened...), row.lines...)...)
		got := ""
		if list := s.Next(); len(list) > 0 {
			got = list[0]
		}
		require.Equal(t, row.want, got, "%s: %v, %s", row.name, s.View().Lines, s.View().Ask)
		for _, text := range s.Next() {
			require.NotEmpty(t, text, row.name)
			require.LessOrEqual(t, len(text), len(s.Next()[0]), "%s: none is longer than the first: %v", row.name, s.Next())
		}
	}
}

func TestNextWithoutAJob(t *testing.T) {
	require.Equal(t, "SCAN BADGE", screenAfter(t, journal.NewMemory()).Next()[0])
	require.Equal(t, "SCAN JOB CARD", screenAfter(t, journal.NewMemory(), "badge Marit").Next()[0])
}

func TestNextWaitsUntilItIsKnown(t *testing.T) {
	home := journal.NewMemory()
	screenAfter(t, home, opened...)
	home.Fail(journal.LoseRequest)
	s := screenAfter(t, home, "job 4K7", "joint coils", "ALL OUT")
	require.True(t, s.Waits())
	require.Equal(t, []string{"WAIT"}, s.Next())
}

func TestTallyHasNoNumberButThePersons(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := screenAfter(t, journal.NewMemory(), append(append([]string{}, opened...), "joint front-cover", bag, "1", "STILL IN")...)
	tally, ok := s.Tally()
	require.True(t, ok)
	require.Equal(t, []string{"M6", "M8 short", "M8 long", "M10", "M12"}, tally.Sizes)
	require.Equal(t, []int{1, kiosk.LeftIn, kiosk.NotYet, kiosk.NotYet, kiosk.NotYet}, tally.Got)
	require.Equal(t, 2, tally.Turn)
	_, ok = screenAfter(t, journal.NewMemory(), append(append([]string{}, opened...), "joint front-cover")...).Tally()
	require.False(t, ok, "nothing is counted yet")
}

func TestSubjectIsWhatTheScreenIsAbout(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := screenAfter(t, journal.NewMemory(), append(append([]string{}, opened...), "joint oil-pan", "hole 3")...)
	require.Equal(t, []scan.Type{scan.Joint, scan.Hole}, []scan.Type{s.Subject()[0].Type, s.Subject()[1].Type})
	s = screenAfter(t, journal.NewMemory(), append(append([]string{}, opened...), "joint mount-bracket", "ALL OUT", "joint front-cover", bag, "1", "8", "4", "4")...)
	require.Equal(t, scan.Short, s.Subject()[0].Type, "what is asked after a fact")
	require.Equal(t, scan.Saw, s.Reads("joint oil-pan").Kind)
	require.Equal(t, scan.Misread, s.Reads("BBCBR6K2").Kind)
	require.Empty(t, s.Listed())
}
