package bench

import (
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	turning "countback/projections/fastener/stage"
)

// The stage plans of public manuals, played by scans: STAGE alone leads through
// each of them, with a reading where the stage is one, DONE for the mark that a
// stage wants, and LOOSE where the list loosens.
func TestManualsByScans(t *testing.T) {
	text, err := os.ReadFile("../../projections/plan/testdata/manuals.yaml")
	require.NoError(t, err)
	s := newStage(t)
	s.plans["manuals"] = string(text)
	s.use("b2")
	s.openJob("M1 manuals")
	s.hidden("badge Marit")
	for joint, mark := range map[events.Joint]string{"head-angles": "", "head-long": "", "rod-nuts": "", "main-caps": "scribed", "mains": "tapped",
		"rod-sixth": "marked", "rods": "", "head-steps": "", "rod-stretch": "", "crankcase": ""} {
		j := "joint " + string(joint)
		s.hidden(j, "ALL OUT", j, "ALL IN")
		said := 0
		for ; said < 20; said++ {
			job := s.at.Job()
			n, ok := job.NextStage(joint, nil)
			if !ok {
				break
			}
			if n.Wrong != "" && mark != "" {
				s.hidden("mark "+mark, "DONE")
				mark = ""
			}
			least, most, _ := n.Range()
			switch n.Kind {
			case turning.Loosen:
				s.hidden(j, "LOOSE")
			case turning.Stretch:
				s.hidden(j, "STAGE", strconv.FormatFloat((least+most)/2, 'f', 4, 64))
			default:
				s.hidden(j, "STAGE")
			}
		}
		x := s.at.Job().Tightened(joint)[0]
		require.True(t, x.Finished(), "%s after %d: %v", joint, said, x.Owed)
		require.Equal(t, x.Count.Cells, x.Count.Done, joint)
	}
}
