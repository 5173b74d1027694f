package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// A finding holds until decided, and then the steps on until what the decision
// adds is done (rule R56).
func TestFindingHoldsUntilItsWorkIsDone(t *testing.T) {
	for _, row := range []struct {
		name  string
		told  []events.Event
		state string
		holds bool
		red   bool
	}{
		{"raised", nil, "not decided", true, true},
		{"the owner is asked", []events.Event{events.FindingDecided{Finding: "f1", Decision: "ask-owner"}}, "waits for the owner", true, true},
		{"he answered", []events.Event{events.FindingDecided{Finding: "f1", Decision: "ask-owner"}, events.OwnerAnswered{Finding: "f1", Yes: true}}, "not decided", true, true},
		{"he answered without being asked", []events.Event{events.OwnerAnswered{Finding: "f1"}}, "not decided", true, true},
		{"asked again after a decision", []events.Event{events.FindingDecided{Finding: "f1", Decision: "use"}, events.FindingDecided{Finding: "f1", Decision: "ask-owner"}}, "waits for the owner", true, true},
		{"used", []events.Event{events.FindingDecided{Finding: "f1", Decision: "use"}}, "used as it is", false, false},
		{"to be repaired", []events.Event{events.FindingDecided{Finding: "f1", Decision: "repair"}}, "to be repaired", true, true},
		{"repaired", []events.Event{events.FindingDecided{Finding: "f1", Decision: "repair"}, events.FindingDone{Finding: "f1"}}, "done", false, false},
		{"repaired, and decided anew", []events.Event{events.FindingDecided{Finding: "f1", Decision: "repair"}, events.FindingDone{Finding: "f1"}, events.FindingDecided{Finding: "f1", Decision: "repair"}}, "to be repaired", true, true},
		{"to be replaced", []events.Event{events.FindingDecided{Finding: "f1", Decision: "replace"}}, "to be replaced", true, true},
		{"the new one is here", []events.Event{events.FindingDecided{Finding: "f1", Decision: "replace"},
			events.HardwareReceived{From: "outside/supplier/x", To: "place/shelf", Lines: []events.Line{{Kind: "cam", Qty: 1, Cond: events.New}}}}, "to be replaced, and the new one is here", false, true},
		{"another individual came", []events.Event{events.FindingDecided{Finding: "f1", Decision: "replace"}, events.Exchanged{Part: "cam", Old: "cam 1", New: "cam 2"}}, "done", false, false},
		{"to be sent out", []events.Event{events.FindingDecided{Finding: "f1", Decision: "send-out"}}, "to be sent out", true, true},
		{"away", []events.Event{events.FindingDecided{Finding: "f1", Decision: "send-out"}, events.SentOut{Slip: "S1", Parts: []events.Part{"cam"}}}, "to be sent out", true, true},
		{"back", []events.Event{events.FindingDecided{Finding: "f1", Decision: "send-out"}, events.SentOut{Slip: "S1", Parts: []events.Part{"cam"}}, events.Returned{Slip: "S1"}}, "done", false, false},
		{"back before it was decided", []events.Event{events.SentOut{Slip: "S1", Parts: []events.Part{"cam"}}, events.Returned{Slip: "S1"}, events.FindingDecided{Finding: "f1", Decision: "send-out"}}, "to be sent out", true, true},
		{"a decision that this program does not know", []events.Event{events.FindingDecided{Finding: "f1", Decision: "melt"}}, "done", false, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := crewOn(t, gaugedPlan)
			c.told(events.PartRemoved{Part: "cam"})
			c.told(events.FindingRaised{Finding: "f1", On: "part cam", What: "scored"})
			for _, ev := range row.told {
				c.told(ev)
			}
			f := c.job.FindingsNow()[0]
			require.Equal(t, row.state, f.State)
			require.Equal(t, row.red, f.Next != "", f.Next)
			require.Equal(t, row.red, hasCode(c.job, RedFinding) || hasCode(c.job, RedWork))
			held := false
			for _, b := range c.job.Can("cam-on") {
				held = held || b.Clear == f.Next
			}
			require.Equal(t, row.holds, held)
		})
	}
}

func TestFinishFindingIsRefused(t *testing.T) {
	c := crewOn(t, gaugedPlan)
	require.Equal(t, Unknown, c.refused(FinishFinding{Finding: "f1"}).Code)
	c.told(events.FindingRaised{Finding: "f1", On: "part cam", What: "scored"})
	require.Equal(t, Conflict, c.refused(FinishFinding{Finding: "f1"}).Code)
	c.told(events.FindingDecided{Finding: "f1", Decision: "use"})
	require.Equal(t, Conflict, c.refused(FinishFinding{Finding: "f1"}).Code)
	c.told(events.FindingDecided{Finding: "f1", Decision: "repair"})
	c.told(c.ask(FinishFinding{Finding: "f1"}))
	ev, err := c.job.Decide(FinishFinding{Finding: "f1"})
	require.NoError(t, err)
	require.Nil(t, ev, "done already")
}
