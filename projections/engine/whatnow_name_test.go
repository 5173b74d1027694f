package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// Steps of one name are told apart by what they belong to; no two of a list read
// alike.
func TestStepsOfOneName(t *testing.T) {
	list := []StepNow{{Step: "a", Name: "Pin in", Section: plan.Off}, {Step: "b", Name: "Pin in", Section: plan.On}, {Step: "c", Name: "Head off"},
		{Step: "d", Name: "Sort", Section: plan.On}, {Step: "e", Name: "Sort", Section: plan.On}, {Step: "f"}, {Step: "g"},
		{Step: "h", Name: "Turn", Section: plan.Off}, {Step: "i", Name: "Turn", Section: plan.On}, {Step: "j", Name: "Turn", Section: plan.On}}
	tellApart(list)
	var names []string
	for _, s := range list {
		names = append(names, s.Name)
	}
	require.Equal(t, []string{"Pin in, teardown", "Pin in, build", "Head off", "Sort, d", "Sort, e", "", "", "Turn, teardown", "Turn, build, i", "Turn, build, j"}, names)
}
