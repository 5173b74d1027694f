package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/kiosk"
)

// One stroke: stored. Two with a gap between: stored, and now look. Nothing
// else rings, so that the bell stays the receipt.
func TestBellOfAPlainTerminal(t *testing.T) {
	for _, row := range []struct {
		sound       kiosk.Sound
		first, last string // at once, and after a second
	}{
		{kiosk.StoredWell, "\a", "\a"}, {kiosk.StoredLook, "\a", "\a\a"},
		{kiosk.Heard, "", ""}, {kiosk.Refusing, "", ""}, {kiosk.Misreading, "", ""}, {kiosk.Chime, "", ""}, {kiosk.Alert, "", ""},
	} {
		var out strings.Builder
		b := bell{out: &out}
		require.NoError(t, b.ring([]string{kiosk.Heard.String(), row.sound.String()}))
		require.Equal(t, row.first, out.String(), row.sound)
		require.NoError(t, b.tick())
		require.Equal(t, row.first, out.String(), "%s: there is a gap", row.sound)
		for range 8 {
			require.NoError(t, b.tick())
		}
		require.Equal(t, row.last, out.String(), row.sound)
	}
	silent := bell{}
	require.NoError(t, silent.ring([]string{kiosk.StoredLook.String()}))
	require.NoError(t, silent.tick())
}
