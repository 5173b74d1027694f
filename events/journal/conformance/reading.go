package conformance

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

func restart(t *testing.T, s Store) {
	var all []journal.Draft
	for round := range 4 {
		j := s.Open(t)
		holds(t, j, all...)
		for _, name := range []events.Terminal{"b1", "b2"} {
			p := newPen(t, j, name)
			last, _, err := j.Last(p.ctx, name)
			require.NoError(t, err)
			p.n, p.last = last.N, last.Seq
			for i := range 5 {
				all = append(all, p.tell("J1", fmt.Sprint("round ", round, " fact ", i)))
			}
		}
		require.NoError(t, j.Close())
	}
	holds(t, open(t, s), all...)
}

// filled is a store with 90 messages of two terminals and three jobs.
func filled(t testing.TB, j journal.Journal) []journal.Draft {
	a, b := newPen(t, j, "b1"), newPen(t, j, "b2")
	var all []journal.Draft
	for i := range 45 {
		job := events.Job(fmt.Sprint("J", i%3))
		all = append(all, a.tell(job, "of a"), b.tell(job, "of b"))
	}
	return all
}

func read(t *testing.T, s Store) {
	j := open(t, s)
	all := filled(t, j)
	for _, from := range []journal.Seq{0, 1, 2, 45, 89, 90, 91, 4000} {
		for _, f := range []journal.Filter{{}, {Job: "J0"}, {Job: "J2"}, {Job: "J9"}, {Job: "J"}} {
			var want []journal.Message
			for i, d := range all {
				if seq := journal.Seq(i + 1); seq >= from && f.Match(d.Job) {
					want = append(want, stored(seq, d))
				}
			}
			require.Equal(t, want, collect(t, j, from, f), "from %d %+v", from, f)
		}
	}
}

// readEnds: what is appended while reading is not read, and appending while
// reading does not stand still.
func readEnds(t *testing.T, s Store) {
	j := open(t, s)
	p := newPen(t, j, "b1")
	for range 10 {
		p.tell("J1", "before")
	}
	for _, f := range []journal.Filter{{}, {Job: "J1"}} {
		head, err := j.Head(p.ctx)
		require.NoError(t, err)
		var last journal.Seq
		require.NoError(t, j.Read(p.ctx, 0, f, func(m journal.Message) error {
			last = m.Seq
			r, err := j.Append(p.ctx, p.draft("J1", "while reading"), journal.Recorded(p.last))
			p.last = r.Seq
			return err
		}))
		require.Equal(t, head, last)
	}
}

func readStops(t *testing.T, s Store) {
	j := open(t, s)
	filled(t, j)
	enough := errors.New("enough")
	for _, f := range []journal.Filter{{}, {Job: "J1"}} {
		calls := 0
		stop := func(journal.Message) error {
			if calls++; calls == 7 {
				return enough
			}
			return nil
		}
		require.Equal(t, enough, j.Read(within(t), 3, f, stop), "the error as it is")
		require.Equal(t, 7, calls)
		calls = 0
		require.Equal(t, enough, j.Follow(within(t), 3, f, stop))
		require.Equal(t, 7, calls)
	}
	ctx, cancel := context.WithCancel(t.Context())
	calls := 0
	require.ErrorIs(t, j.Read(ctx, 0, journal.Filter{}, func(journal.Message) error {
		if calls++; calls == 5 {
			cancel()
		}
		return nil
	}), context.Canceled)
	require.Less(t, calls, 90)
}

func gap(t *testing.T, s Store) {
	j := s.Open(t)
	defer j.Close() // which may complain, rightly
	all := filled(t, j)
	s.Behead(t, j)
	ignore := func(journal.Message) error { return nil }
	for _, f := range []journal.Filter{{}, {Job: all[0].Job}} {
		var g *journal.Gap
		require.ErrorAs(t, j.Read(within(t), 0, f, ignore), &g)
		require.EqualValues(t, 1, g.Lost)
		require.ErrorAs(t, j.Follow(within(t), 0, f, ignore), &g)
	}
}

func closed(t *testing.T, s Store) {
	j := open(t, s)
	p := newPen(t, j, "b1")
	d := p.tell("J1", "one")
	require.NoError(t, j.Close())
	require.NoError(t, j.Close(), "a second time")
	ignore := func(journal.Message) error { return nil }
	_, err := j.Append(p.ctx, d, journal.Recorded(0))
	require.ErrorIs(t, err, journal.ErrClosed)
	_, _, err = j.Settle(p.ctx, d)
	require.ErrorIs(t, err, journal.ErrClosed)
	_, _, err = j.Last(p.ctx, "b1")
	require.ErrorIs(t, err, journal.ErrClosed)
	_, err = j.LastOfJob(p.ctx, "J1")
	require.ErrorIs(t, err, journal.ErrClosed)
	_, err = j.Head(p.ctx)
	require.ErrorIs(t, err, journal.ErrClosed)
	require.ErrorIs(t, j.Read(p.ctx, 0, journal.Filter{}, ignore), journal.ErrClosed)
	require.ErrorIs(t, j.Follow(p.ctx, 0, journal.Filter{}, ignore), journal.ErrClosed)
	require.ErrorIs(t, j.Health(p.ctx), journal.ErrClosed)
}

// cancelled: a context that has ended before the call stores nothing and says
// so plainly, not as an unclear answer.
func cancelled(t *testing.T, s Store) {
	j := open(t, s)
	p := newPen(t, j, "b1")
	first := p.tell("J1", "one")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := j.Append(ctx, p.draft("J1", "two"), journal.Recorded(p.last))
	require.ErrorIs(t, err, context.Canceled)
	var unclear *journal.Unclear
	require.NotErrorAs(t, err, &unclear)
	_, err = j.Head(ctx)
	require.ErrorIs(t, err, context.Canceled)
	p.n--
	holds(t, j, first, p.tell("J1", "two"))
}
