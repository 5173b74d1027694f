package plan

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite what is expected of broken plans")

const smallFile = "../../testdata/plans/small.yaml"

// Each file of testdata/plans/broken breaks the small plan by replacing lines,
// and says below the rule what the check then says. Lines:
//
//	# what is broken
//	- text that is replaced, anywhere in the plan, exactly once
//	+ what stands there instead
//	---
//	what is said, one fault a line
func TestBrokenPlans(t *testing.T) {
	small, err := os.ReadFile(smallFile)
	require.NoError(t, err)
	base := CheckSource("small.yaml", small)
	require.False(t, base.Broken(), base.Error())
	files, err := filepath.Glob("../../testdata/plans/broken/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	codes := map[Code]bool{}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			script, err := os.ReadFile(file)
			require.NoError(t, err)
			head, want, ok := strings.Cut(string(script), "---\n")
			require.True(t, ok, "no rule")
			var said strings.Builder
			for _, f := range CheckSource("small.yaml", []byte(breakPlan(t, string(small), head))) {
				if f.Level == Unknown {
					continue
				}
				codes[f.Code] = true
				said.WriteString(string(f.Code) + " " + f.String() + "\n")
			}
			require.NotEmpty(t, said.String(), "it is not broken")
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(head+"---\n"+said.String()), 0o644))
				return
			}
			require.Equal(t, want, said.String())
		})
	}
	for _, c := range []Code{
		CodeYAML, CodeKey, CodeMissing, CodeValue, CodeDuplicate, CodeID, CodeFastener, CodeLoop, CodeStuck, CodeNoRemoval,
		CodeNoFitting, CodeClamped, CodeEarly, CodePinned, CodeNoEmptying, CodeNoFilling, CodeLoanIdle, CodeLoanLeft,
		CodeMark, CodeCavity, CodeBottoms, CodeEngages, CodeCount, CodeNoTrace, CodeLimit, CodeOrder, CodeProof, CodeFar,
	} {
		require.True(t, codes[c], "no broken plan shows a fault of kind %s", c)
	}
}

func breakPlan(t *testing.T, plan, head string) string {
	t.Helper()
	lines := strings.Split(head, "\n")
	for i := 0; i < len(lines); i++ {
		old, ok := strings.CutPrefix(lines[i], "- ")
		if !ok {
			continue
		}
		require.Equal(t, 1, strings.Count(plan, old), "%q", old)
		instead := ""
		if i+1 < len(lines) {
			if with, ok := strings.CutPrefix(lines[i+1], "+ "); ok {
				instead = with
			}
		}
		plan = strings.Replace(plan, old, strings.ReplaceAll(instead, `\n`, "\n"), 1)
	}
	return plan
}
