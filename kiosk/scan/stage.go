package scan

import (
	"fmt"
	"strconv"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

// NextStage is what a stage card means for some holes of a joint now: the
// list, the first stage that one of them lacks, and the holes that lack it.
type NextStage struct {
	Order  string
	Stage  int // from 1
	Stages int
	What   string
	Holes  []events.Hole // nil: all of the joint
}

// StageNow finds the next stage of a joint. false: the plan has no list for
// it, or all stages are recorded.
func StageNow(job *engine.Job, joint events.Joint, holes []events.Hole) (NextStage, bool) {
	st := job.State()
	p := st.Plan()
	j, ok := p.Joint(joint)
	if !ok {
		return NextStage{}, false
	}
	best := NextStage{}
	named := 0
	for _, ix := range p.Joints[j].Seats {
		seat := &p.Seats[ix]
		if len(holes) > 0 && !hasHole(holes, seat.Hole) || len(seat.Members) == 0 {
			continue
		}
		named++
		t, g := listOf(p, ix)
		if t == nil {
			continue
		}
		done := stagesDone(job, ix)
		stages := dueNow(t, g)
		if done >= len(stages) {
			continue
		}
		n := NextStage{Order: t.ID, Stage: done + 1, Stages: len(stages), What: stageText(stages[done])}
		if best.Stage == 0 || n.Stage < best.Stage {
			best = n
		}
		if n.Stage == best.Stage && n.What == best.What {
			best.Holes = append(best.Holes, seat.Hole)
		}
	}
	if best.Stage == 0 {
		return stageDue(st, joint, holes)
	}
	if len(best.Holes) == named && len(holes) == 0 {
		best.Holes = nil
	}
	return best, true
}

// stageDue is the stage of a joint that falls due later, once all others are
// recorded: after alignment, cold after the first heat.
func stageDue(st *engine.State, joint events.Joint, holes []events.Hole) (NextStage, bool) {
	for _, d := range st.Dues() {
		if d.Joint != joint {
			continue
		}
		n := NextStage{Stage: d.Stage, Stages: d.Stage, What: d.What}
		for _, h := range d.Holes {
			if len(holes) == 0 || hasHole(holes, h) {
				n.Holes = append(n.Holes, h)
			}
		}
		if len(n.Holes) > 0 {
			return n, true
		}
	}
	return NextStage{}, false
}

// listOf is the tightening list that a hole is on, and its group.
func listOf(p *plan.Plan, ix plan.SeatIndex) (*plan.Tightening, *plan.TightenGroup) {
	for i := range p.Tightening {
		t := &p.Tightening[i]
		if t.Loosen || t.ByMember && t.Member == plan.RoleStud {
			continue
		}
		for g := range t.Groups {
			for _, h := range t.Groups[g].Holes {
				if h == ix {
					return t, &t.Groups[g]
				}
			}
		}
	}
	return nil, nil
}

// dueNow are the stages of a group that do not fall due later, passes
// included. Of several editions the last one is shown; the builder chooses.
func dueNow(t *plan.Tightening, g *plan.TightenGroup) []plan.Stage {
	var now []plan.Stage
	if len(g.Editions) == 0 {
		return nil
	}
	for range max(1, t.Passes) {
		for _, st := range g.Editions[len(g.Editions)-1].Stages {
			if st.Due == "" {
				now = append(now, st)
			}
		}
	}
	return now
}

// stagesDone is how many stages were recorded for what is in a hole now.
func stagesDone(job *engine.Job, ix plan.SeatIndex) int {
	w := job.Where("hole " + string(job.State().Plan().Seats[ix].ID))
	if w.Hole == nil {
		return 0
	}
	return w.Hole.Stages
}

var stageUnits = map[plan.StageKind]string{plan.StageSnug: "N.m", plan.StageTorque: "N.m", plan.StageAngle: "deg",
	plan.StageStretch: "mm", plan.StagePressDepth: "mm"}

func stageText(s plan.Stage) string {
	if !s.Known {
		return fmt.Sprintf("%s %s", s.Kind, s.Text)
	}
	v := decimal(s.Min)
	if s.Max != s.Min {
		v += " to " + decimal(s.Max)
	}
	return fmt.Sprintf("%s %s %s", s.Kind, v, stageUnits[s.Kind])
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func buildStage(s *Said) (engine.Command, error) {
	n, ok := StageNow(s.Job, s.Joint(), s.Holes())
	if !ok {
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "every stage of " + string(s.Joint()) + " that is due now is recorded",
			Next: "say LOOSE first if it was loosened"}
	}
	return engine.Tell{Event: events.StageRecorded{Joint: s.Joint(), Holes: n.Holes, Order: n.Order, Stage: n.Stage,
		Stages: n.Stages, What: n.What}}, nil
}
