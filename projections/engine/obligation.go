package engine

import (
	"fmt"
	"strconv"

	"countback/events"
	"countback/projections/gauge"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// ObligationNow is how something stands that falls due after a start.
type ObligationNow struct {
	ID    string
	What  string
	After string      // when it falls due, in words
	Far   string      // how far that is
	Due   bool        // it is due now
	Met   ledger.Fact // 0: not met
	Ways  []DueWay    // each of which makes it due when it has come
}

// DueWay is how far one thing has come that makes an obligation due.
type DueWay struct {
	Of         string // "heat cycles", "minutes", "km"
	Have, Want float64
}

// Obligations lists what falls due after the engine was started, in the plan's
// order. Before the first start nothing is owed.
func (j *Job) Obligations() []ObligationNow {
	s := j.State()
	p := s.lay.plan
	var list []ObligationNow
	for i := range p.Obligations {
		o := &p.Obligations[i]
		n := ObligationNow{ID: o.ID, What: o.What, After: o.AfterText(p), Far: s.howFar(o), Due: len(s.run.starts) > 0 && s.reached(o), Met: s.run.met[o.ID], Ways: s.dueWays(o)}
		list = append(list, n)
	}
	return list
}

// reached reports whether what an obligation waits for has come.
func (s *State) reached(o *plan.Obligation) bool {
	marks := len(o.Marks) > 0
	for _, m := range o.Marks {
		marks = marks && s.now.Mark(m)
	}
	return marks || o.HeatCycles > 0 && s.HeatCycles() >= o.HeatCycles || o.Minutes > 0 && s.MinutesRun() >= o.Minutes ||
		o.Km > 0 && s.Km() >= float64(o.Km)
}

func (s *State) dueWays(o *plan.Obligation) []DueWay {
	var list []DueWay
	for _, w := range [...]DueWay{{"heat cycles", float64(s.HeatCycles()), float64(o.HeatCycles)}, {"minutes", float64(s.MinutesRun()), float64(o.Minutes)},
		{"km", s.Km(), float64(o.Km)}} {
		if w.Want > 0 {
			list = append(list, w)
		}
	}
	return list
}

func (s *State) howFar(o *plan.Obligation) string {
	var list []string
	if o.HeatCycles > 0 {
		list = append(list, fmt.Sprintf("%d of %s", s.HeatCycles(), plural(o.HeatCycles, "heat cycle")))
	}
	if o.Minutes > 0 {
		list = append(list, fmt.Sprintf("%d of %s", s.MinutesRun(), plural(o.Minutes, "minute")))
	}
	if o.Km > 0 {
		list = append(list, strconv.FormatFloat(s.Km(), 'f', -1, 64)+" of "+itoa(o.Km)+" km")
	}
	return wordList(list)
}

// running lists what a start left open (rule R58).
func (r *redList) running() {
	s := r.s
	if len(s.run.starts) == 0 {
		return
	}
	for i := range s.run.starts {
		st := &s.run.starts[i]
		if len(st.Without) > 0 && !s.overrideAfter(noun("act", events.Cranking), st.Fact) {
			r.add(RedStart, st.Fact, "Started on "+s.clock(st.Fact)+" without: "+wordList(st.Without), "look what it did; then "+override(noun("act", events.Cranking)))
		}
	}
	for _, n := range s.job.Running() {
		if n.Advice == "" || !n.Known {
			continue
		}
		text, since := capital(n.Of)+": not read since the start", s.run.starts[len(s.run.starts)-1].Fact
		if k := len(n.Reads); k > 0 {
			text, since = capital(n.Of)+": "+n.Reads[k-1].Words(), n.Reads[k-1].Fact
		}
		r.add(RedRunRead, since, text, n.Advice)
	}
	for _, o := range s.job.Obligations() {
		if o.Due && o.Met == 0 {
			r.add(RedObligation, s.run.starts[0].Fact, capital(o.What)+": due after "+o.After, "do it; then "+say("obligation "+o.ID, "DONE"))
		}
	}
}

// obligations carries what is not due yet on the record of every audit.
func (c *auditList) obligations() {
	if len(c.s.run.starts) == 0 {
		return
	}
	for _, o := range c.s.job.Obligations() {
		if !o.Due && o.Met == 0 {
			text := capital(o.What) + ": falls due after " + o.After
			if o.Far != "" {
				text += " (" + o.Far + ")"
			}
			c.add(len(c.points), RedObligation, 0, text, "when it is done "+say("obligation "+o.ID, "DONE"))
		}
	}
}

// Outputs lists what the engine gave, by rising speed. Read only.
func (s *State) Outputs() []Output { return s.run.outputs }

// measures are the pairs of units in which an output is told.
var outputMeasures = map[string]gauge.Measure{"hp lbf.ft": gauge.HorsepowerPoundFeet, "kW N.m": gauge.KilowattsNewtonMetres, "PS N.m": gauge.MetricHorsesNewtonMetres}

// OutputUnits is the pair of units in which an output is told where no unit is
// said: the shop's, or else those of the job's last output. Empty: neither is
// known, and it is asked.
func (s *State) OutputUnits() string {
	if s.job != nil {
		if u := s.job.Limits().OutputUnits; u != "" {
			return u
		}
	}
	if n := len(s.run.outputs); n > 0 {
		return s.run.outputs[n-1].Units
	}
	return ""
}

// OutputPairs lists the pairs of units in which an output can be told.
func OutputPairs() []string { return []string{"kW N.m", "hp lbf.ft", "PS N.m"} }

// DoubtOutput is what makes a reading of power and torque hard to believe, by
// itself and beside those before it; empty: nothing.
func (j *Job) DoubtOutput(units string, rpm int, power, torque float64) string {
	s := j.State()
	m, ok := outputMeasures[units]
	if !ok {
		return "nothing is known about " + units
	}
	run := gauge.Run{Measure: m}
	for i := range s.run.outputs {
		if o := &s.run.outputs[i]; o.Units == units && !o.Sure {
			run.Points = append(run.Points, gauge.Point{RPM: float64(o.RPM), Power: o.Power, Torque: o.Torque})
		}
	}
	run.Points = append(run.Points, gauge.Point{RPM: float64(rpm), Power: power, Torque: torque})
	for _, d := range run.Check(gauge.FewPercent) {
		if d.Point == len(run.Points) {
			return d.Why
		}
	}
	return ""
}

// OutputLine is one speed with both numbers: one that was not read is worked
// out from the other.
type OutputLine struct {
	Output
	PowerOf  float64
	TorqueOf float64
	Doubt    string // they do not agree, and were told to be so
}

// OutputLines lists the outputs with both numbers.
func (j *Job) OutputLines() []OutputLine {
	s := j.State()
	var list []OutputLine
	for i := range s.run.outputs {
		o := &s.run.outputs[i]
		l := OutputLine{Output: *o, PowerOf: o.Power, TorqueOf: o.Torque}
		if m, ok := outputMeasures[o.Units]; ok && o.RPM > 0 {
			switch {
			case o.Power == 0:
				l.PowerOf = m.Power(o.Torque, float64(o.RPM))
			case o.Torque == 0:
				l.TorqueOf = m.Torque(o.Power, float64(o.RPM))
			}
			one := gauge.Run{Measure: m, Points: []gauge.Point{{RPM: float64(o.RPM), Power: o.Power, Torque: o.Torque}}}
			for _, d := range one.Check(gauge.FewPercent) {
				l.Doubt = d.Why
			}
		}
		list = append(list, l)
	}
	return list
}

// MeetObligation says that what fell due is done. Before it is due it is taken
// as well: work may be done early.
type MeetObligation struct {
	Obligation string
	Why        string
}

func (c MeetObligation) decide(s *State) (events.Event, error) {
	if _, ok := s.lay.plan.Obligation(c.Obligation); !ok {
		return nil, refuse(Unknown, "RUN lists them", "this job owes no %s", c.Obligation)
	}
	if len(s.run.starts) == 0 {
		return nil, refuse(Conflict, "say STARTED when it runs", "the engine was not started yet: nothing is owed")
	}
	if s.run.met[c.Obligation] != 0 {
		return nil, nil
	}
	return events.ObligationMet{Obligation: c.Obligation, Why: c.Why}, nil
}
