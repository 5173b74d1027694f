package engine

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/projections/plan"
)

func TestSeveral(t *testing.T) {
	for _, row := range []struct {
		n    int
		name string
		want string
	}{
		{6, "masking plug", "6 masking plugs"}, {1, "masking plug", "1 masking plug"}, {0, "masking plug", "0 masking plugs"},
		{2, "exhaust gasket", "2 exhaust gaskets"}, {2, "Camshaft", "2 Camshafts"}, {3, "Exhaust Gasket", "3 Exhaust Gaskets"},
		{16, "Graded buckets", "16 Graded buckets"}, {4, "Valve springs", "4 Valve springs"}, {8, "Valve key halves", "8 Valve key halves"},
		{8, "valve key half", "8 valve key halves"}, {2, "O-ring between block and front cover", "2 O-rings between block and front cover"},
		{2, "O-rings between block and front cover", "2 O-rings between block and front cover"},
		{9, "M8x1.25 nut", "9 M8x1.25 nuts"}, {8, "M8x1.25x30", "8 M8x1.25x30"}, {2, "M14x1.5 plug (magnet)", "2 M14x1.5 plugs (magnet)"},
		{2, "stub of M8x1.25x45", "2 stubs of M8x1.25x45"}, {2, "Crankcase, cast iron", "2 Crankcase, cast iron"}, {2, "Chain guide, fixed", "2 Chain guides, fixed"},
		{2, "Zylinderkopfdichtung", "2 Zylinderkopfdichtung"}, {2, "Connecting rod 2", "2 Connecting rod 2"}, {2, "sealant", "2 sealant"}, {2, "", "2 "},
		{10, "lock washer 5/16x19/32", "10 lock washers 5/16x19/32"}, {2, "seal ring 14x18", "2 seal rings 14x18"}, {8, "cotter pin 3/32x1", "8 cotter pins 3/32x1"},
		{3, "switch", "3 switches"}, {3, "pulley", "3 pulleys"}, {2, "torque wrench", "2 torque wrenches"}, {2, "glass", "2 glass"}, {2, "sump gas", "2 sump gas"},
	} {
		require.Equal(t, row.want, Several(row.n, row.name))
	}
}

// What is a plural already stays, whatever the name.
func TestSeveralOfSeveralIsTheSame(t *testing.T) {
	var words []string
	for one, many := range pluralOf {
		require.NotContains(t, pluralOf, many, one)
		words = append(words, one, many)
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.OneOf(rapid.SampledFrom(words), rapid.StringN(0, 30, 90)).Draw(t, "name")
		once := severalOf(name)
		require.Equal(t, once, severalOf(once))
		require.LessOrEqual(t, len(once), len(name)+3)
	})
}

// Of the parts of the plans, those that are several by their count and have a
// plural for a name are left as they are.
func TestSeveralOfThePlansParts(t *testing.T) {
	for _, file := range []string{"sorrel-i4-20.yaml", "bramble-t2-42.yaml"} {
		text, err := os.ReadFile("../../testdata/plans/" + file)
		require.NoError(t, err)
		p, err := plan.Parse(file, text)
		require.NoError(t, err)
		for i := range p.Parts {
			if pt := &p.Parts[i]; pt.Count > 1 && strings.HasSuffix(pt.Name, "s") {
				require.Equal(t, pt.Name, severalOf(pt.Name))
			}
		}
	}
}
