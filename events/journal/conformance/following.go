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

// followFuture: what is asked for may not exist yet.
func followFuture(t *testing.T, s Store) {
	j := open(t, s)
	p := newPen(t, j, "b1")
	p.tell("J1", "one")
	shop := startFollower(t, j, 5, journal.Filter{})
	job := startFollower(t, j, 5, journal.Filter{Job: "J1"})
	for range 6 {
		p.tell("J1", "and on")
	}
	for _, fo := range []*follower{shop, job} {
		got := fo.wait(t, 3)
		require.Len(t, got, 3)
		require.Equal(t, journal.Seq(5), got[0].Seq)
		fo.close()
		require.ErrorIs(t, fo.end(t), context.Canceled)
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
