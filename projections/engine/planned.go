package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// before lists by step what it waits for in any case; see waitsFor.
func before(p *plan.Plan) [][]plan.StepIndex {
	list := make([][]plan.StepIndex, len(p.Steps))
	for i := range p.Steps {
		if !p.Steps[i].Section.Apart() {
			list[i] = waitsFor(p, &p.Steps[i].When, nil)
		}
	}
	return list
}

// startAt is a planned start: a day, and minutes of work into it.
type startAt struct {
	day     events.Day
	minutes int
}

func (a startAt) before(b startAt) bool {
	return a.day != "" && (b.day == "" || a.day < b.day || a.day == b.day && a.minutes < b.minutes)
}

// plus is so many minutes of work later; full days are carried on.
func (a startAt) plus(minutes, perDay int) startAt {
	if a.day == "" {
		return a
	}
	m := a.minutes + minutes
	days := m / perDay
	if m < 0 {
		days = -((-m + perDay - 1) / perDay)
	}
	if d := a.day.Plus(days); d != "" {
		return startAt{d, m - days*perDay}
	}
	return a
}

// plannedStarts is the day on which each step that puts together is meant to
// start: as somebody said; else when the last of those that it waits for is
// meant to be finished, by their minutes; and never later than lets the steps
// that wait for it start as meant. None where nothing that it is tied to is
// planned. Rule R39.
func (v *view) plannedStarts() []events.Day {
	d := v.dates()
	if d.planned == nil {
		d.planned = v.s.plannedStarts()
	}
	return d.planned
}

func (s *State) plannedStarts() []events.Day {
	p := s.lay.plan
	out := make([]events.Day, len(p.Steps))
	if len(s.ahead.planned) == 0 {
		return out
	}
	starts := make([]startAt, len(p.Steps))
	said := make([]bool, len(p.Steps))
	for _, pl := range s.ahead.planned {
		if ix, ok := p.Step(pl.Step); ok && pl.Day.Valid() {
			starts[ix], said[ix] = startAt{pl.Day, 0}, true
		}
	}
	perDay := max(1, s.job.Limits().DayMinutes)
	for _, ix := range s.lay.order { // forward: behind those that it waits for
		for _, b := range s.lay.before[ix] {
			if after := starts[b].plus(p.Steps[b].Minutes, perDay); !said[ix] && starts[ix].before(after) || starts[ix].day == "" {
				starts[ix] = after
			}
		}
	}
	for n := len(s.lay.order) - 1; n >= 0; n-- { // backward: in time for those that wait for it
		ix := s.lay.order[n]
		for _, b := range s.lay.before[ix] {
			if latest := starts[ix].plus(-p.Steps[b].Minutes, perDay); !said[b] && latest.before(starts[b]) {
				starts[b] = latest
			}
		}
	}
	for i := range starts {
		out[i] = starts[i].day
	}
	return out
}

// PlannedStart is the day on which a step is meant to start, as said or as it
// follows; none where nothing that it is tied to is planned.
func (j *Job) PlannedStart(step events.Step) events.Day {
	s := j.State()
	ix, ok := s.lay.plan.Step(step)
	if !ok {
		return ""
	}
	return s.view().plannedStarts()[ix]
}
