package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// The short way to a hole is the plan's own.
func TestHolesByNameAsThePlanHasThem(t *testing.T) {
	c := newCrew(t)
	p := c.plan()
	for j := range p.Joints {
		for i := range p.Seats {
			want, ok := p.Hole(p.Joints[j].ID, p.Seats[i].Hole)
			got, found := c.s().lay.hole(plan.JointIndex(j), p.Seats[i].Hole)
			require.Equal(t, ok, found)
			require.Equal(t, want, got)
		}
	}
}
