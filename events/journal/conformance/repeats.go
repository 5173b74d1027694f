package conformance

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

// scene is a store in which every draft is appended a second time.
type scene struct {
	drafts  []journal.Draft
	expects []journal.Expect
}

// play writes checked and recorded messages of two benches in turns.
func play(t testing.TB, j journal.Journal) scene {
	t.Helper()
	var s scene
	a, b := newPen(t, j, "b1"), newPen(t, j, "b2")
	ofJob := map[events.Job]journal.Seq{}
	write := func(p *pen, job events.Job, check bool) {
		d, e := p.draft(job, "scene"), journal.Recorded(p.last)
		if check {
			e = journal.Checked(ofJob[job])
		}
		r, err := j.Append(p.ctx, d, e)
		require.NoError(t, err)
		require.Equal(t, journal.Receipt{Seq: journal.Seq(len(s.drafts) + 1)}, r)
		p.last, ofJob[job] = r.Seq, r.Seq
		s.drafts, s.expects = append(s.drafts, d), append(s.expects, e)
	}
	for _, check := range []bool{true, false, true, false} {
		write(a, "J1", check)
		write(b, "J1", !check) // another bench writes in between
		write(a, "J2", check)
		write(a, "J1", !check)
	}
	return s
}

// replay appends every draft again, with the expectation that it had and
// with those that hold now, and requires that nothing more is stored.
func (s scene) replay(t testing.TB, j journal.Journal) {
	t.Helper()
	ctx := within(t)
	for i, d := range s.drafts {
		ofJob, err := j.LastOfJob(ctx, d.Job)
		require.NoError(t, err)
		last, _, err := j.Last(ctx, d.Terminal)
		require.NoError(t, err)
		for _, e := range []journal.Expect{
			s.expects[i], journal.Checked(ofJob), journal.Recorded(last.Seq), journal.Recorded(0), journal.Checked(99),
		} {
			r, err := j.Append(ctx, d, e)
			require.NoError(t, err, "%s %+v", d.ID(), e)
			require.Equal(t, journal.Receipt{Seq: journal.Seq(i + 1), Repeated: true}, r, "%s %+v", d.ID(), e)
		}
	}
	holds(t, j, s.drafts...)
}

func repeats(t *testing.T, s Store) {
	j := open(t, s)
	p := newPen(t, j, "b9")
	d := p.draft("J1", "twice at once")
	for i := range 3 { // as the store's only message
		r, err := j.Append(p.ctx, d, journal.Checked(0))
		require.NoError(t, err)
		require.Equal(t, journal.Receipt{Seq: 1, Repeated: i > 0}, r)
	}
	holds(t, j, d)
}

func repeatsAfterRestart(t *testing.T, s Store) {
	j := s.Open(t)
	sc := play(t, j)
	sc.replay(t, j)
	require.NoError(t, j.Close())
	j = open(t, s)
	sc.replay(t, j)
	p := newPen(t, j, "b2")
	p.n, p.last = sc.last("b2")
	sc.drafts = append(sc.drafts, p.tell("J1", "and on"))
	holds(t, j, sc.drafts...)
}

func repeatsAfterForgetting(t *testing.T, s Store) {
	if s.Forget == nil {
		return // nothing to forget: the other tests say it all
	}
	j := s.Open(t)
	sc := play(t, j)
	s.Forget(t, j)
	sc.replay(t, j)
	require.NoError(t, j.Close())
	j = open(t, s)
	s.Forget(t, j)
	sc.replay(t, j)
}

// last is the number and the place of a terminal's last draft of the scene.
func (s scene) last(t events.Terminal) (n uint32, seq journal.Seq) {
	for i, d := range s.drafts {
		if d.Terminal == t {
			n, seq = d.N, journal.Seq(i+1)
		}
	}
	return n, seq
}

func conflict(t *testing.T, s Store) {
	j := s.Open(t)
	sc := play(t, j)
	clash := func(d journal.Draft, seq journal.Seq) {
		t.Helper()
		for _, e := range []journal.Expect{journal.Recorded(0), journal.Checked(0), sc.expects[seq-1], sc.expects[len(sc.expects)-1]} {
			_, err := j.Append(within(t), d, e)
			var c *journal.Conflict
			require.ErrorAs(t, err, &c)
			require.Equal(t, journal.Conflict{ID: d.ID(), Seq: seq}, *c)
		}
		_, _, err := j.Settle(within(t), d)
		var c *journal.Conflict
		require.ErrorAs(t, err, &c)
	}
	clashes := func() {
		for _, seq := range []journal.Seq{1, 2, 7, journal.Seq(len(sc.drafts))} {
			d := sc.drafts[seq-1]
			d.Data = []byte(`{"text":"other"}`)
			clash(d, seq)
			d = sc.drafts[seq-1]
			d.Job = "J3"
			clash(d, seq)
		}
		holds(t, j, sc.drafts...)
	}
	clashes()
	require.NoError(t, j.Close())
	j = open(t, s)
	clashes()
}
