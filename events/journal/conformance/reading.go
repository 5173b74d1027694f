package conformance

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"sync"
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

// follower collects what Follow hands out.
type follower struct {
	mu    sync.Mutex
	got   []journal.Message
	more  chan struct{}
	done  chan error
	close context.CancelFunc
}

func startFollower(t testing.TB, j journal.Journal, from journal.Seq, f journal.Filter) *follower {
	ctx, cancel := context.WithCancel(t.Context())
	fo := &follower{more: make(chan struct{}, 1), done: make(chan error, 1), close: cancel}
	go func() {
		fo.done <- j.Follow(ctx, from, f, func(m journal.Message) error {
			m.Data = bytes.Clone(m.Data)
			fo.mu.Lock()
			fo.got = append(fo.got, m)
			fo.mu.Unlock()
			select {
			case fo.more <- struct{}{}:
			default:
			}
			return nil
		})
	}()
	return fo
}

// wait returns what has arrived as soon as there are n messages.
func (fo *follower) wait(t testing.TB, n int) []journal.Message {
	t.Helper()
	ctx := within(t)
	for {
		fo.mu.Lock()
		got := fo.got
		fo.mu.Unlock()
		if len(got) >= n {
			return got
		}
		select {
		case <-fo.more:
		case err := <-fo.done:
			require.FailNow(t, "follow ended", "%v after %d of %d messages", err, len(got), n)
		case <-ctx.Done():
			require.FailNow(t, "follow stands still", "%d of %d messages", len(got), n)
		}
	}
}

func (fo *follower) end(t testing.TB) error {
	t.Helper()
	select {
	case err := <-fo.done:
		return err
	case <-within(t).Done():
		require.FailNow(t, "follow does not end")
		return nil
	}
}

func follow(t *testing.T, s Store) {
	j := open(t, s)
	all := filled(t, j)
	shop := startFollower(t, j, 0, journal.Filter{})
	tail := startFollower(t, j, 91, journal.Filter{})
	job := startFollower(t, j, 80, journal.Filter{Job: "J1"})
	shop.wait(t, 90)
	p := newPen(t, j, "b3")
	for i := range 30 {
		all = append(all, p.tell(events.Job(fmt.Sprint("J", i%2)), "live"))
	}
	for _, row := range []struct {
		fo   *follower
		from journal.Seq
		f    journal.Filter
	}{{shop, 1, journal.Filter{}}, {tail, 91, journal.Filter{}}, {job, 80, journal.Filter{Job: "J1"}}} {
		var want []journal.Message
		for i, d := range all {
			if seq := journal.Seq(i + 1); seq >= row.from && row.f.Match(d.Job) {
				want = append(want, stored(seq, d))
			}
		}
		require.Equal(t, want, row.fo.wait(t, len(want)))
		row.fo.close()
		require.ErrorIs(t, row.fo.end(t), context.Canceled)
	}
}

func followEnds(t *testing.T, s Store) {
	j := open(t, s)
	p := newPen(t, j, "b1")
	p.tell("J1", "one")
	shop := startFollower(t, j, 0, journal.Filter{})
	job := startFollower(t, j, 0, journal.Filter{Job: "J1"})
	shop.wait(t, 1)
	job.wait(t, 1)
	require.NoError(t, j.Close())
	require.ErrorIs(t, shop.end(t), journal.ErrClosed)
	require.ErrorIs(t, job.end(t), journal.ErrClosed)
}

// followers: every follower sees every message once and in order while
// sixteen terminals write.
func followers(t *testing.T, s Store) {
	j := open(t, s)
	before, during := startFollower(t, j, 0, journal.Filter{}), (*follower)(nil)
	errs := make([]error, writers)
	var once sync.Once
	together(func(w int) {
		p := newPen(t, j, events.Terminal(fmt.Sprintf("b%d", w)))
		for i := range each {
			r, err := j.Append(p.ctx, p.draft("J1", "a fact"), journal.Recorded(p.last))
			if err != nil {
				errs[w] = err
				return
			}
			p.last = r.Seq
			if i == each/2 {
				once.Do(func() { during = startFollower(t, j, 0, journal.Filter{}) })
			}
		}
	})
	require.NoError(t, errors.Join(errs...))
	want := collect(t, j, 0, journal.Filter{})
	require.Len(t, want, writers*each)
	for _, fo := range []*follower{before, during} {
		require.Equal(t, want, fo.wait(t, len(want)))
		fo.close()
		require.ErrorIs(t, fo.end(t), context.Canceled)
	}
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
