package projections

import (
	"slices"

	"countback/events"
)

// Gap is a run of numbers of one terminal's own counter that no record has:
// facts that it stated and that are not here.
type Gap struct {
	Terminal events.Terminal
	From, To uint32 // both missing
}

// counter is what was heard of a terminal over all jobs.
type counter struct {
	high    uint32
	missing []Gap // in order
}

// hear notes a terminal's number. A terminal counts from 1 without gaps over all
// its jobs, so what is left out is missing until it comes.
func (r *Runner) hear(rec *events.Record) {
	c, ok := r.heard[rec.Terminal]
	if !ok {
		if r.heard == nil {
			r.heard = make(map[events.Terminal]*counter)
		}
		c = &counter{}
		r.heard[rec.Terminal] = c
		r.names = append(r.names, rec.Terminal)
	}
	switch n := rec.N; {
	case n == c.high+1:
		c.high = n
	case n > c.high:
		c.missing = append(c.missing, Gap{rec.Terminal, c.high + 1, n - 1})
		c.high = n
	default:
		c.fill(n)
	}
}

// fill takes a number that came late out of the gap that it lies in.
func (c *counter) fill(n uint32) {
	for i := range c.missing {
		g := c.missing[i]
		if n < g.From || n > g.To {
			continue
		}
		rest := make([]Gap, 0, 2)
		if n > g.From {
			rest = append(rest, Gap{g.Terminal, g.From, n - 1})
		}
		if n < g.To {
			rest = append(rest, Gap{g.Terminal, n + 1, g.To})
		}
		c.missing = slices.Replace(c.missing, i, i+1, rest...)
		return
	}
}

// Gaps lists what is missing of every terminal, by terminal in byte order.
func (r *Runner) Gaps() []Gap {
	var list []Gap
	names := slices.Sorted(slices.Values(r.names))
	for _, t := range names {
		list = append(list, r.heard[t].missing...)
	}
	return list
}

// Last is the highest number heard of a terminal; 0 if none.
func (r *Runner) Last(t events.Terminal) uint32 {
	if c, ok := r.heard[t]; ok {
		return c.high
	}
	return 0
}
