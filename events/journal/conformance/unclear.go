package conformance

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

// broken appends a draft over a line that breaks, and mends the line.
func broken(t testing.TB, s Store, j journal.Journal, d journal.Draft, e journal.Expect, f journal.Fault) {
	t.Helper()
	mend := s.Break(t, j, f)
	_, err := j.Append(within(t), d, e)
	mend()
	var unclear *journal.Unclear
	require.ErrorAs(t, err, &unclear)
	require.Equal(t, d.ID(), unclear.ID)
	require.Error(t, unclear.Cause)
}

// begun is a journal with one fact in it, and two terminals; nil where no line
// can break.
func begun(t *testing.T, s Store) (j journal.Journal, p, b *pen, all []journal.Draft) {
	if s.Break == nil {
		return nil, nil, nil, nil
	}
	j = open(t, s)
	p, b = newPen(t, j, "b1"), newPen(t, j, "b2")
	return j, p, b, []journal.Draft{p.tell("J1", "one")}
}

func lostAnswer(t *testing.T, s Store) {
	j, p, b, all := begun(t, s)
	if j == nil {
		return
	}
	d := p.draft("J1", "its answer gets lost; settled")
	broken(t, s, j, d, journal.Recorded(p.last), journal.LoseAnswer)
	r, ok, err := j.Settle(p.ctx, d)
	require.NoError(t, err)
	require.True(t, ok)
	require.Equal(t, journal.Receipt{Seq: 2, Repeated: true}, r)
	p.last = r.Seq
	all = append(all, d, p.tell("J1", "goes on"))

	d = p.draft("J1", "its answer gets lost; tried again")
	broken(t, s, j, d, journal.Checked(3), journal.LoseAnswer)
	all = append(all, d, b.tell("J1", "another bench in between"))
	r, err = j.Append(p.ctx, d, journal.Checked(3))
	require.NoError(t, err)
	require.Equal(t, journal.Receipt{Seq: 4, Repeated: true}, r)
	p.last = r.Seq
	all = append(all, p.tell("J1", "goes on"))
	holds(t, j, all...)
}

func lostRequest(t *testing.T, s Store) {
	j, p, b, all := begun(t, s)
	if j == nil {
		return
	}
	d := p.draft("J1", "never arrives; settled")
	broken(t, s, j, d, journal.Recorded(p.last), journal.LoseRequest)
	_, ok, err := j.Settle(p.ctx, d)
	require.NoError(t, err)
	require.False(t, ok)
	p.n--
	all = append(all, p.tell("J1", "something else under its number"))

	d = p.draft("J1", "never arrives; tried again")
	broken(t, s, j, d, journal.Checked(p.last), journal.LoseRequest)
	r, err := j.Append(p.ctx, d, journal.Checked(p.last))
	require.NoError(t, err)
	require.Equal(t, journal.Receipt{Seq: 3}, r)
	all = append(all, d)

	d = p.draft("J1", "never arrives; the job has moved on")
	broken(t, s, j, d, journal.Checked(3), journal.LoseRequest)
	all = append(all, b.tell("J1", "another bench in between"))
	_, err = j.Append(p.ctx, d, journal.Checked(3))
	var stale *journal.Stale
	require.ErrorAs(t, err, &stale)
	require.Equal(t, journal.Seq(4), stale.Have)
	r, err = j.Append(p.ctx, d, journal.Checked(4))
	require.NoError(t, err)
	require.Equal(t, journal.Receipt{Seq: 5}, r)
	holds(t, j, append(all, d)...)
}

// unsettled: while an answer is missing, nothing else of that terminal is
// taken, whatever it is; other terminals go on.
func unsettled(t *testing.T, s Store) {
	if s.Break == nil {
		return
	}
	for _, fault := range []journal.Fault{journal.LoseAnswer, journal.LoseRequest} {
		j := open(t, s)
		last, _, err := j.Last(within(t), "b1")
		require.NoError(t, err)
		p, b := newPen(t, j, "b1"), newPen(t, j, "b2")
		p.n, p.last = last.N, last.Seq
		p.tell("J1", "clear")
		d := p.draft("J1", "unclear")
		broken(t, s, j, d, journal.Recorded(p.last), fault)
		for _, n := range []uint32{d.N + 1, d.N + 7} {
			next := d
			next.N = n
			_, err := j.Append(p.ctx, next, journal.Recorded(p.last))
			var unclear *journal.Unclear
			require.ErrorAs(t, err, &unclear)
			require.Equal(t, d.ID(), unclear.ID)
		}
		if fault == journal.LoseAnswer {
			b.tell("J1", "not concerned")
		}
		_, err = j.Append(p.ctx, journal.Draft{Terminal: "b1", N: 1, Job: "J9", Data: []byte("{}")}, journal.Recorded(0))
		require.ErrorContains(t, err, d.ID(), "not even a repeat")
		head, err := j.Head(p.ctx)
		require.NoError(t, err)
		_, _, err = j.Settle(p.ctx, d)
		require.NoError(t, err)
		after, err := j.Head(p.ctx)
		require.NoError(t, err)
		require.Equal(t, head, after)
		_, err = j.Append(p.ctx, d, journal.Recorded(p.last))
		require.NoError(t, err)
		require.NoError(t, j.Close())
	}
}

// settle may be asked at any time, about anything.
func settle(t *testing.T, s Store) {
	j := open(t, s)
	sc := play(t, j)
	for i, d := range sc.drafts {
		r, ok, err := j.Settle(within(t), d)
		require.NoError(t, err)
		require.True(t, ok)
		require.Equal(t, journal.Receipt{Seq: journal.Seq(i + 1), Repeated: true}, r)
	}
	n, _ := sc.last("b1")
	for _, d := range []journal.Draft{
		{Terminal: "b1", N: n + 1, Job: "J1", Data: []byte("{}")},
		{Terminal: "b1", N: n + 9, Job: "J1", Data: []byte("{}")},
		{Terminal: "b3", N: 1, Job: "J1", Data: []byte("{}")},
	} {
		_, ok, err := j.Settle(within(t), d)
		require.NoError(t, err)
		require.False(t, ok)
	}
	holds(t, j, sc.drafts...)
}
