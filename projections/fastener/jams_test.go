package fastener

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Which near threads start and bind: sizes by their standards (ISO 724, ASME
// B1.1), that they are confused is common practice at the bench, from memory.
func TestNearThreadsStartAndJam(t *testing.T) {
	for _, row := range []struct {
		bolt, hole string
		jams       bool
	}{
		{"M8x1.25x30 8.8", "5/16-18x1 grade 5", true},  // 8.00 in 7.94
		{"5/16-18x1 grade 5", "M8x1.25x30 8.8", true},  // 7.94 in 8.00
		{"M8x1.0x30 8.8", "M8x1.25x30 8.8", true},      // fine in coarse
		{"M6x1.0x20 8.8", "1/4-20x3/4 grade 5", true},  // 6.00 in 6.35
		{"1/4-20x3/4 grade 5", "M6x1.0x20 8.8", false}, // 6.35 is too thick for 6.00
		{"M10x1.5x30 8.8", "3/8-16x1 grade 5", false},  // 10.0 does not enter 9.53
		{"M12x1.75x30 8.8", "1/2-13x1 grade 5", true},  // 12.0 in 12.7
		{"M6x1.0x20 8.8", "M8x1.25x30 8.8", false},     // falls in
		{"M8x1.25x30 8.8", "M8x1.25x45 10.9", false},   // the same
		{"M12x1.25x30 8.8", "M10x1.25x30 8.8", false},  // too thick
	} {
		b, err := Parse(row.bolt)
		require.NoError(t, err)
		h, err := Parse(row.hole)
		require.NoError(t, err)
		require.Equal(t, row.jams, b.Thread.Jams(h.Thread), "%s in %s", row.bolt, row.hole)
	}
	left, err := Parse("M8x1.0x30 8.8")
	require.NoError(t, err)
	right, err := Parse("M8x1.25x30 8.8")
	require.NoError(t, err)
	require.True(t, left.Thread.Jams(right.Thread))
	left.Thread.Left = true
	require.False(t, left.Thread.Jams(right.Thread), "the other hand does not catch")
	b, _ := Parse("M8x1.25x30 8.8")
	h, _ := Parse("5/16-18x1 grade 5")
	require.Equal(t, "M8x1.25 starts in a 5/16-18 hole and jams after a turn or two: its pitch is 1.25 mm, the hole's 1.411 mm (18 per inch); by common practice",
		b.Thread.JamWords("M8x1.25", h.Thread))
}
