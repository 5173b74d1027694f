package conformance

import (
	"errors"
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

const (
	writers = 16
	each    = 12
)

// together runs one function per writer and waits for all.
func together(write func(w int)) {
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() { write(w) })
	}
	wg.Wait()
}

// basis notes for each answer the message that it was based on.
type basis struct {
	mu sync.Mutex
	of map[journal.Seq]journal.Seq
}

// answer appends checked messages to one job, each based on the job's last
// message as just read, until enough are stored.
func (b *basis) answer(p *pen, job events.Job, enough int) error {
	for range enough {
		d := p.draft(job, "an answer")
		for {
			last, err := p.j.LastOfJob(p.ctx, job)
			if err != nil {
				return err
			}
			r, err := p.j.Append(p.ctx, d, journal.Checked(last))
			if stale := (*journal.Stale)(nil); errors.As(err, &stale) {
				continue
			}
			if err != nil || r.Repeated {
				return fmt.Errorf("%+v: %w", r, err)
			}
			b.mu.Lock()
			b.of[r.Seq] = last
			b.mu.Unlock()
			break
		}
	}
	return nil
}

// require checks that each answer follows directly the message of its job
// that it was based on.
func (b *basis) require(t testing.TB, j journal.Journal, answers int) {
	t.Helper()
	require.Len(t, b.of, answers)
	last := map[events.Job]journal.Seq{}
	for _, m := range collect(t, j, 0, journal.Filter{}) {
		if want, ok := b.of[m.Seq]; ok {
			require.Equal(t, want, last[m.Job], "message %d of %s", m.Seq, m.Terminal)
		}
		last[m.Job] = m.Seq
	}
}

// record appends recorded messages.
func record(p *pen, job events.Job, enough int) error {
	for range enough {
		r, err := p.j.Append(p.ctx, p.draft(job, "a fact"), journal.Recorded(p.last))
		if err != nil || r.Repeated {
			return fmt.Errorf("%+v: %w", r, err)
		}
		p.last = r.Seq
	}
	return nil
}

// checkedWriters: sixteen benches answer questions about one job at the same
// time.
func checkedWriters(t *testing.T, s Store) {
	j, b, errs := open(t, s), basis{of: map[journal.Seq]journal.Seq{}}, make([]error, writers)
	together(func(w int) { errs[w] = b.answer(newPen(t, j, bench(w)), "J1", each) })
	require.NoError(t, errors.Join(errs...))
	b.require(t, j, writers*each)
	gapless(t, j)
}

// recordedWriters: sixteen terminals empty their outboxes at the same time.
func recordedWriters(t *testing.T, s Store) {
	j, errs := open(t, s), make([]error, writers)
	together(func(w int) { errs[w] = record(newPen(t, j, bench(w)), "J1", each) })
	require.NoError(t, errors.Join(errs...))
	gapless(t, j)
}

// mixedWriters: some answer, some empty their outboxes, on two jobs. An
// answer must not overlook a fact that was recorded just before it.
func mixedWriters(t *testing.T, s Store) {
	j, b, errs := open(t, s), basis{of: map[journal.Seq]journal.Seq{}}, make([]error, writers)
	together(func(w int) {
		p, job := newPen(t, j, bench(w)), events.Job(fmt.Sprint("J", w/2%2))
		if w%2 == 0 {
			errs[w] = b.answer(p, job, each)
		} else {
			errs[w] = record(p, job, each)
		}
	})
	require.NoError(t, errors.Join(errs...))
	b.require(t, j, writers/2*each)
	gapless(t, j)
}

func bench(w int) events.Terminal { return events.Terminal(fmt.Sprint("b", w)) }

// oneTerminal: the same draft from sixteen callers is stored once.
func oneTerminal(t *testing.T, s Store) {
	j, ctx := open(t, s), within(t)
	p := newPen(t, j, "b1")
	first := p.tell("J1", "one")
	d := p.draft("J1", "two")
	receipts, errs := make([]journal.Receipt, writers), make([]error, writers)
	together(func(w int) { receipts[w], errs[w] = j.Append(ctx, d, journal.Recorded(p.last)) })
	require.NoError(t, errors.Join(errs...))
	fresh := 0
	for _, r := range receipts {
		require.Equal(t, journal.Seq(2), r.Seq)
		if !r.Repeated {
			fresh++
		}
	}
	require.Equal(t, 1, fresh)
	holds(t, j, first, d)
}

// gapless requires the numbers of all writers' messages to be 1..each, in
// order, and nothing else to be stored.
func gapless(t testing.TB, j journal.Journal) {
	t.Helper()
	n := map[events.Terminal]uint32{}
	for i, m := range collect(t, j, 0, journal.Filter{}) {
		require.EqualValues(t, i+1, m.Seq)
		n[m.Terminal]++
		require.Equal(t, n[m.Terminal], m.N, m.ID())
	}
	require.Len(t, n, writers)
	for w, count := range n {
		require.EqualValues(t, each, count, w)
	}
}
