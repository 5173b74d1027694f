package conformance

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

func empty(t *testing.T, s Store) {
	j, ctx := open(t, s), within(t)
	head, err := j.Head(ctx)
	require.NoError(t, err)
	require.Zero(t, head)
	_, ok, err := j.Last(ctx, "b1")
	require.NoError(t, err)
	require.False(t, ok)
	last, err := j.LastOfJob(ctx, "J1")
	require.NoError(t, err)
	require.Zero(t, last)
	holds(t, j)
	require.Empty(t, collect(t, j, 7, journal.Filter{Job: "J1"}))
	require.NoError(t, j.Health(ctx))
}

func order(t *testing.T, s Store) {
	j, ctx := open(t, s), within(t)
	pens := []*pen{newPen(t, j, "b1"), newPen(t, j, "b2"), newPen(t, j, "hub-1_a")}
	jobs := []events.Job{"J4K7", "J4K8", events.ShopJob}
	var all []journal.Draft
	last := map[events.Job]journal.Seq{}
	for i := range 60 {
		job := jobs[i*i%len(jobs)]
		all = append(all, pens[i%7%len(pens)].tell(job, fmt.Sprint("fact ", i)))
		last[job] = journal.Seq(i + 1)
	}
	holds(t, j, all...)
	for _, p := range pens {
		m, ok, err := j.Last(ctx, p.terminal)
		require.NoError(t, err)
		require.True(t, ok)
		require.Equal(t, p.n, m.N)
		require.Equal(t, stored(p.last, all[p.last-1]), m)
	}
	for job, want := range last {
		seq, err := j.LastOfJob(ctx, job)
		require.NoError(t, err)
		require.Equal(t, want, seq)
	}
}

func data(t *testing.T, s Store) {
	j, p := open(t, s), (*pen)(nil)
	p = newPen(t, j, "b1")
	odd := [][]byte{
		{0},
		[]byte("NATS/1.0\r\n\r\n"),
		[]byte("\r\n\r\n\x00\xff" + strings.Repeat("Ö", 100)),
		bytes.Repeat([]byte("x"), journal.MaxData),
		bytes.Repeat([]byte{0xDB}, 70_000),
	}
	var all []journal.Draft
	for _, b := range odd {
		d := p.draft("J1", "")
		d.Data = bytes.Clone(b)
		r, err := j.Append(p.ctx, d, journal.Recorded(p.last))
		require.NoError(t, err)
		p.last = r.Seq
		clear(d.Data) // the journal must have its own copy
		d.Data = b
		all = append(all, d)
	}
	holds(t, j, all...)
}

func malformed(t *testing.T, s Store) {
	j, ctx := open(t, s), within(t)
	good := journal.Draft{Terminal: "b1", N: 1, Job: "J1", Data: []byte("{}")}
	bad := []struct {
		why  string
		make func(*journal.Draft)
	}{
		{"no terminal", func(d *journal.Draft) { d.Terminal = "" }},
		{"terminal is two words", func(d *journal.Draft) { d.Terminal = "b1.J2" }},
		{"terminal is a wildcard", func(d *journal.Draft) { d.Terminal = "*" }},
		{"terminal has a blank", func(d *journal.Draft) { d.Terminal = "b 1" }},
		{"terminal breaks the line", func(d *journal.Draft) { d.Terminal = "b1\r\nX" }},
		{"terminal too long", func(d *journal.Draft) { d.Terminal = events.Terminal(strings.Repeat("b", 65)) }},
		{"no job", func(d *journal.Draft) { d.Job = "" }},
		{"job is everything", func(d *journal.Draft) { d.Job = ">" }},
		{"job is not ASCII", func(d *journal.Draft) { d.Job = "Jö" }},
		{"n is 0", func(d *journal.Draft) { d.N = 0 }},
		{"no data", func(d *journal.Draft) { d.Data = nil }},
		{"too much data", func(d *journal.Draft) { d.Data = make([]byte, journal.MaxData+1) }},
	}
	for _, row := range bad {
		d := good
		row.make(&d)
		_, err := j.Append(ctx, d, journal.Recorded(0))
		require.Error(t, err, row.why)
		_, _, err = j.Settle(ctx, d)
		require.Error(t, err, row.why)
	}
	_, err := j.Append(ctx, good, journal.Expect{})
	require.ErrorContains(t, err, "expectation is empty")
	require.Error(t, j.Read(ctx, 0, journal.Filter{Job: "*"}, nil))
	require.Error(t, j.Follow(ctx, 0, journal.Filter{Job: "a.b"}, nil))
	_, _, err = j.Last(ctx, ">")
	require.Error(t, err)
	_, err = j.LastOfJob(ctx, "")
	require.Error(t, err)
	holds(t, j)
}

func checked(t *testing.T, s Store) {
	j := open(t, s)
	a, b := newPen(t, j, "b1"), newPen(t, j, "b2")
	first := a.tell("J1", "out")
	other := b.tell("J2", "out")

	d := b.draft("J1", "asked knowing nothing")
	_, err := j.Append(b.ctx, d, journal.Checked(0))
	var stale *journal.Stale
	require.ErrorAs(t, err, &stale)
	require.Equal(t, journal.Stale{ID: "b2-2", Scope: journal.OfJob, Of: "job J1", Want: 0, Have: 1}, *stale)
	_, err = j.Append(b.ctx, d, journal.Checked(2)) // the number of another job's last message
	require.ErrorAs(t, err, &stale)
	require.Equal(t, journal.Seq(1), stale.Have)
	holds(t, j, first, other)

	r, err := j.Append(b.ctx, d, journal.Checked(1))
	require.NoError(t, err)
	require.Equal(t, journal.Receipt{Seq: 3}, r)
	e := a.draft("J3", "the first of its job")
	r, err = j.Append(a.ctx, e, journal.Checked(0))
	require.NoError(t, err)
	require.Equal(t, journal.Receipt{Seq: 4}, r)
	holds(t, j, first, other, d, e)
}

func recorded(t *testing.T, s Store) {
	j := open(t, s)
	a, b := newPen(t, j, "b1"), newPen(t, j, "b2")
	first := a.tell("J1", "out")
	second := b.tell("J1", "in") // no matter to b1

	d := a.draft("J2", "expects another's message")
	_, err := j.Append(a.ctx, d, journal.Recorded(2))
	var stale *journal.Stale
	require.ErrorAs(t, err, &stale)
	require.Equal(t, journal.Stale{ID: "b1-2", Scope: journal.OfTerminal, Of: "terminal b1", Want: 2, Have: 1}, *stale)
	_, err = j.Append(a.ctx, d, journal.Recorded(0))
	require.ErrorAs(t, err, &stale)

	r, err := j.Append(a.ctx, d, journal.Recorded(1))
	require.NoError(t, err)
	require.Equal(t, journal.Receipt{Seq: 3}, r)
	holds(t, j, first, second, d)
}

func skipped(t *testing.T, s Store) {
	j := open(t, s)
	p := newPen(t, j, "b1")
	p.n = 4
	d := p.draft("J1", "the fifth and nothing before")
	for _, e := range []journal.Expect{journal.Recorded(0), journal.Checked(0)} {
		_, err := j.Append(p.ctx, d, e)
		var gone *journal.Skipped
		require.ErrorAs(t, err, &gone)
		require.Equal(t, journal.Skipped{Terminal: "b1", N: 5, Last: 0}, *gone)
	}
	p.n = 0
	first := p.tell("J1", "the first")
	_, err := j.Append(p.ctx, d, journal.Recorded(p.last))
	require.ErrorContains(t, err, "event b1-5 not stored: the next one of terminal b1 is b1-2")
	holds(t, j, first)
}
