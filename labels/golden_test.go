package labels

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden labels anew")

// A few labels dot by dot, to be looked at. After a change of layout or fonts
// run with -update and look at them again.
func TestGoldenLabels(t *testing.T) {
	for _, s := range kinds(t) {
		switch s.name {
		case "bag", "bag-low", "position", "loan", "joint-blank", "tray", "tool":
		default:
			continue
		}
		d, err := Draw(s.label, s.media(203))
		require.NoError(t, err)
		b, err := d.PNG(0)
		require.NoError(t, err)
		file := filepath.Join("testdata", s.name+".png")
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(file, b, 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		require.True(t, bytes.Equal(want, b), "%s: not the golden label; look at it and run with -update", file)
	}
}
