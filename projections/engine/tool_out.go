package engine

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// ToolOut is a tool of the shop that somebody took for this job and that is not
// back.
type ToolOut struct {
	Tool  events.Tool
	By    events.Badge
	Step  events.Step // that it was taken for; empty: not said
	Since ledger.Fact
}

// RedTool is the line of a tool that was taken for the job and is not back.
const RedTool = "tool"

func (s *State) toolTaken(e *events.ToolTaken) {
	s.toolBack(e.Tool)
	s.toolsOut = append(s.toolsOut, ToolOut{e.Tool, s.rec.Operator, e.Step, s.fact})
}

func (s *State) toolBack(t events.Tool) {
	s.toolsOut = slices.DeleteFunc(s.toolsOut, func(o ToolOut) bool { return o.Tool == t })
}

func (s *State) toolIsOut(t events.Tool) bool {
	return slices.ContainsFunc(s.toolsOut, func(o ToolOut) bool { return o.Tool == t })
}

// ToolsOut lists the tools of the shop that were taken for this job and are
// not back, in the order in which they were taken.
func (s *State) ToolsOut() []ToolOut { return slices.Clone(s.toolsOut) }

// ToolInside says where in the engine a tool is that went in as a loan and is
// not out; false: it is not inside.
func (s *State) ToolInside(t events.Tool) (where string, in bool) {
	st, ok := s.loans[events.Loan(t)]
	if !ok || st.In == 0 {
		return "", false
	}
	return st.Where, true
}

// InsideWords names for people where in the engine a loan is: its cavity, or its
// joint and hole; empty where that was not said.
func (s *State) InsideWords(where string) string {
	if c, ok := s.lay.plan.Cavity(events.Cavity(where)); ok {
		return s.lay.plan.Cavities[c].Name
	}
	if joint, hole, ok := strings.Cut(where, ":"); ok {
		return s.jointWords(joint) + ", hole " + hole
	}
	return where
}

// ToolSteps lists the steps that can still be done or are under way and need
// one of some tools: those that its absence stops.
func (s *State) ToolSteps(ids ...string) []events.Step {
	var list []events.Step
	for i := range s.lay.plan.Steps {
		ix := plan.StepIndex(i)
		if s.now.IsDone(ix) {
			continue
		}
		for _, t := range s.lay.plan.ToolsFor(ix) {
			if contains(ids, t) {
				list = append(list, s.lay.plan.Steps[i].ID)
				break
			}
		}
	}
	return list
}

// PlanTools lists the tools that the plan's steps need, each once.
func (s *State) PlanTools() []string {
	var list []string
	for i := range s.lay.plan.Steps {
		for _, t := range s.lay.plan.ToolsFor(plan.StepIndex(i)) {
			if !contains(list, t) {
				list = append(list, t)
			}
		}
	}
	return list
}

// tools is the close-up count of the tools: each that was taken for the job and
// is not back may lie in the engine. Rule R63.
func (r *redList) tools() {
	for _, o := range r.s.toolsOut {
		text := "Tool " + string(o.Tool) + " was taken for this job"
		if o.By != "" {
			text += " by " + string(o.By)
		}
		if where, in := r.s.ToolInside(o.Tool); in {
			text += " and is in the engine"
			if where != "" {
				text += ", " + where
			}
		} else {
			text += " and is not back"
		}
		r.add(RedTool, o.Since, text+" since "+r.s.day(o.Since), "when it hangs in its place or went on to another job "+say("tool "+string(o.Tool), "BACK"))
	}
}

// toolWords tells what happened to a tool; empty for other facts.
func (s *State) toolWords(ev events.Event) string {
	switch e := ev.(type) {
	case events.ToolIssued:
		return "tool " + string(e.Tool) + " is on the shop's register"
	case events.ToolTaken:
		text := "tool " + string(e.Tool) + " taken for this job"
		if e.Step != "" {
			text += ", for " + s.nounWords(noun("step", e.Step))
		}
		return text
	case events.ToolBack:
		return "tool " + string(e.Tool) + " is back"
	}
	return ""
}

// StepTorques lists the torques, in newton metres, of the stages that a step's
// fasteners are tightened with, each once; of a range both ends.
func (j *Job) StepTorques(id events.Step) []float64 {
	p := j.State().lay.plan
	ix, ok := p.Step(id)
	if !ok {
		return nil
	}
	var list []float64
	for t := range p.Tightening {
		for g := range p.Tightening[t].Groups {
			gr := &p.Tightening[t].Groups[g]
			if !slices.ContainsFunc(gr.Holes, func(h plan.SeatIndex) bool { return contains(p.Steps[ix].Fastens, h) }) {
				continue
			}
			for e := range gr.Editions {
				for _, st := range gr.Editions[e].Stages {
					if !st.Known || st.Kind != plan.StageTorque && st.Kind != plan.StageSnug {
						continue
					}
					for _, nm := range [...]float64{st.Min, st.Max} {
						if !contains(list, nm) {
							list = append(list, nm)
						}
					}
				}
			}
		}
	}
	return list
}

// tellsCarried tells what happened to tools, trays, batches, and to what lies
// on a shelf.
func (s *State) tellsCarried(ev events.Event) string {
	for _, words := range [...]func(events.Event) string{s.toolWords, s.carriedWords, s.batchWords, s.ageWords} {
		if text := words(ev); text != "" {
			return capital(text)
		}
	}
	return ""
}
