package kiosk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// dated puts a sentence on the screen that asks for a day, then for a number.
func dated(r *rig, got *events.Day) {
	row := &scan.Sentence{Verb: scan.Done, Nature: scan.Tell,
		Asks: []scan.Ask{{Key: "day", Kind: scan.AskDate, Prompt: "Which day?"}, {Key: "n", Kind: scan.AskNumber, Prompt: "How many?"}},
		Build: func(s *scan.Said) (engine.Command, error) {
			*got = s.Reply("day").Day
			return nil, nil
		}}
	turn := &turn{Screen: r.screen}
	turn.at = r.now
	turn.begin(row)
	r.screen = turn.Screen
}

// 2026-11-25, a quarter past four in the afternoon.
const november = 1_795_623_300 * second

func TestADateIsTaken(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  events.Day
		shows string
	}{
		{[]string{"2026-12-14"}, "2026-12-14", "Monday 14 December 2026, in 19 days"},
		{[]string{"14.12."}, "2026-12-14", "in 19 days"},
		{[]string{"14.12"}, "2026-12-14", "in 19 days"},
		{[]string{"14 dec"}, "2026-12-14", "in 19 days"},
		{[]string{"1"}, "2026-11-26", "tomorrow"},
		{[]string{"30.2.", "soon", "19"}, "2026-12-14", "in 19 days"},
		{[]string{"24.11.", "OK"}, "2026-11-24", "yesterday"},
		{[]string{"24.11.", "25.11."}, "2026-11-25", "today"},
	} {
		r := newRig(t)
		r.now = november
		var got events.Day
		dated(r, &got)
		v := r.say(c.lines...)
		require.Contains(t, v.Lines[0], c.shows, c.lines)
		require.Equal(t, "How many?", v.Ask, c.lines)
		r.say("3")
		require.Equal(t, c.want, got, c.lines)
	}
}

func TestWhatIsNoDateIsSaid(t *testing.T) {
	r := newRig(t)
	r.now = november
	var got events.Day
	dated(r, &got)
	v := r.say("30.2.")
	require.Equal(t, []string{`"30.2." is no date`, howDates}, v.Lines)
	require.Equal(t, Stop, v.Sign)
	v = r.say("OK")
	require.Equal(t, Stop, v.Sign, "no day is there that OK could confirm")
	v = r.say("1.11.")
	require.Equal(t, "Sunday 1 November 2026, 24 days ago: that is past. OK takes it; or another date", v.Ask)
	require.Equal(t, Short, v.Sign)
	require.Equal(t, "1 NOV", v.Big)
	require.Empty(t, got)
	v = r.say("CANCEL")
	require.Contains(t, v.Lines[0], "Nothing stored")
}
