package projections

import (
	"strconv"

	"countback/events"
)

func itoa(n int) string { return strconv.Itoa(n) }

// contribution is what one job adds to the views of the shop, worked out again
// when the job has more facts than it was worked out from.
type contribution struct {
	facts  int
	losses JobLosses
	halves []half
}

func (r *Runner) contribution(id events.Job) *contribution {
	j, ok := r.jobs[id]
	if !ok {
		return &contribution{}
	}
	if c, ok := r.given[id]; ok && c.facts == len(j.Facts()) {
		return c
	}
	c := &contribution{facts: len(j.Facts()), losses: lossesOf(id, j)}
	for _, f := range j.Facts() {
		ev, ok := j.Standing(f.ID())
		if !ok {
			continue
		}
		switch e := ev.(type) {
		case events.HardwareLent:
			c.halves = append(c.halves, half{ref: e.Ref, from: id, to: e.To, lines: e.Lines, fact: f.ID(), at: f.At, lent: true})
		case events.HardwareBorrowed:
			c.halves = append(c.halves, half{ref: e.Ref, from: e.From, to: id, lines: e.Lines, fact: f.ID(), at: f.At})
		}
	}
	if r.given == nil {
		r.given = make(map[events.Job]*contribution)
	}
	r.given[id] = c
	return c
}
