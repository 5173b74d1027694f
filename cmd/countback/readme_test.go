package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The README's table of scans is the one that the scripts compute.
func TestReadmeHasTheCounts(t *testing.T) {
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join(root(t), name))
		require.NoError(t, err)
		return string(text)
	}
	readme, rows := read("README.md"), 0
	for line := range strings.Lines(read("testdata/scripts/COUNTS.md")) {
		if strings.HasPrefix(line, "|") {
			require.Contains(t, readme, line)
			rows++
		}
	}
	require.Greater(t, rows, 10)
}
