package stage

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// angleHead is four bolts with a torque and an angle, begun by ann at two of
// them.
func angleHead(t testing.TB, change func(*List)) *Matrix {
	t.Helper()
	l := List{ID: "head", Order: []string{"1", "2", "3", "4"}, Stages: []Stage{st(Torque, 40, 40), st(Angle, 90, 94)}, Pause: time.Hour}
	if change != nil {
		change(&l)
	}
	m := matrix(t, l)
	do(t, m, 1, l.Order...)
	do(t, m, 2, "1", "2")
	return m
}

func later(d time.Duration) time.Time { return morning.Add(d) }

func TestAngleStageIsFinishedByTheSameHands(t *testing.T) {
	m := angleHead(t, nil)
	a := Act{Position: "3", Stage: 2, Who: "bob", At: later(time.Minute)}
	require.ErrorContains(t, m.May(a), "angle 90 to 94 deg would be begun by ann and gone on with by bob: restart it from its first stage")
	c, ok := m.Record(a)
	require.True(t, ok)
	require.Equal(t, Doubtful, c.State)
	require.Equal(t, "angle 90 to 94 deg was begun by ann and gone on with by bob: restart it, loosening 1, 2, 3, or accept it", c.Why)
	for _, p := range []string{"1", "2"} {
		c, _ = m.Cell(p, 2)
		require.Equal(t, Doubtful, c.State)
		require.Equal(t, "ann", c.Who, "who did it stays")
	}
	// Until that is settled nobody goes on with it, ann neither.
	c, _ = m.Record(Act{Position: "4", Stage: 2, Who: "ann", At: later(2 * time.Minute)})
	require.Equal(t, Doubtful, c.State)
	require.Empty(t, m.Next())
	require.ErrorContains(t, m.May(Act{Position: "4", Stage: 2, Who: "ann"}), "doubtful")

	require.Equal(t, []string{"1", "2", "3", "4"}, m.Restart("4", 2, "bob", later(time.Hour)))
	require.Equal(t, Count{Cells: 8, Open: 8}, m.Count())
	require.Equal(t, 1, m.Next()[0].Stage)
	playThrough(t, m)
}

func TestRestartLeavesWhatWasNotTurned(t *testing.T) {
	m := angleHead(t, nil)
	require.Equal(t, []string{"1", "2"}, m.Restart("3", 2, "bob", later(2*time.Hour)))
	require.Equal(t, Count{Cells: 8, Open: 6, Done: 2}, m.Count())
	require.ErrorContains(t, m.May(Act{Position: "3", Stage: 2, Who: "bob"}), "torque 40 N.m, which is not done at 1, 2")
	do(t, m, 1, "1", "2")
	playThrough(t, m)
	require.Empty(t, m.Restart("3", 7, "bob", morning), "a stage that the list does not have")
	require.True(t, m.History()[len(m.History())-1].Stray)
}

func TestAngleStageAfterAPause(t *testing.T) {
	for _, row := range []struct {
		after   time.Duration
		pause   time.Duration
		doubt   bool
		because string
	}{
		{time.Hour, time.Hour, false, ""},
		{time.Hour + time.Second, time.Hour, true, "gone on with after 1 h 0 min"},
		{26 * time.Hour, 45 * time.Minute, true, "gone on with after 26 h 0 min"},
		{50 * time.Minute, 45 * time.Minute, true, "gone on with after 50 min"},
		{26 * time.Hour, 0, false, ""},
	} {
		m := angleHead(t, func(l *List) { l.Pause = row.pause })
		c, _ := m.Record(Act{Position: "3", Stage: 2, Who: "ann", At: later(row.after)})
		require.Equal(t, row.doubt, c.State == Doubtful)
		require.Contains(t, c.Why, row.because)
	}
	// A time that is not known breaks nothing off, and neither do unknown hands.
	m := angleHead(t, nil)
	c, _ := m.Record(Act{Position: "3", Stage: 2})
	require.Equal(t, Done, c.State)
	// Where the shop allows it, other hands may finish.
	m = angleHead(t, func(l *List) { l.AnyHands = true })
	c, _ = m.Record(Act{Position: "3", Stage: 2, Who: "bob", At: later(time.Minute)})
	require.Equal(t, Done, c.State)
	// Torque stages may be finished by others, and a finished angle stage is not
	// broken off by what comes after it.
	m = matrix(t, List{ID: "pan", Order: []string{"1", "2"}, Stages: []Stage{st(Torque, 10, 10), st(Angle, 90, 90), st(Angle, 90, 90)}, Pause: time.Hour})
	do(t, m, 1, "1")
	c, _ = m.Record(Act{Position: "2", Stage: 1, Who: "bob", At: later(9 * time.Hour)})
	require.Equal(t, Done, c.State)
	do(t, m, 2, "1", "2")
	c, _ = m.Record(Act{Position: "1", Stage: 3, Who: "bob", At: later(9 * time.Hour)})
	require.Equal(t, Done, c.State)
}

func TestAcceptAnswersForIt(t *testing.T) {
	m := angleHead(t, nil)
	m.Record(Act{Position: "3", Stage: 2, Who: "bob", At: later(time.Minute)})
	require.Equal(t, []string{"1", "2", "3"}, m.Accept("1", 2, "cyd", later(time.Hour)))
	c, _ := m.Cell("2", 2)
	require.Equal(t, Done, c.State)
	require.Equal(t, "cyd", c.Accepted)
	require.Equal(t, "ann", c.Who)
	require.NotEmpty(t, c.Why, "what was accepted can still be read")
	// Bob did the last one, so bob finishes it.
	require.ErrorContains(t, m.May(Act{Position: "4", Stage: 2, Who: "ann", At: later(2 * time.Minute)}), "begun by bob")
	c, _ = m.Record(Act{Position: "4", Stage: 2, Who: "bob", At: later(2 * time.Minute)})
	require.Equal(t, Done, c.State)
	require.True(t, m.Finished())
	require.Empty(t, m.Accept("1", 2, "cyd", later(time.Hour)), "nothing is left to accept")
	require.Nil(t, m.Accept("9", 2, "cyd", later(time.Hour)))
}

// The hands that count are the last ones, wherever in the order they were.
func TestTheLastHandsCount(t *testing.T) {
	m := angleHead(t, func(l *List) { l.Order = []string{"4", "3", "2", "1"} })
	c, _ := m.Record(Act{Position: "4", Stage: 2, Who: "bob", At: morning})
	require.Contains(t, c.Why, "begun by ann and gone on with by bob")
	m.Accept("4", 2, "cyd", morning)
	c, _ = m.Record(Act{Position: "3", Stage: 2, Who: "ann", At: morning})
	require.Contains(t, c.Why, "begun by bob and gone on with by ann")
}

// What was doubtful for another reason keeps that reason when the stage is
// broken off, and an over stays over though it was out of order.
func TestTheFirstReasonStays(t *testing.T) {
	m := matrix(t, List{ID: "rod", Order: []string{"1", "2"}, Stages: []Stage{st(Torque, 20, 20), needs(st(Angle, 90, 94), "marked")}})
	do(t, m, 1, "1", "2")
	m.Record(Act{Position: "1", Stage: 2, Who: "ann"})
	m.Mark("marked", true, "ann", morning)
	m.Record(Act{Position: "2", Stage: 2, Who: "bob"})
	c, _ := m.Cell("1", 2)
	require.Contains(t, c.Why, "wants this first: marked")
	c, _ = m.Cell("2", 2)
	require.Contains(t, c.Why, "begun by ann and gone on with by bob")

	m = matrix(t, List{ID: "rod", Order: []string{"1", "2"}, Stages: []Stage{st(Torque, 20, 20), st(Torque, 40, 40)}})
	c, _ = m.Record(Act{Position: "1", Stage: 2, Value: 55, Read: true})
	require.Equal(t, Over, c.State)
	require.Contains(t, c.Why, "too tight")
}

func TestSetsAreBrokenOffByThemselves(t *testing.T) {
	l := List{ID: "rods", Order: []string{"1a", "1b", "2a", "2b"}, Sets: [][]string{{"1a", "1b"}, {"2a", "2b"}}, Stages: []Stage{st(Torque, 20, 20), st(Angle, 90, 94)}}
	m := matrix(t, l)
	do(t, m, 1, "1a", "1b")
	do(t, m, 2, "1a", "1b")
	for _, p := range []string{"2a", "2b"} {
		for stage := 1; stage <= 2; stage++ {
			require.NotContains(t, names(l.Order[:2]), p)
			c, _ := m.Record(Act{Position: p, Stage: stage, Who: "bob", At: later(time.Hour)})
			require.Equal(t, p == "2a" && stage == 2, c.State == Doubtful, "%s stage %d: %s", p, stage, c.Why)
		}
	}
	c, _ := m.Cell("1a", 2)
	require.Equal(t, Done, c.State)
}

func TestAnglesAddUp(t *testing.T) {
	m := angleHead(t, nil)
	turn := func(deg float64) Cell {
		c, _ := m.Record(Act{Position: "3", Stage: 2, Value: deg, Read: true, Who: "ann", At: later(time.Minute)})
		return c
	}
	require.Equal(t, Part, turn(30).State)
	require.Equal(t, Part, turn(30).State)
	c := turn(31)
	require.Equal(t, Done, c.State)
	require.InDelta(t, 91, c.Value, 1e-9)
	c = turn(2)
	require.Equal(t, Doubtful, c.State, "still inside, and told after it was done")
	require.Contains(t, c.Why, "told a second time: it may have been turned twice")
	c = turn(30)
	require.Equal(t, Over, c.State)
	require.Contains(t, c.Why, "123 of angle 90 to 94 deg: turned too far: take it out and begin again, with a new one if it is good for one use")
	require.Equal(t, Over, turn(0).State)
	require.Empty(t, m.Accept("3", 2, "cyd", morning), "an over is not accepted")
	require.Nil(t, m.Out("3", "ann", morning))
	require.Len(t, m.Owed(), 3)

	// Told twice without a reading.
	c, _ = m.Record(Act{Position: "1", Stage: 2, Who: "ann", At: later(time.Minute)})
	require.Equal(t, Doubtful, c.State)
	// A torque may be told as often as one likes.
	c, _ = m.Record(Act{Position: "1", Stage: 1, Who: "ann", At: later(time.Minute)})
	require.Equal(t, Done, c.State)
}

func TestValuesThatNobodyReads(t *testing.T) {
	for _, row := range []struct {
		stage int
		value float64
		doubt bool
	}{{2, 360, false}, {2, 361, true}, {2, 900, true}, {2, -90, true}, {2, math.NaN(), true}, {2, math.Inf(1), true}, {1, -40, true}, {1, math.NaN(), true}, {1, 361, false}} {
		m := angleHead(t, nil)
		p := "3"
		c, _ := m.Record(Act{Position: p, Stage: row.stage, Value: row.value, Read: true, Who: "ann"})
		require.Equal(t, row.doubt, c.State == Doubtful, "%v: %s", row.value, c.Why)
		if row.doubt {
			require.Contains(t, c.Why, "cannot be read off: read it again")
			require.False(t, math.IsNaN(c.Value))
		} else {
			require.Equal(t, Over, c.State)
		}
	}
}

// The kinds without order trouble: press depth, and a loosening by half turns.
func TestPressAndLoosen(t *testing.T) {
	m := matrix(t, List{ID: "plugs", Order: []string{"1", "2"}, Stages: []Stage{st(PressDepth, 1, 1.5)}})
	press := func(p string, mm float64) Cell {
		c, _ := m.Record(Act{Position: p, Stage: 1, Value: mm, Read: true})
		return c
	}
	require.Contains(t, press("1", .8).Why, "not deep enough: press it further")
	require.Equal(t, Done, press("1", 1.2).State)
	require.Contains(t, press("2", 1.6).Why, "too deep: out, and again")

	m = matrix(t, List{ID: "up", Order: []string{"2", "1"}, Stages: []Stage{{Kind: Loosen, Text: "quarter turn"}, {Kind: Loosen, Text: "out"}}})
	require.Equal(t, "quarter turn", m.Next()[0].Do.Text)
	m.Loosened("2", "ann", morning)
	m.Loosened("1", "ann", morning)
	m.Loosened("2", "ann", morning)
	require.Len(t, m.Owed(), 1)
	m = matrix(t, List{ID: "rod", Order: []string{"1"}, Stages: []Stage{st(Loosen, 0, 0)}})
	c, _ := m.Record(Act{Position: "1", Stage: 1, Value: 12, Read: true})
	require.Equal(t, Part, c.State)
	require.Contains(t, c.Why, "not loose yet")
}

func TestDueLater(t *testing.T) {
	cold := st(Torque, 14, 14)
	cold.Due = "cold after the first heat"
	m := matrix(t, List{ID: "exhaust-nuts", Order: []string{"1", "2"}, Stages: []Stage{st(Torque, 14, 14), cold}})
	require.Equal(t, 2, m.Count().Later)
	do(t, m, 1, "1", "2")
	require.True(t, m.Finished(), "what falls due later is not owed yet")
	require.Equal(t, []Turn{
		{Position: "1", Stage: 2, Do: cold, Why: "due cold after the first heat"},
		{Position: "2", Stage: 2, Do: cold, Why: "due cold after the first heat"},
	}, m.Later())
	require.ErrorContains(t, m.May(Act{Position: "1", Stage: 2}), "is due cold after the first heat, and that has not been")
	c, _ := m.Record(Act{Position: "1", Stage: 2, Who: "ann"})
	require.Equal(t, Doubtful, c.State, "done warm it does not count")
	require.True(t, m.Finished())

	m.FallDue("cold after the first heat", "ann", later(24*time.Hour))
	require.False(t, m.Finished())
	require.Empty(t, m.Later())
	require.Equal(t, []string{"1: torque 14 N.m; torque 14 N.m is due cold after the first heat, and that has not been: do it again then", "2: torque 14 N.m"},
		[]string{m.Owed()[0].String(), m.Owed()[1].String()})
	do(t, m, 2, "1", "2")
	require.True(t, m.Finished())
}

// One order over two groups: the outer ones when the inner ones are finished.
func TestGroupsInOneOrder(t *testing.T) {
	outer := only(st(Torque, 24, 24), "o1", "o2")
	outer.After = []int{1, 2}
	m := matrix(t, List{ID: "bedplate", Order: []string{"i1", "i2", "o1", "o2"},
		Stages: []Stage{only(st(Torque, 20, 20), "i1", "i2"), only(st(Angle, 70, 70), "i1", "i2"), outer}})
	c, _ := m.Record(Act{Position: "o1", Stage: 3, Who: "ann"})
	require.Equal(t, Doubtful, c.State)
	require.Contains(t, c.Why, "torque 24 N.m comes after torque 20 N.m, which is not done at i1, i2")
	do(t, m, 1, "i1", "i2")
	do(t, m, 2, "i1", "i2")
	do(t, m, 3, "o1")
	require.Equal(t, "o2", m.Next()[0].Position)
}

func TestEarlyInTheOrderIsNoted(t *testing.T) {
	m := matrix(t, List{ID: "pan", Order: []string{"3", "1", "2"}, Stages: []Stage{st(Torque, 10, 10)}})
	for p, early := range map[string]bool{"2": true, "1": true, "3": false} {
		c, _ := m.Clone().Record(Act{Position: p, Stage: 1})
		require.Equal(t, early, c.Early, p)
		require.Equal(t, Done, c.State)
	}
}

func TestStraysAreKept(t *testing.T) {
	m := angleHead(t, nil)
	before := m.Cells()
	for _, a := range []Act{{Position: "9", Stage: 1}, {Position: "1", Stage: 0}, {Position: "1", Stage: 3}, {Position: "1", Stage: -1}, {}} {
		_, ok := m.Record(a)
		require.False(t, ok)
		h := m.History()
		require.True(t, h[len(h)-1].Stray)
	}
	m.Loosened("9", "ann", morning)
	m.Out("", "ann", morning)
	require.Equal(t, before, m.Cells())
	require.Len(t, m.History(), 6+5+2)
}

func TestMayRefusesWhatIsDone(t *testing.T) {
	m := angleHead(t, nil)
	err := m.May(Act{Position: "1", Stage: 2, Who: "ann"})
	var refusal *Refusal
	require.ErrorAs(t, err, &refusal)
	require.Equal(t, "1", refusal.Position)
	require.Equal(t, "angle 90 to 94 deg at 1 is done: go on with the next", refusal.Text)
}
