// Package conformance holds every implementation of the journal to its
// contract. Each test gets a store of its own and looks at it only through
// the contract; what differs between implementations (how an answer gets
// lost, how a message gets lost) is handed in with the store.
package conformance

import (
	"bytes"
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

// Store is one store under test.
type Store struct {
	// Open opens the store, also again after it was closed, with everything
	// that was stored in it. The suite closes what it opened.
	Open func(t testing.TB) journal.Journal

	// Break makes the next append that would store something fail with
	// LoseAnswer or LoseRequest. The suite calls mend after that append has
	// come back. Nil if the store's line cannot be broken.
	Break func(t testing.TB, j journal.Journal, f journal.Fault) (mend func())

	// Forget makes the store forget whatever it remembers only for a while
	// about repeated ids. Nil if there is no such thing.
	Forget func(t testing.TB, j journal.Journal)

	// Behead takes the first message out of the open store, as no program is
	// supposed to.
	Behead func(t testing.TB, j journal.Journal)
}

// Run runs the whole suite; fresh makes an empty store.
func Run(t *testing.T, fresh func(t testing.TB) Store) {
	tests := []struct {
		name string
		run  func(t *testing.T, s Store)
	}{
		{"empty", empty},
		{"order", order},
		{"data", data},
		{"malformed", malformed},
		{"checked", checked},
		{"recorded", recorded},
		{"skipped", skipped},
		{"checked writers", checkedWriters},
		{"recorded writers", recordedWriters},
		{"mixed writers", mixedWriters},
		{"one terminal, many callers", oneTerminal},
		{"repeats", repeats},
		{"repeats after restart", repeatsAfterRestart},
		{"repeats after forgetting", repeatsAfterForgetting},
		{"conflict", conflict},
		{"plain list", plainList},
		{"lost answer", lostAnswer},
		{"lost request", lostRequest},
		{"unsettled", unsettled},
		{"settle without a fault", settle},
		{"restart", restart},
		{"read", read},
		{"read ends at the end", readEnds},
		{"read stops", readStops},
		{"follow", follow},
		{"follow ends", followEnds},
		{"follow what does not exist yet", followFuture},
		{"followers while writing", followers},
		{"gap", gap},
		{"closed", closed},
		{"cancelled", cancelled},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) { test.run(t, fresh(t)) })
	}
}

// Patience is how long the suite waits for something that must happen.
const Patience = 30 * time.Second

func open(t testing.TB, s Store) journal.Journal {
	t.Helper()
	j := s.Open(t)
	t.Cleanup(func() { require.NoError(t, j.Close()) })
	return j
}

// within is a context for one test.
func within(t testing.TB) context.Context {
	ctx, cancel := context.WithTimeout(t.Context(), Patience)
	t.Cleanup(cancel)
	return ctx
}

// pen writes as one terminal does: one draft after the other.
type pen struct {
	t        testing.TB
	ctx      context.Context
	j        journal.Journal
	terminal events.Terminal
	n        uint32
	last     journal.Seq
}

func newPen(t testing.TB, j journal.Journal, terminal events.Terminal) *pen {
	return &pen{t: t, ctx: within(t), j: j, terminal: terminal}
}

// draft makes the terminal's next draft.
func (p *pen) draft(job events.Job, text string) journal.Draft {
	p.n++
	return journal.Draft{Terminal: p.terminal, N: p.n, Job: job, Data: fmt.Appendf(nil, `{"text":%q}`, text)}
}

// tell records the terminal's next message and returns it as a draft.
func (p *pen) tell(job events.Job, text string) journal.Draft {
	p.t.Helper()
	d := p.draft(job, text)
	r, err := p.j.Append(p.ctx, d, journal.Recorded(p.last))
	require.NoError(p.t, err)
	require.False(p.t, r.Repeated)
	require.Greater(p.t, r.Seq, p.last)
	p.last = r.Seq
	return d
}

// collect reads everything from a number on.
func collect(t testing.TB, j journal.Journal, from journal.Seq, f journal.Filter) []journal.Message {
	t.Helper()
	var got []journal.Message
	require.NoError(t, j.Read(within(t), from, f, func(m journal.Message) error {
		m.Data = bytes.Clone(m.Data)
		got = append(got, m)
		return nil
	}))
	return got
}

// holds requires the whole store to be exactly these drafts in this order.
func holds(t testing.TB, j journal.Journal, want ...journal.Draft) {
	t.Helper()
	got := collect(t, j, 0, journal.Filter{})
	require.Len(t, got, len(want))
	for i, d := range want {
		require.Equal(t, stored(journal.Seq(i+1), d), got[i])
	}
	head, err := j.Head(within(t))
	require.NoError(t, err)
	require.EqualValues(t, len(want), head)
}

func stored(seq journal.Seq, d journal.Draft) journal.Message {
	return journal.Message{Seq: seq, Terminal: d.Terminal, N: d.N, Job: d.Job, Data: d.Data}
}
