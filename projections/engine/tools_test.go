package engine

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// Rule R36: a tool that somebody else has stops the steps that need it, by
// their own list and by the tightening list of what they fasten; a tool that
// nobody speaks of is here.
func TestAToolThatIsAwayStopsItsSteps(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.told(events.PlanAmended{Op: "alter", Section: "steps", ID: "shells-in", Text: "{tools: [shell-tool]}", Why: "as we do it"})
	require.Equal(t, []string{"shell-tool"}, c.s().ToolsOf("shells-in"))
	require.Empty(t, c.s().ToolsOf("nothing"))
	stopped := func() (steps []string) {
		for _, n := range c.job.WhatNow() {
			for _, b := range n.Blockers {
				if strings.HasPrefix(b.Text, "Tool ") {
					steps = append(steps, string(n.Step)+": "+b.String())
				}
			}
		}
		return steps
	}
	require.Empty(t, stopped(), "by default all tools are here")
	c.job.Tools(map[string]string{"shell-tool": "with job 4K9", "lamp": "broken"})
	require.Equal(t, []string{"shells-in: Tool shell-tool is not here: with job 4K9: bring it, or take another of its kind: scan tool shell-tool, BACK"}, stopped())
	require.NotEmpty(t, c.job.Can("shells-in"))
	c.job.Tools(nil)
	require.Empty(t, stopped())
}
