package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// half is one half of the story: what was scanned and stored in it.
type half struct{ scans, sizes, facts int }

// count counts one scan. A plain number is a size that was counted.
func (h *half) count(line string, got turn) {
	h.scans++
	if _, err := strconv.Atoi(line); err == nil {
		h.sizes++
	}
	h.facts += len(got.Stored)
}

// builds reports whether a routine part puts the engine together.
func (r *rehearsal) builds(order string) bool {
	word, rest, _ := strings.Cut(order, " ")
	p := r.p.at.Job().State().Plan()
	for _, id := range strings.Fields(rest) {
		if ix, ok := p.Step(events.Step(id)); ok && word == "step" {
			s := p.Steps[ix].Section
			return s == plan.On || s == plan.BenchTogether
		}
	}
	return false
}

// storyCounts is the table of the whole job: the first half ends where the
// first step begins that puts something together.
func storyCounts(t *testing.T, apart, together half) {
	var b strings.Builder
	b.WriteString("# Scans of the demo job\n\nComputed by the test that plays the story, with all that goes wrong in it. Allowed are three scans for each fact that is stored, and one for each size that is counted.\n\n")
	b.WriteString("| the demo job | scans | sizes | facts | allowed |\n|---|---|---|---|---|\n")
	both := half{apart.scans + together.scans, apart.sizes + together.sizes, apart.facts + together.facts}
	for _, row := range []struct {
		what string
		half
	}{{"the whole teardown, head out and back", apart}, {"the whole build, to the first start and release", together}, {"both", both}} {
		require.LessOrEqual(t, row.scans, 3*row.facts+row.sizes, row.what)
		fmt.Fprintf(&b, "| %s | %d | %d | %d | %d |\n", row.what, row.scans, row.sizes, row.facts, 3*row.facts+row.sizes)
	}
	file := filepath.Join(root(t), "testdata", "scripts", "STORY.md")
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
		readmeTables(t)
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run the test with -update to write it")
	require.Equal(t, string(want), b.String(), "run the test with -update if this is right")
}
