package stage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestListRefused(t *testing.T) {
	good := List{ID: "head", Order: []string{"1", "2"}, Stages: []Stage{{Kind: Torque, Min: 40, Max: 40, Known: true}}}
	require.NoError(t, good.Check())
	for _, row := range []struct {
		change func(*List)
		why    string
	}{
		{func(l *List) { l.Order = nil }, "tightening list head: 0 positions"},
		{func(l *List) { l.Order = make([]string, 1001) }, "1001 positions"},
		{func(l *List) { l.Order = []string{"1", ""} }, "without a name"},
		{func(l *List) { l.Order = []string{"1", "2", "1"} }, "position 1 stands in it twice"},
		{func(l *List) { l.Stages = nil }, "0 stages"},
		{func(l *List) { l.Stages = make([]Stage, 251) }, "251 stages"},
		{func(l *List) { l.Stages[0].Kind = "" }, `stage 1: "" is no kind of stage`},
		{func(l *List) { l.Stages[0].Kind = "hammer" }, `"hammer" is no kind of stage`},
		{func(l *List) { l.Stages[0].Min = 50 }, "torque from 50 to 40 N.m: no range"},
		{func(l *List) { l.Stages[0].Min = -1 }, "no range"},
		{func(l *List) { l.Stages[0].Max = math.NaN() }, "no range"},
		{func(l *List) { l.Stages[0].Max = math.Inf(1) }, "no range"},
		{func(l *List) { l.Stages[0].Min, l.Stages[0].Max = 0, 0 }, "torque of 0 N.m does nothing"},
		{func(l *List) { l.Stages[0] = Stage{Kind: Angle, Min: 400, Max: 400, Known: true} }, "more than a whole turn"},
		{func(l *List) { l.Stages[0].Never = 60 }, "only a stretch has that"},
		{func(l *List) { l.Stages[0] = Stage{Kind: Stretch, Min: .1, Max: .2, Never: .15, Known: true} }, "not below its most"},
		{func(l *List) { l.Stages[0].Only = []string{"3"} }, "position 3 is not in the order"},
		{func(l *List) { l.Stages[0].Only = []string{"1", "1"} }, "only: position 1 stands in it twice"},
		{func(l *List) { l.Stages[0].After = []int{1} }, "after stage 1, which does not come before it"},
		{func(l *List) { l.Stages[0].After = []int{0} }, "after stage 0"},
		{func(l *List) { l.Neighbour = [][]string{{"1", "9"}} }, "neighbours: position 9"},
		{func(l *List) { l.Sets = [][]string{{"1"}} }, "sets of 1 positions in an order of 2"},
		{func(l *List) { l.Sets = [][]string{{"1", "2"}, {"2"}} }, "sets: position 2 stands in it twice"},
	} {
		bad := good
		bad.Stages = append([]Stage(nil), good.Stages...)
		row.change(&bad)
		require.ErrorContains(t, bad.Check(), row.why)
		_, err := New(bad)
		require.ErrorContains(t, err, row.why)
	}
}

func TestStageWords(t *testing.T) {
	for want, s := range map[string]Stage{
		"torque 40 N.m":                {Kind: Torque, Min: 40, Max: 40, Known: true},
		"torque 94.907 to 101.686 N.m": {Kind: Torque, Min: 94.9072563, Max: 101.6863, Known: true},
		"angle 90 to 94 deg":           {Kind: Angle, Min: 90, Max: 94, Known: true},
		"snug 3 turns":                 {Kind: Snug, Text: "3 turns"},
		"loosen":                       {Kind: Loosen},
		"loosen rounds of half a turn, outside in": {Kind: Loosen, Text: "rounds of half a turn, outside in"},
		"press-depth 1 to 1.5 mm":                  {Kind: PressDepth, Min: 1, Max: 1.5, Known: true},
	} {
		require.Equal(t, want, s.String())
	}
}

func TestRepeat(t *testing.T) {
	l := List{Order: []string{"1", "2"}, Stages: []Stage{
		{Kind: Torque, Min: 24, Max: 24, Known: true, Only: []string{"1"}},
		{Kind: Torque, Min: 10, Max: 10, Known: true, Only: []string{"2"}, After: []int{1}},
	}}
	require.Equal(t, l, l.Repeat(1))
	require.Equal(t, l, l.Repeat(0))
	twice := l.Repeat(2)
	require.NoError(t, twice.Check())
	require.Len(t, twice.Stages, 4)
	require.Equal(t, []int{3}, twice.Stages[3].After)
	require.Equal(t, []int{1}, l.Stages[1].After)
	require.Len(t, l.Stages, 2)
}
