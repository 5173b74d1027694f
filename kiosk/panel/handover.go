package panel

import (
	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

// headings sort what is not as it should be for the one who takes over; what
// is in none of them stands under the last.
var headings = []struct {
	head  string
	codes []string
}{
	{"Short, over, never counted", []string{engine.RedShort, engine.RedOver, engine.RedDisagreement, engine.RedUncounted, engine.RedLeftOver, engine.RedMixed}},
	{"In it, and does not belong there", []string{engine.RedLoan, engine.RedTrial, engine.RedParked, engine.RedOddKind, engine.RedReused, engine.RedCondemned, engine.RedTurned}},
	{"Broken fasteners", []string{engine.RedCase, engine.RedOtherEnd, engine.RedPastStop}},
	{"Holds, findings, second counts", []string{engine.RedHold, engine.RedFinding, engine.RedGate}},
	{"Away", []string{engine.RedSlip, engine.RedTool}},
	{"Besides", nil},
}

// OfHandOver is what the next person has to know: what is begun, what is not
// tightened to the end, everything that is not as it should be, what stands
// open, and what can be done next.
func OfHandOver(j *engine.Job) Panel {
	n := of(j)
	p := Panel{Name: "hand-over", Title: "Hand-over"}
	begun, next := Group{Head: "Begun"}, Group{Head: "Can be done next"}
	for _, s := range j.WhatNow() {
		switch {
		case s.State == engine.PartDone:
			begun.add(Begun, stepName(s), begunMore(s))
		case s.State == engine.CanStart && !s.Optional:
			next.add(Now, stepName(s), "")
		}
	}
	p.with(begun)
	p.with(n.loosely())
	red := j.Red()
	for i := range headings {
		p.with(redUnder(red, i))
	}
	p.with(n.gates())
	p.with(n.open())
	p.with(n.bags())
	p.with(next)
	p.Stand = plural(len(red), "line") + " not as it should be, " + plural(len(begun.Rows), "step") + " begun"
	if len(red) == 0 && len(begun.Rows) == 0 {
		p.Stand = "nothing is open"
	}
	return p
}

// redUnder lists the red lines of one heading.
func redUnder(red []engine.RedLine, heading int) Group {
	g := Group{Head: headings[heading].head}
	for _, l := range red {
		at := len(headings) - 1
		for i := range headings {
			if has(headings[i].codes, l.Code) {
				at = i
			}
		}
		if at == heading {
			g.add(Look, l.Text, l.Scan)
		}
	}
	return g
}

// loosely lists the joints that are in and not tightened to the end.
func (n names) loosely() Group {
	g := Group{Head: "In, not tightened to the end"}
	pl := n.st.Plan()
	for i := range pl.Joints {
		var seats []plan.SeatIndex
		for _, ix := range pl.Joints[i].Seats[:pl.Joints[i].Own] {
			if n.st.Now().Seat(ix) == plan.SeatFilled {
				seats = append(seats, ix)
			}
		}
		if len(seats) > 0 {
			g.add(In, pl.SeatNames(seats), "")
		}
	}
	return g
}

// gates tells of every second count that is owed, and how it was met: also by
// one person alone, by a fresh count after a gap of hours.
func (n names) gates() Group {
	g := Group{Head: "Second counts"}
	for _, gate := range n.st.Gates() {
		name := n.step(gate.Step)
		switch {
		case !gate.Owed || !gate.Passed && gate.Check == nil:
			continue // a red line if it is owed
		case gate.Check != nil && !gate.Passed:
			g.add(Look, name+": counted by "+string(gate.Check.Second)+", and it differs", "")
		case gate.Check != nil && gate.Check.Alone:
			g.add(Done, name+": counted again by "+string(gate.Check.Second)+" alone, after a gap", "no second person")
		case gate.Check != nil:
			g.add(Done, name+": counted by "+string(gate.Check.Second), "")
		default:
			g.add(Look, name+": a second person let it pass without a count", "")
		}
	}
	return g
}

// open lists the cavities that stand open.
func (n names) open() Group {
	g := Group{Head: "Open"}
	pl := n.st.Plan()
	for i := range pl.Cavities {
		c := &pl.Cavities[i]
		if !n.st.Now().Open(plan.CavityIndex(i)) {
			continue
		}
		more := ""
		for k, to := range c.LeadsTo {
			if k > 0 {
				more += ", "
			}
			more += pl.Cavities[to].Name
		}
		if more != "" {
			more = "leads to " + more
		}
		g.add(Plain, capital(c.Name), more)
	}
	return g
}

// Line is one fact that was stored, as a sentence in the past tense.
type Line struct {
	ID   events.FactID
	Time string // "15:04"
	Who  string
	Text string
}

// Log is the last facts of a job, the newest first.
func Log(j *engine.Job, most int) []Line {
	var list []Line
	facts := j.Facts()
	for i := len(facts) - 1; i >= 0 && len(list) < most; i-- {
		r := &facts[i]
		switch e := r.Event.(type) {
		case events.TagsIssued:
			continue
		case events.Corrected:
			if l, ok := undone(j, r, e); ok {
				list = append(list, l)
			}
		default:
			list = append(list, Line{r.ID(), clock(r.At), who(r), told(j, r)})
		}
	}
	return list
}

// told is a fact as the job reads it now.
func told(j *engine.Job, r *events.Record) string {
	ev, ok := j.Standing(r.ID())
	if !ok {
		return "taken back: " + j.State().Tells(r.Event)
	}
	return j.State().Tells(ev)
}

// undone is the line of a correction that stands.
func undone(j *engine.Job, r *events.Record, c events.Corrected) (Line, bool) {
	wrong, ok := j.Find(c.Wrong)
	if _, stands := j.Standing(r.ID()); !ok || !stands {
		return Line{}, false
	}
	text := "took back: " + j.State().Tells(wrong.Event)
	if c.Instead != nil {
		text = "corrected: " + j.State().Tells(c.Instead)
	}
	return Line{r.ID(), clock(r.At), who(r), text}, true
}
