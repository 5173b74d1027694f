package stage

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var drawnMarks = []string{"crank at one", "marked"}

const drawnDue = "cold after the first heat"

func drawList(t *rapid.T) List {
	l := List{ID: "drawn", AnyHands: rapid.Bool().Draw(t, "any hands"), Pause: time.Duration(rapid.IntRange(0, 2).Draw(t, "pause")) * time.Hour}
	for i := range rapid.IntRange(1, 6).Draw(t, "positions") {
		l.Order = append(l.Order, fmt.Sprint(i+1))
	}
	l.Order = rapid.Permutation(l.Order).Draw(t, "order")
	for i := range rapid.IntRange(1, 5).Draw(t, "stages") {
		s := Stage{Kind: rapid.SampledFrom([]Kind{Snug, Torque, Angle, Loosen, Stretch, PressDepth, Height, Again}).Draw(t, "kind"), Min: 10, Max: 20, Known: rapid.Bool().Draw(t, "known")}
		if s.Kind.Measured() && rapid.Bool().Draw(t, "a band") {
			s.Band = 2
		}
		if rapid.IntRange(0, 3).Draw(t, "only some") == 0 {
			s.Only = l.Order[:rapid.IntRange(1, len(l.Order)).Draw(t, "only")]
		}
		if rapid.IntRange(0, 5).Draw(t, "needs a mark") == 0 {
			s.Needs = []string{rapid.SampledFrom(drawnMarks).Draw(t, "mark")}
		}
		if rapid.IntRange(0, 5).Draw(t, "due later") == 0 {
			s.Due = drawnDue
		}
		if i > 0 && rapid.IntRange(0, 3).Draw(t, "named before") == 0 {
			s.After = []int{rapid.IntRange(1, i).Draw(t, "after")}
		}
		l.Stages = append(l.Stages, s)
	}
	if cut := rapid.IntRange(0, len(l.Order)).Draw(t, "cut"); cut > 0 && cut < len(l.Order) {
		l.Sets = [][]string{l.Order[:cut], l.Order[cut:]}
	}
	if len(l.Order) > 2 && rapid.Bool().Draw(t, "neighbours") {
		l.Neighbour = [][]string{l.Order[:2], l.Order[1:3]}
	}
	return l
}

// tell draws one fact and tells it to the matrix.
func tell(t *rapid.T, m *Matrix, at time.Time) {
	order := append(slices.Clone(m.list.Order), "no such")
	p := rapid.SampledFrom(order).Draw(t, "position")
	k := rapid.IntRange(0, len(m.list.Stages)+1).Draw(t, "stage")
	who := rapid.SampledFrom([]string{"ann", "bob", ""}).Draw(t, "who")
	switch rapid.IntRange(0, 11).Draw(t, "fact") {
	case 0:
		m.Loosened(p, who, at)
	case 1:
		m.Out(p, who, at)
	case 2:
		m.Restart(p, k, who, at)
	case 3:
		m.Accept(p, k, who, at)
	case 4:
		m.Mark(rapid.SampledFrom(drawnMarks).Draw(t, "mark"), rapid.Bool().Draw(t, "stands"), who, at)
	case 5:
		m.FallDue(drawnDue, who, at)
	default:
		if next := m.Next(); len(next) > 0 && rapid.Bool().Draw(t, "what is next") {
			p, k = next[0].Position, next[0].Stage
		}
		m.Record(Act{Position: p, Stage: k, Who: who, At: at, Tool: "w1",
			Read: rapid.Bool().Draw(t, "read"), Value: float64(rapid.IntRange(-1, 30).Draw(t, "value"))})
	}
}

// audit only counts: every cell is there once, where it belongs; every fact is
// in the history; a done cell was told after it was last emptied, and a cell
// that nobody told is open.
func audit(t require.TestingT, m *Matrix, facts int) {
	l := m.List()
	want := 0
	for _, s := range l.Stages {
		want += len(l.Order)
		if len(s.Only) > 0 {
			want += len(s.Only) - len(l.Order)
		}
	}
	n := m.Count()
	require.Equal(t, want, n.Cells)
	require.Equal(t, n.Cells, n.Open+n.Part+n.Done+n.Doubtful+n.Over)
	require.Len(t, m.History(), facts)
	seen := map[[2]string]bool{}
	for _, c := range m.Cells() {
		key := [2]string{c.Position, fmt.Sprint(c.Stage)}
		require.False(t, seen[key])
		seen[key] = true
		told := lastTold(m, c.Position, c.Stage)
		require.Equal(t, c.State != Open, told != nil, "%+v", c)
		if told != nil {
			require.Equal(t, told.Who, c.Who)
			require.Equal(t, told.At, c.At)
		}
		if c.State == Part || c.State == Doubtful || c.State == Over {
			require.NotEmpty(t, c.Why, "%+v", c)
		}
	}
	require.Len(t, seen, want)
	owed, later := m.Owed(), m.Later()
	done := 0
	for _, c := range m.Cells() {
		if c.State == Done {
			done++
		}
	}
	require.Equal(t, want, len(owed)+len(later)+done)
	require.Equal(t, m.Finished(), len(owed) == 0)
}

// lastTold is the last fact that told a cell after everything that emptied it,
// found by walking the history.
func lastTold(m *Matrix, p string, k int) *Entry {
	l := m.List()
	var told *Entry
	replay := matrixOf(l)
	for _, e := range m.History() {
		if e.What == "stage" && e.Position == p && e.Stage == k {
			told = &e
		}
		// What a restart loosens hangs on what was turned, so it is asked for.
		for _, q := range replayOne(replay, e) {
			if q == p {
				told = nil
			}
		}
	}
	return told
}

func matrixOf(l List) *Matrix {
	m, err := New(l)
	if err != nil {
		panic(err)
	}
	return m
}

// replayOne tells an entry again and gives the positions that it emptied.
func replayOne(m *Matrix, e Entry) []string {
	switch e.What {
	case "stage":
		m.Record(Act{Position: e.Position, Stage: e.Stage, Value: e.Value, Read: e.Read, Who: e.Who, Tool: e.Tool, At: e.At})
	case "loosened":
		return append(m.lose("loosened", e.Position, e.Who, e.At), e.Position)
	case "out":
		return append(m.Out(e.Position, e.Who, e.At), e.Position)
	case "restarted":
		return m.Restart(e.Position, e.Stage, e.Who, e.At)
	case "accepted":
		m.Accept(e.Position, e.Stage, e.Who, e.At)
	case "mark", "unmark":
		m.Mark(e.Name, e.What == "mark", e.Who, e.At)
	case "due":
		m.FallDue(e.Name, e.Who, e.At)
	default:
		panic(e.What)
	}
	return nil
}

// Whatever is told in whatever order, no cell is lost, the counts add up, the
// history gives the same matrix again, a clone is left alone, and whoever then
// does what he is told comes to the end.
func TestMatrixNeverLosesACell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawList(t)
		m, err := New(l)
		require.NoError(t, err)
		at, facts := morning, rapid.IntRange(0, 25).Draw(t, "facts")
		for range facts {
			at = at.Add(time.Duration(rapid.IntRange(0, 90).Draw(t, "minutes")) * time.Minute)
			tell(t, m, at)
		}
		audit(t, m, facts)

		replay := matrixOf(l)
		for _, e := range m.History() {
			replayOne(replay, e)
		}
		require.Equal(t, m, replay)

		clone := m.Clone()
		require.Equal(t, m, clone)
		tell(t, clone, at)
		require.Equal(t, replay, m)

		finish(t, m, at)
	})
}

// finish does what the matrix says until nothing is owed.
func finish(t require.TestingT, m *Matrix, at time.Time) {
	for _, mark := range drawnMarks {
		m.Mark(mark, true, "ann", at)
	}
	m.FallDue(drawnDue, "ann", at)
	for range 500 {
		owed := m.Owed()
		if len(owed) == 0 {
			return
		}
		if next := m.Next(); len(next) > 0 {
			n := next[0]
			value := 15.0
			c, _ := m.Cell(n.Position, n.Stage)
			if n.Do.Kind == Angle {
				value -= c.Value
			}
			m.Record(Act{Position: n.Position, Stage: n.Stage, Value: value, Read: n.Do.Known || n.Do.Kind.Measured(), Who: c.Who, At: c.At})
			continue
		}
		i := slices.IndexFunc(owed, func(o Turn) bool { return o.State == Doubtful || o.State == Over })
		require.GreaterOrEqual(t, i, 0, "nothing to do next and nothing to settle: %v", owed)
		switch o := owed[i]; o.State {
		case Doubtful:
			m.Accept(o.Position, o.Stage, "cyd", at)
		default:
			m.Out(o.Position, "cyd", at)
		}
	}
	require.Fail(t, "it does not come to an end", "%v", m.Owed())
}

// An act that May allows is never doubtful and breaks nothing off.
func TestMayIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := matrixOf(drawList(t))
		at := morning
		for range rapid.IntRange(0, 15).Draw(t, "facts") {
			at = at.Add(30 * time.Minute)
			tell(t, m, at)
		}
		doubtful := m.Count().Doubtful
		for _, o := range m.Owed() {
			a := Act{Position: o.Position, Stage: o.Stage, Value: 15, Read: true, Who: "ann", At: at}
			if m.May(a) != nil {
				continue
			}
			probe := m.Clone()
			c, ok := probe.Record(a)
			require.True(t, ok)
			require.NotEqual(t, Doubtful, c.State, "%+v", c)
			require.LessOrEqual(t, probe.Count().Doubtful, doubtful)
		}
	})
}
