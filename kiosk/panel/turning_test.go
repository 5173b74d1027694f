package panel

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// What CAN I? says of a joint is on the screen in full: how far each stage is,
// where it is missing, in which order the holes are turned, and how it is
// loosened.
func TestCanIOfAJointShowsItsStages(t *testing.T) {
	s := newStage(t, "joint exhaust", "ALL OUT", "joint exhaust", "ALL IN", "joint exhaust", "STAGE", "joint exhaust", "hole 1", "hole 2", "STAGE",
		"joint exhaust", "CAN I?")
	p := s.panel()
	require.Equal(t, "turning", p.Name)
	require.Contains(t, p.Title, "can I?")
	require.Contains(t, p.Stand, "is next")
	require.NotEmpty(t, rows(p, "Next"))
	require.Contains(t, allText(p), "In this order: ")
	stages := rows(p, "Its stages")
	require.GreaterOrEqual(t, len(stages), 2)
	require.Contains(t, stages[1], "missing at ")
	require.NotEmpty(t, rows(p, "To loosen"))
	s.scan("part crankshaft", "CAN I?")
	require.NotContains(t, s.panel().Title, "Steps")
}

// Before anything is turned, and once all of it is done, it says the same.
func TestCanIOfAJointThatIsDone(t *testing.T) {
	p := newStageOn(t, "joint head", "CAN I?")
	require.Equal(t, "every stage that is due is done", p.Stand)
	require.Len(t, rows(p, "Its stages"), 4)
	require.Contains(t, allText(p), "10, 9, 8, 7, 6, 5, 4, 3, 2, 1")
}

// MUST COME OFF? answers; what is decided is said afterwards.
func TestMustComeOffDecidesNothing(t *testing.T) {
	for _, lines := range [][]string{{"part crankshaft", "MUST COME OFF?"}, {"part cam-intake", "AGAINST", "part head"}} {
		s := newStage(t, lines...)
		require.Equal(t, "WHICH WAY?", s.term.Screen().Next()[0], lines)
	}
}

// A hole is known by what is turned in it, whatever lies below.
func TestAHoleIsKnownByWhatIsTurned(t *testing.T) {
	for _, name := range []string{"sorrel-i4-20", "bramble-t2-42"} {
		pl, err := plan.Load("../../testdata/plans/" + name + ".yaml")
		require.NoError(t, err)
		for i := range pl.Seats {
			seat := &pl.Seats[i]
			turned := map[events.Kind]bool{}
			for _, m := range seat.Members {
				if !m.Stays && m.Role != plan.RoleWasher {
					turned[m.Kind] = true
				}
			}
			if len(turned) > 0 {
				require.True(t, turned[mainKind(seat)], "%s: %s", seat.ID, mainKind(seat))
			}
		}
	}
}
