package engine

import (
	"strconv"
	"time"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// waitsOf lists the steps that may not start at once when their conditions
// hold.
func waitsOf(p *plan.Plan) []plan.StepIndex {
	var list []plan.StepIndex
	for i := range p.Steps {
		if p.Steps[i].Wait > 0 {
			list = append(list, plan.StepIndex(i))
		}
	}
	return list
}

// waited marks the holes and parts that the conditions of steps that wait look
// at, so that a fold looks at these conditions only when one of them changes.
func (b *layoutBuilder) waited() {
	for _, ix := range b.layout.waits {
		b.watchWait(&b.plan.Steps[ix].When)
	}
}

func (b *layoutBuilder) watchWait(c *plan.Condition) {
	switch c.Op {
	case plan.AllOf, plan.AnyOf, plan.NotAll:
		for i := range c.Kids {
			b.watchWait(&c.Kids[i])
		}
	case plan.OfPart:
		b.layout.parts[c.Part].waited = true
	case plan.OfSeats, plan.OfSome:
		for _, seat := range c.Seats {
			b.layout.seats[seat].waited = true
		}
	case plan.OfStep:
		step := &b.plan.Steps[c.Step]
		for _, list := range [...][]plan.PartIndex{step.Removes, step.SendsOut, step.TakesBack, step.Fits} {
			for _, p := range list {
				b.layout.parts[p].waited = true
			}
		}
		for _, list := range [...][]plan.SeatIndex{step.TakesOut, step.Parks, step.Fastens} {
			for _, seat := range list {
				b.layout.seats[seat].waited = true
			}
		}
		if len(step.Drains)+len(step.Fills) > 0 || !leavesMetal(step) {
			b.layout.restless = true
		}
	default:
		b.layout.restless = true
	}
}

// holdWaits notes since when the conditions of steps that wait hold.
func (s *State) holdWaits() {
	for _, ix := range s.lay.waits {
		step := &s.lay.plan.Steps[ix]
		_, was := s.ahead.held[step.ID]
		if holds := step.When.Eval(s.now); holds == was {
			continue
		} else if holds {
			if s.ahead.held == nil {
				s.ahead.held = map[events.Step]ledger.Fact{}
			}
			s.ahead.held[step.ID] = s.fact
			if s.fact == s.Started {
				s.ahead.held[step.ID] = 0 // as it came: that is over long ago
			}
		} else {
			delete(s.ahead.held, step.ID)
		}
	}
}

// notBefore is the moment before which a step may not start, microseconds
// since 1970; 0: it need not wait, or its conditions do not hold.
func (s *State) notBefore(ix plan.StepIndex) int64 {
	step := &s.lay.plan.Steps[ix]
	if step.Wait == 0 || s.job.clock == 0 {
		return 0
	}
	f, ok := s.ahead.held[step.ID]
	r := s.Fact(f)
	if !ok || r == nil {
		return 0
	}
	if until := r.At + step.Wait.Microseconds(); until > s.job.moment() {
		return until
	}
	return 0
}

// wait holds a step that may not start yet. It is asked only when the job was
// told the time. Rule R37.
func (v *view) wait(ix plan.StepIndex, list []Blocker) []Blocker {
	until := v.s.notBefore(ix)
	if until == 0 {
		return list
	}
	b := Blocker{"Not before " + momentWords(until) + ": " + spanWords(v.s.lay.plan.Steps[ix].Wait) + " from " +
		v.s.clock(v.s.ahead.held[v.s.lay.plan.Steps[ix].ID]), "wait; or " + override(noun("step", v.s.lay.plan.Steps[ix].ID))}
	v.dateOf(ix, b.Text, When{Known: true, At: until})
	return append(list, b)
}

// momentWords is a moment in words: "25 November 16:20". Days and hours are
// those of UTC.
func momentWords(at int64) string { return time.UnixMicro(at).UTC().Format("2 January 15:04") }

// agoWords is how long ago something was: to the minute, and a moment below one.
func agoWords(d time.Duration) string {
	if d < time.Minute {
		return "a moment ago"
	}
	return spanWords(d.Round(time.Minute)) + " ago"
}

// spanWords is a span of time in its two largest units: "2 h", "1 h 30 min",
// "5 min", "90 s" below two minutes that are not whole.
func spanWords(d time.Duration) string {
	d = d.Round(time.Second)
	switch {
	case d < 2*time.Minute && d%time.Minute != 0:
		return strconv.Itoa(int(d.Seconds())) + " s"
	case d < time.Hour:
		return strconv.Itoa(int(d.Minutes())) + " min"
	case d >= 48*time.Hour:
		return plural(int(d.Hours()/24), "day")
	case d%time.Hour < time.Minute:
		return strconv.Itoa(int(d.Hours())) + " h"
	}
	return strconv.Itoa(int(d.Hours())) + " h " + strconv.Itoa(int(d.Minutes())%60) + " min"
}

// TooSoon is until when a mark that stands should have been waited for, by the
// last fact of the job, microseconds since 1970; 0: it was in time.
func (s *State) TooSoon(mark events.Mark) int64 {
	m, ok := s.lay.plan.Mark(mark)
	if !ok || !s.now.Mark(m) {
		return 0
	}
	for _, ix := range s.lay.waits {
		step := &s.lay.plan.Steps[ix]
		f, held := s.ahead.held[step.ID]
		if r := s.Fact(f); contains(step.Sets, m) && held && r != nil {
			if until := r.At + step.Wait.Microseconds(); until > s.job.LatestAt() && !s.overrideAfter(noun("step", step.ID), f) {
				return until
			}
		}
	}
	return 0
}

// tooSoon lists marks that were told before their wait was over; it clears
// itself once later facts show that it is.
func (r *redList) tooSoon() {
	for _, ix := range r.s.lay.waits {
		step := &r.s.lay.plan.Steps[ix]
		for _, m := range step.Sets {
			if until := r.s.TooSoon(r.s.lay.plan.Marks[m].ID); until != 0 {
				r.add(RedWait, r.s.ahead.held[step.ID], step.Name+": told before its "+spanWords(step.Wait)+" were over",
					"wait until "+momentWords(until)+"; or "+override(noun("step", step.ID)))
			}
		}
	}
}
