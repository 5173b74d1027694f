package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What is kept of the red lines is never older than the job.
func TestRedIsNeverStale(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := draw{rt}
		job := &Job{}
		for _, f := range history(d, text, 12) {
			job.Apply(&f)
			require.ElementsMatch(rt, job.lines(), job.Red())
		}
		job.Use(Limits{FailedMethods: 1})
		require.ElementsMatch(rt, job.lines(), job.Red())
	})
}
