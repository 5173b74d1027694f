package engine

import (
	"maps"

	"countback/events"
	"countback/projections/plan"
)

// Tools tells the rules which tools of the shop cannot be had now, by their
// ids in the plan: where each is, or why not ("with job 4K9", "out of range").
// A tool that is not named is here. Who has which tool is not this package's
// business; whoever keeps the register says it before a question is asked.
func (j *Job) Tools(away map[string]string) {
	if maps.Equal(j.away, away) {
		return
	}
	j.away = maps.Clone(away)
	j.toolsSaid++
}

// ToolsOf lists the tools that a step needs, each once; nil for a step that the
// plan does not have.
func (s *State) ToolsOf(step events.Step) []string {
	ix, ok := s.lay.plan.Step(step)
	if !ok {
		return nil
	}
	return s.lay.plan.ToolsFor(ix)
}

// tools holds a step whose tools cannot be had. Rule R36.
func (v *view) tools(ix plan.StepIndex, list []Blocker) []Blocker {
	away := v.s.job.away
	if len(away) == 0 {
		return list
	}
	for _, tool := range v.s.lay.plan.ToolsFor(ix) {
		if why, gone := away[tool]; gone {
			text := "Tool " + tool + " is not here"
			if why != "" {
				text += ": " + why
			}
			v.dateOf(ix, text, onDay(v.s.promiseOn(noun("tool", tool))))
			list = append(list, Blocker{text, "bring it, or take another of its kind: " + say("tool "+tool, "BACK")})
		}
	}
	return list
}
