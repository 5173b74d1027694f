package stage

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/projections/fastener/torque"
)

// The stage plans of public manuals, as lists, and played.

func lbft(low, high float64) (float64, float64) {
	return low * torque.PoundFoot.Nm(), high * torque.PoundFoot.Nm()
}

func lbin(low, high float64) (float64, float64) {
	return low * torque.PoundInch.Nm(), high * torque.PoundInch.Nm()
}

// st is a stage with a known range.
func st(k Kind, low, high float64) Stage { return Stage{Kind: k, Min: low, Max: high, Known: true} }

func ft(k Kind, low, high float64) Stage {
	low, high = lbft(low, high)
	return st(k, low, high)
}

func only(s Stage, positions ...string) Stage {
	s.Only = positions
	return s
}

func needs(s Stage, marks ...string) Stage {
	s.Needs = marks
	return s
}

const mmPerInch = 25.4

func matrix(t testing.TB, l List) *Matrix {
	t.Helper()
	m, err := New(l)
	require.NoError(t, err)
	return m
}

var morning = time.Date(2031, 3, 4, 8, 0, 0, 0, time.UTC)

// do records acts that must be good: positions of one stage by one person.
func do(t testing.TB, m *Matrix, stage int, positions ...string) {
	t.Helper()
	for _, p := range positions {
		a := Act{Position: p, Stage: stage, Who: "ann", Tool: "w1", At: morning}
		require.NoError(t, m.May(a))
		c, ok := m.Record(a)
		require.True(t, ok)
		require.Equal(t, Done, c.State, c.Why)
		require.Equal(t, "ann", c.Who)
	}
}

// playThrough does whatever is next until nothing is.
func playThrough(t testing.TB, m *Matrix) (turns []Turn) {
	t.Helper()
	for next := m.Next(); len(next) > 0; next = m.Next() {
		do(t, m, next[0].Stage, next[0].Position)
		turns = append(turns, next[0])
	}
	require.True(t, m.Finished(), "%v", m.Owed())
	return turns
}

// TM 10-3930-669-20 table E-1, cylinder head: 40 N.m (29.5 lb-ft), then +45,
// +45, +45 and +30 degrees, 165 in all; oil on threads and under heads.
func TestHeadTorqueAndAngles(t *testing.T) {
	l := List{ID: "head", Order: []string{"1", "2", "3", "4", "5", "6", "7", "8"},
		Stages: []Stage{st(Torque, 40, 40), st(Angle, 45, 45), st(Angle, 45, 45), st(Angle, 45, 45), st(Angle, 30, 30)}}
	least, most := l.Angle("3")
	require.Equal(t, 165.0, least)
	require.Equal(t, 165.0, most)
	m := matrix(t, l)
	require.Equal(t, Count{Cells: 40, Open: 40}, m.Count())
	turns := playThrough(t, m)
	require.Len(t, turns, 40)
	for i, turn := range turns {
		require.Equal(t, i/8+1, turn.Stage, "the whole ring before the next stage")
		require.Equal(t, l.Order[i%8], turn.Position)
	}
	require.Equal(t, Count{Cells: 40, Done: 40}, m.Count())
	require.Len(t, m.History(), 40)
}

// TM 5-3810-307-24-2-2, cylinder head: all 90 N.m; recheck 90; long ones only
// 120; long ones only recheck 120; all +90 degrees.
func TestHeadLongOnly(t *testing.T) {
	long := []string{"1", "2", "5", "6"}
	l := List{ID: "head", Order: []string{"1", "2", "3", "4", "5", "6"}, Stages: []Stage{
		st(Torque, 90, 90), st(Again, 90, 90), only(st(Torque, 120, 120), long...), only(st(Again, 120, 120), long...), st(Angle, 90, 90)}}
	m := matrix(t, l)
	require.Equal(t, 26, m.Count().Cells)
	_, ok := m.Cell("3", 3)
	require.False(t, ok, "short ones have no cell at 120")
	do(t, m, 1, l.Order...)
	require.ErrorContains(t, m.May(Act{Position: "1", Stage: 3}), "torque 120 N.m comes after again 90 N.m, which is not done at 1, 2, 3, 4, 5, 6")
	do(t, m, 2, l.Order...)
	do(t, m, 3, long...)
	require.ErrorContains(t, m.May(Act{Position: "3", Stage: 5}), "angle 90 deg comes after again 120 N.m, which is not done at 1, 2, 5, 6")
	require.ErrorContains(t, m.May(Act{Position: "3", Stage: 3}), "the list head has none")
	playThrough(t, m)
}

// TM 5-2815-241-34&P p. 2-64 and 2-224, connecting rod nuts: 70-75, 140-150,
// loosen to 0, 25-30, 70-75, 140-150 ft-lb.
func TestRodNutsLoosenAndAgain(t *testing.T) {
	l := List{ID: "rod 1", Order: []string{"1", "2"}, Stages: []Stage{
		ft(Torque, 70, 75), ft(Torque, 140, 150), st(Loosen, 0, 0), ft(Torque, 25, 30), ft(Torque, 70, 75), ft(Torque, 140, 150)}}
	m := matrix(t, l)
	do(t, m, 1, "1", "2")
	c, _ := m.Record(Act{Position: "1", Stage: 2, Value: 130 * torque.PoundFoot.Nm(), Read: true, Who: "ann"})
	require.Equal(t, Part, c.State)
	require.Contains(t, c.Why, "not there yet")
	do(t, m, 2, "1", "2")
	require.Empty(t, m.Loosened("1", "ann", morning), "the loosening that the list has takes nothing")
	c, _ = m.Cell("1", 3)
	require.Equal(t, Done, c.State)
	c, _ = m.Cell("1", 1)
	require.Equal(t, Done, c.State)
	do(t, m, 3, "2")
	do(t, m, 4, "1", "2")
	require.Empty(t, m.Loosened("2", "ann", morning), "it has no neighbours in the list")
	c, _ = m.Cell("2", 1)
	require.Equal(t, Open, c.State, "any other loosening takes all")
	require.Equal(t, "loosened", c.Why)
	require.Equal(t, 1, c.Emptied)
	playThrough(t, m)
}

// TM 5-3810-232-34 p. 3-66, main caps: 150-160, 340-350, loosen to 0, 85-90,
// 170-180 ft-lb, then +60 degrees in steps of 30 against a scribe mark,
// alternately per cap.
func TestMainCapsPerCap(t *testing.T) {
	l := List{ID: "mains", Order: []string{"1L", "1R", "2L", "2R"}, Sets: [][]string{{"1L", "1R"}, {"2L", "2R"}},
		Stages: []Stage{ft(Torque, 150, 160), ft(Torque, 340, 350), st(Loosen, 0, 0), ft(Torque, 85, 90), ft(Torque, 170, 180),
			needs(st(Angle, 30, 30), "scribe marks"), needs(st(Angle, 30, 30), "scribe marks")}}
	m := matrix(t, l)
	for stage := 1; stage <= 5; stage++ {
		do(t, m, stage, "1L", "1R") // cap 1 by itself
	}
	require.ErrorContains(t, m.May(Act{Position: "1L", Stage: 6}), "wants this first: scribe marks")
	m.Mark("scribe marks", true, "ann", morning)
	do(t, m, 6, "1L", "1R")
	do(t, m, 7, "1L", "1R")
	require.Len(t, m.Owed(), 14)
	playThrough(t, m)
	least, _ := l.Angle("2R")
	require.Equal(t, 60.0, least)
}

// TM 9-2815-237-34 p. 2-156, main caps: 12 lb-ft, 40 after the crankshaft was
// tapped to the rear and to the front, long 110 and short 100; then it has to
// turn freely.
func TestMainCapsAfterTapping(t *testing.T) {
	l := List{ID: "mains", Order: []string{"1", "2", "3", "4", "5", "6", "7", "8"}, Stages: []Stage{
		ft(Torque, 12, 12), needs(ft(Torque, 40, 40), "crank tapped rear, then front"),
		only(ft(Torque, 110, 110), "1", "2", "3", "4"), only(ft(Torque, 100, 100), "5", "6", "7", "8")}}
	m := matrix(t, l)
	do(t, m, 1, l.Order...)
	require.Empty(t, m.Next())
	c, _ := m.Record(Act{Position: "1", Stage: 2, Who: "ann"})
	require.Equal(t, Doubtful, c.State)
	require.Contains(t, c.Why, "crank tapped rear, then front; do that and the stage again, or accept it")
	m.Mark("crank tapped rear, then front", true, "ann", morning)
	require.Len(t, m.Next(), 7, "a doubtful one is not offered as if it were open")
	do(t, m, 2, "1") // the stage again
	do(t, m, 2, l.Order[1:]...)
	do(t, m, 4, "5", "6", "7", "8") // short ones do not wait for long ones
	playThrough(t, m)
	m.Mark("crank tapped rear, then front", false, "ann", morning)
	require.True(t, m.Finished(), "a mark that falls later takes no cell")
}

// TM 9-2320-366-34-4 p. 20-49, rod nuts: 35-45 lb-ft, mark, 1/6 turn more.
func TestRodNutsSixthOfATurn(t *testing.T) {
	m := matrix(t, List{ID: "rod 1", Order: []string{"1", "2"}, Stages: []Stage{ft(Torque, 35, 45), needs(st(Angle, 60, 60), "marked")}})
	do(t, m, 1, "1", "2")
	m.Mark("marked", true, "ann", morning)
	playThrough(t, m)
}

// TM 5-3810-306-34 p. 4-40, rods: 30, 60, 88 ft-lb alternately.
func TestRodsAlternately(t *testing.T) {
	m := matrix(t, List{ID: "rod 1", Order: []string{"1", "2"}, Stages: []Stage{ft(Torque, 30, 30), ft(Torque, 60, 60), ft(Torque, 88, 88)}})
	var order []string
	for _, turn := range playThrough(t, m) {
		order = append(order, turn.Position)
	}
	require.Equal(t, []string{"1", "2", "1", "2", "1", "2"}, order)
}

// TM 5-3805-254-14&P-2, cylinder head: 25 ft-lb in sequence, then in increments
// of 80 to 100 up to 280-300.
func TestHeadInIncrements(t *testing.T) {
	l := List{ID: "head", Order: []string{"9", "10", "5", "6"}, Stages: []Stage{ft(Torque, 25, 25), ft(Torque, 105, 125), ft(Torque, 185, 225), ft(Torque, 280, 300)}}
	m := matrix(t, l)
	do(t, m, 1, l.Order...)
	c, _ := m.Record(Act{Position: "9", Stage: 2, Value: 90 * torque.PoundFoot.Nm(), Read: true})
	require.Equal(t, Part, c.State)
	c, _ = m.Record(Act{Position: "9", Stage: 2, Value: 140 * torque.PoundFoot.Nm(), Read: true})
	require.Equal(t, Over, c.State)
	require.Contains(t, c.Why, "too tight")
	require.Empty(t, m.Loosened("9", "ann", morning))
	turns := playThrough(t, m)
	require.Equal(t, "9", turns[0].Position)
	require.Equal(t, 1, turns[0].Stage)
}

// TM 55-1905-223-24-1, rod bolts by stretch 0.0135-0.0185 in: over it, replace
// the bolt; under it, loosen both and try again; still under, replace rod and
// bolt.
func TestRodBoltsByStretch(t *testing.T) {
	l := List{ID: "rod 1", Order: []string{"1", "2"}, Neighbour: [][]string{{"1", "2"}},
		Stages: []Stage{ft(Snug, 60, 60), st(Stretch, .0135*mmPerInch, .0185*mmPerInch)}}
	stretch := func(m *Matrix, p string, inches float64) Cell {
		c, ok := m.Record(Act{Position: p, Stage: 2, Value: inches * mmPerInch, Read: true, Who: "ann"})
		require.True(t, ok)
		return c
	}
	m := matrix(t, l)
	do(t, m, 1, "1", "2")
	require.Equal(t, Done, stretch(m, "1", .0135).State)
	c := stretch(m, "2", .0120)
	require.Equal(t, Part, c.State)
	require.Equal(t, "0.305 of stretch 0.343 to 0.47 mm: too little: loosen it with its neighbours, and do it again", c.Why)
	require.Equal(t, []string{"1"}, m.Loosened("2", "ann", morning), "both come loose")
	c, _ = m.Cell("1", 2)
	require.Equal(t, Open, c.State)
	require.Equal(t, "2 was loosened: not without this one", c.Why)
	do(t, m, 1, "1", "2")
	c = stretch(m, "2", .0125)
	require.Contains(t, c.Why, "too little a second time: replace it, and look at what it is threaded into")
	c = stretch(m, "1", .0186)
	require.Equal(t, Over, c.State)
	require.Contains(t, c.Why, "stretched too far: replace it")
	require.Equal(t, Over, stretch(m, "1", .0150).State, "only loosening takes back what was stretched")
	c, _ = m.Record(Act{Position: "2", Stage: 2, Who: "ann"})
	require.Contains(t, c.Why, "told without a reading")
}

// TM 9-2815-220-24 WP 0174, crankcase stud nuts: 500 in-lb all, then 700-825
// and a stretch of 0.019-0.022 in, never above 0.024; a single nut is not
// tightened again without the adjacent one, in sequence.
func TestStudNutsWithNeighbours(t *testing.T) {
	low, high := lbin(500, 500)
	more, most := lbin(700, 825)
	s := st(Stretch, .019*mmPerInch, .022*mmPerInch)
	s.Never = .024 * mmPerInch
	l := List{ID: "crankcase", Order: []string{"1", "2", "3", "4"}, Neighbour: [][]string{{"1", "2"}, {"2", "3"}, {"3", "4"}},
		Stages: []Stage{st(Torque, low, high), st(Torque, more, most), s}}
	m := matrix(t, l)
	do(t, m, 1, l.Order...)
	do(t, m, 2, l.Order...)
	read := func(p string, inches float64) Cell {
		c, _ := m.Record(Act{Position: p, Stage: 3, Value: inches * mmPerInch, Read: true, Who: "ann"})
		return c
	}
	require.Equal(t, Done, read("1", .019).State)
	require.Equal(t, Done, read("4", .022).State)
	c := read("2", .023)
	require.Equal(t, Over, c.State)
	require.Contains(t, c.Why, "not yet spent: loosen it")
	require.Contains(t, read("3", .0241).Why, "replace it")
	require.Equal(t, []string{"1", "3"}, m.Loosened("2", "ann", morning))
	require.Equal(t, []string{"2", "4"}, m.Out("3", "ann", morning))
	require.Equal(t, Count{Cells: 12, Open: 12}, m.Count())
	require.Equal(t, l.Order[0], m.Next()[0].Position, "in sequence again")
}
