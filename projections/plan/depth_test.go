package plan

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A gauge that is coarser than the tolerance judges nothing.
func TestBandWiderThanTheTolerance(t *testing.T) {
	small, err := os.ReadFile(smallFile)
	require.NoError(t, err)
	for _, row := range []struct {
		name, entry, want string
	}{
		{"fine", "{id: bore, of: bore, at: [1], min: 86.00, max: 86.05, band: 0.002}", ""},
		{"half of it", "{id: bore, of: bore, at: [1], min: 86.00, max: 86.05, band: 0.03}", "a band of 0.03 to each side of a tolerance of 0.05"},
		{"far beyond", "{id: bore, of: bore, at: [1], min: 86.00, max: 86.05, band: 5}", "a band of 5 to each side"},
		{"from 0", "{id: gap, of: gap, kind: gap, at: [1], max: 0.4, band: 0.3}", "a band of 0.3 to each side of a tolerance of 0.4"},
		{"one limit only", "{id: bore, of: bore, at: [1], min: 86.00, band: 5}", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			var said []string
			for _, f := range CheckSource("small.yaml", append(append([]byte{}, small...), "\nmeasurements:\n  - "+row.entry+"\n"...)) {
				require.NotEqual(t, Broken, f.Level, f.String())
				if f.Code == CodeFar {
					said = append(said, f.Text)
				}
			}
			if row.want == "" {
				require.Empty(t, said)
				return
			}
			require.Len(t, said, 1)
			require.Contains(t, said[0], row.want)
		})
	}
}

// What people's own plans say of depths and bands is not doubted.
func TestNoDoubtAboutTheDemoPlans(t *testing.T) {
	for _, name := range []string{"sorrel-i4-20", "bramble-t2-42", "small"} {
		p, err := Load("../../testdata/plans/" + name + ".yaml")
		require.NoError(t, err)
		for _, f := range Check(p) {
			require.NotEqual(t, CodeFar, f.Code, f.String())
		}
		for i := range p.Seats {
			if mm, ok := p.Seats[i].Depth.Mm(); ok && mm > 0 {
				require.Empty(t, p.Seats[i].BeyondDepth(mm), p.Seats[i].ID)
				require.True(t, strings.Contains(p.Seats[i].BeyondDepth(mm*100), "far deeper"))
			}
		}
	}
}
