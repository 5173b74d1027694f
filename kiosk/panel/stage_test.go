package panel

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/testdata/plans"
)

// stage is one bench of a shop with one job on the Sorrel, worked by scans.
type stage struct {
	t     testing.TB
	term  *bench.Terminal
	now   int64
	topic Topic
	just  events.FactID
}

var morning = time.Date(2025, 5, 12, 7, 0, 0, 0, time.UTC).UnixMicro()

// newStage opens a job as Marit at bench b1, and says the lines.
func newStage(t testing.TB, lines ...string) *stage {
	s := &stage{t: t, now: morning}
	term, err := bench.Open(context.Background(), bench.Config{Shop: "hill", Name: "b1", Home: journal.NewMemory(), Outbox: &bench.Tray{},
		Clock: func() int64 { return s.now }, Plans: map[string]string{"sorrel": plans.Sorrel}, Settings: kiosk.UsualSettings()})
	require.NoError(t, err)
	s.term = term
	s.scan("range BC", "bench b1", "RESERVE", s.label(code.Badge, 0), "LABEL", "text Marit", s.label(code.Badge, 1), "LABEL", "text Ole",
		"badge Marit", "job 4K7", "engine Sorrel I4-20", "plan sorrel", "OPEN JOB")
	require.Equal(t, events.Job("4K7"), term.Screen().Job())
	s.scan(lines...)
	return s
}

// label is the nth label of a type in the bench's range.
func (s *stage) label(typ code.Type, n int) string { return labelOf(s.t, typ, n) }

func labelOf(t testing.TB, typ code.Type, n int) string {
	issuer, err := code.NewIssuer("BC")
	require.NoError(t, err)
	var c code.Code
	from := uint32(0)
	for range n + 1 {
		next, at, ok := issuer.Next(typ, from)
		require.True(t, ok)
		c, from = next, at+1
	}
	return string(c)
}

// scan says lines, a second apart, and follows the topic.
func (s *stage) scan(lines ...string) {
	s.t.Helper()
	for _, l := range lines {
		s.now += 1_000_000
		before, token := s.term.Screen().Subject(), s.term.Screen().Reads(l)
		view, err := s.term.Scan(context.Background(), l)
		require.NoError(s.t, err, l)
		told := s.term.Told()
		if len(told) > 0 {
			s.just = told[len(told)-1].ID()
		}
		s.topic = s.topic.Follow(Heard{Before: before, Token: token, After: s.term.Screen().Subject(), Stored: told, View: view,
			Uncounted: s.uncounted()})
	}
}

func (s *stage) uncounted() int {
	if s.job() == nil {
		return 0
	}
	return len(s.job().State().Uncounted())
}

func (s *stage) job() *engine.Job { return s.term.Job() }

// panel is what is on the screen.
func (s *stage) panel() Panel {
	return Of(s.topic, s.job(), "b1", s.term.Screen(), s.term.View())
}

// rows lists the rows of a group, each as "mark|text|more".
func rows(p Panel, head string) []string {
	var list []string
	for _, g := range p.Groups {
		if g.Head != head {
			continue
		}
		for _, r := range g.Rows {
			list = append(list, r.Mark.String()+"|"+r.Text+"|"+r.More)
		}
	}
	return list
}

// allText is every text of a panel.
func allText(p Panel) string {
	text := p.Title + "\n" + p.Stand + "\n" + p.Note
	for _, k := range p.Key {
		text += "\n" + k.Text
	}
	for _, c := range p.Cells {
		text += "\nhole " + c.Name
	}
	for _, g := range p.Groups {
		text += "\n" + g.Head
		for _, r := range g.Rows {
			text += "\n" + r.Text + "\n" + r.More
		}
	}
	return text
}

func cell(t testing.TB, p Panel, name string) Cell {
	t.Helper()
	for _, c := range p.Cells {
		if c.Name == name {
			return c
		}
	}
	require.Fail(t, "no cell "+name)
	return Cell{}
}
