package engine

import (
	"time"

	"countback/events"
	"countback/projections/plan"
)

// When is the earliest moment at which a reason goes away.
type When struct {
	Known bool       // false: nobody promised, or nobody can say
	At    int64      // microseconds since 1970; 0: as soon as somebody does it
	Day   events.Day // where a day is all that is known: At is its first moment
}

// now is what a person can clear at once.
var now = When{Known: true}

// onDay is a day that somebody promised; unknown for none.
func onDay(d events.Day) When {
	if !d.Valid() {
		return When{}
	}
	return When{Known: true, At: d.Start(), Day: d}
}

// Now reports whether a person can clear it at once.
func (w When) Now() bool { return w.Known && w.At == 0 }

// later is the later of two: unknown beats every moment.
func (w When) later(o When) When {
	if !w.Known || o.Known && w.At >= o.At {
		return w
	}
	return o
}

// sooner is the sooner of two; unknown only if both are.
func (w When) sooner(o When) When {
	if !w.Known || o.Known && o.At < w.At {
		return o
	}
	return w
}

// after is so much later than w; a day becomes a moment.
func (w When) after(d time.Duration, from int64) When {
	if !w.Known || d == 0 {
		return w
	}
	at := w.At
	if at == 0 {
		at = from
	}
	if at == 0 {
		return w
	}
	return When{Known: true, At: at + d.Microseconds()}
}

// Words is when for people: "now", "unknown when", "14 December", "25 November
// 16:20". A day that is past was promised and not kept: it says so, seen from
// today (none: not known).
func (w When) Words(today events.Day) string {
	switch {
	case !w.Known:
		return "unknown when"
	case w.At == 0:
		return "now"
	case w.Day != "" && w.Day < today:
		return "promised for " + w.Day.Short(today) + ", not kept"
	case w.Day != "":
		return w.Day.Short(today)
	}
	return momentWords(w.At)
}

// dates is when each reason of each step goes away.
type dates struct {
	reasons [][]dated    // by step; not there: at once
	list    [][]Blocker  // by step: its reasons
	done    []bool       // by step: reasons and list are worked out
	busy    []bool       // by step: they are being worked out
	last    []When       // by step: see latest
	dated   []bool       // by step: last is worked out
	planned []events.Day // by step; see plannedStarts
}

// dated is when a reason goes away. A step has a few.
type dated struct {
	reason string
	when   When
}

// of is when a reason of a step goes away.
func (d *dates) of(ix plan.StepIndex, reason string) When {
	for i := range d.reasons[ix] {
		if at := &d.reasons[ix][i]; at.reason == reason {
			return at.when
		}
	}
	return now
}

// dates makes room for them at the first question.
func (v *view) dates() *dates {
	if v.due == nil {
		n := len(v.s.lay.plan.Steps)
		v.due = &dates{reasons: make([][]dated, n), list: make([][]Blocker, n), done: make([]bool, n), busy: make([]bool, n), last: make([]When, n), dated: make([]bool, n)}
	}
	return v.due
}

// dateOf notes when a reason of a step goes away.
func (v *view) dateOf(ix plan.StepIndex, reason string, w When) {
	d := v.dates()
	if w.Now() {
		return
	}
	for i := range d.reasons[ix] {
		if at := &d.reasons[ix][i]; at.reason == reason {
			at.when = w
			return
		}
	}
	d.reasons[ix] = append(d.reasons[ix], dated{reason, w})
}

// blockers is every reason why a step cannot be done now, worked out once.
func (v *view) blockers(ix plan.StepIndex) []Blocker {
	d := v.dates()
	if d.done[ix] {
		return d.list[ix]
	}
	d.busy[ix] = true
	d.list[ix] = v.reasons(ix)
	d.busy[ix], d.done[ix] = false, true
	return d.list[ix]
}

// whenOf is when each reason of a step goes away, in their order, and the
// latest of these. Rule R38.
func (v *view) whenOf(ix plan.StepIndex) (list []When, all When) {
	all = now
	reasons := v.blockers(ix)
	d := v.dates()
	if len(reasons) > 0 {
		list = make([]When, len(reasons))
	}
	for i := range reasons {
		w := d.of(ix, reasons[i].Text)
		list[i] = w
		all = all.later(w)
	}
	return list, all
}

// latest is when the last reason of a step goes away; worked out once.
func (v *view) latest(ix plan.StepIndex) When {
	reasons, d := v.blockers(ix), v.dates()
	if d.dated[ix] {
		return d.last[ix]
	}
	all := now
	for i := range reasons {
		all = all.later(d.of(ix, reasons[i].Text))
	}
	d.last[ix], d.dated[ix] = all, true
	return all
}

// earliest is when a step can be done at the earliest: when its last reason has
// gone, and for one that waits so much later. A step that is done, or that
// waits for itself, has nothing to add.
func (v *view) earliest(ix plan.StepIndex) When {
	if v.s.now.IsDone(ix) || v.dates().busy[ix] {
		return now
	}
	all := v.latest(ix)
	if step := &v.s.lay.plan.Steps[ix]; step.Wait > 0 && !step.When.Eval(v.s.now) && v.s.job.clock != 0 {
		return all.after(step.Wait, v.s.job.moment())
	}
	return all
}

// condition is when a condition can hold at the earliest.
func (v *view) condition(c *plan.Condition) When {
	s := v.s
	if c.Eval(s.now) {
		return now
	}
	switch c.Op {
	case plan.AllOf:
		all := now
		for i := range c.Kids {
			all = all.later(v.condition(&c.Kids[i]))
		}
		return all
	case plan.AnyOf:
		any := When{}
		for i := range c.Kids {
			any = any.sooner(v.condition(&c.Kids[i]))
		}
		return any
	case plan.OfStep:
		return v.earliest(c.Step)
	case plan.OfMark:
		return v.first(s.lay.plan.Setters(c.Mark))
	case plan.OfPart:
		return v.partBack(c.Part, c.Is)
	case plan.OfSeats, plan.OfSome:
		return v.filled(c)
	}
	return now
}

// first is when the first of several steps can be done; at once if there is
// none.
func (v *view) first(steps []plan.StepIndex) When {
	if len(steps) == 0 {
		return now
	}
	any := When{}
	for _, ix := range steps {
		any = any.sooner(v.earliest(ix))
	}
	return any
}

// partBack is when a part can be as a condition asks: one that is away comes
// back when its slip, or the part itself, is promised.
func (v *view) partBack(p plan.PartIndex, is plan.Is) When {
	s := v.s
	switch {
	case is != plan.IsAway && s.now.Part(p) == plan.PartAway:
		back := When{}
		if sl := s.slipOf(p); sl != nil {
			back = onDay(s.promiseOn(noun("slip", sl.Code)))
		}
		if own := onDay(s.promiseOn(s.lay.parts[p].noun)); own.Known {
			back = own
		}
		if is != plan.IsOn {
			return back
		}
		return back.later(v.first(s.lay.plan.Fitters(p)))
	case is == plan.IsOn:
		return v.first(s.lay.plan.Fitters(p))
	}
	return now
}

// filled is when the holes of a condition can be as it asks.
func (v *view) filled(c *plan.Condition) When {
	if c.Is != plan.IsFilled && c.Is != plan.IsFinished {
		return now
	}
	all := now
	for _, seat := range c.Seats {
		if st := v.s.now.Seat(seat); st < plan.SeatFilled {
			all = all.later(v.first(v.s.lay.plan.Fasteners(seat)))
		}
	}
	return all
}

// holdEnds is when a hold goes away: when what it is on, or the hold itself, is
// promised.
func (v *view) holdEnds(h *Hold) When {
	if w := onDay(v.s.promiseOn(noun("hold", h.ID))); w.Known {
		return w
	}
	return onDay(v.s.promiseOn(h.On))
}
