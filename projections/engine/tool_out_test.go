package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// Rule R63: the close-up count of the tools.
func TestAToolThatIsNotBackIsRed(t *testing.T) {
	c := newCrew(t)
	c.told(events.ToolTaken{Tool: "lamp", Step: "head-on"})
	require.True(t, redSays(t, c.job, RedTool, "Tool lamp was taken for this job by Marit and is not back"))
	a, ok := c.job.Audit("ready-to-start")
	require.True(t, ok)
	require.Contains(t, codes(a.Red), RedTool)
	c.told(events.LoanIn{Loan: "lamp", Count: 1, Where: "timing-case"})
	require.True(t, redSays(t, c.job, RedTool, "is in the engine, timing-case"))
	where, in := c.s().ToolInside("lamp")
	require.True(t, in)
	require.Equal(t, "timing-case", where)
	c.told(events.LoanOut{Loan: "lamp", Count: 1})
	c.told(events.ToolBack{Tool: "lamp"})
	require.False(t, hasCode(c.job, RedTool))
	ev, err := c.job.Decide(Tell{events.ToolBack{Tool: "lamp"}})
	require.NoError(t, err)
	require.Nil(t, ev, "it is back already")
}

func TestTheTorquesOfAStep(t *testing.T) {
	c := newCrew(t)
	require.Contains(t, c.job.StepTorques("coils-on"), 10.0)
	require.Empty(t, c.job.StepTorques("harness-off"))
	require.Empty(t, c.job.StepTorques("no-such"))
}
