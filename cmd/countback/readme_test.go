package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// counted are the tables of scans that the README shows: each by the file that
// a test computes, and the first line of the table.
var counted = []struct{ file, head string }{
	{"testdata/scripts/COUNTS.md", "| action | scans | sizes | allowed |\n"},
	{"testdata/scripts/STORY.md", "| the demo job | scans | sizes | facts | allowed |\n"},
}

// rowsOf is the rows of a text from the first line of a table to its end.
func rowsOf(t *testing.T, text, head string) string {
	t.Helper()
	at := strings.Index(text, head)
	require.GreaterOrEqual(t, at, 0, "no table that begins with %q", head)
	end := at
	for line := range strings.Lines(text[at:]) {
		if !strings.HasPrefix(line, "|") {
			break
		}
		end += len(line)
	}
	return text[at:end]
}

// readmeTables holds the README's tables equal to the computed ones; with
// -update it writes them.
func readmeTables(t *testing.T) {
	t.Helper()
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join(root(t), name))
		require.NoError(t, err)
		return string(text)
	}
	readme := read("README.md")
	for _, c := range counted {
		want, got := rowsOf(t, read(c.file), c.head), rowsOf(t, readme, c.head)
		require.Greater(t, strings.Count(want, "\n"), 3)
		if *update {
			readme = strings.Replace(readme, got, want, 1)
			continue
		}
		require.Equal(t, want, got, "run with -update")
	}
	if *update {
		require.NoError(t, os.WriteFile(filepath.Join(root(t), "README.md"), []byte(readme), 0o644))
	}
}

// The README's tables of scans are the ones that the scripts and the story
// compute.
func TestReadmeHasTheCounts(t *testing.T) { readmeTables(t) }

// The README's picture of a bench is the one that the kiosk draws.
func TestReadmeHasTheScreen(t *testing.T) {
	read := func(name ...string) string {
		text, err := os.ReadFile(filepath.Join(append([]string{root(t)}, name...)...))
		require.NoError(t, err)
		return string(text)
	}
	var want strings.Builder
	for i, row := range strings.Split(read("kiosk", "term", "testdata", "joint-80x24.txt"), "\n") {
		if i < 21 {
			want.WriteString(strings.TrimRight("    "+row, " ") + "\n")
		}
	}
	if readme := read("README.md"); *update {
		_, rest, ok := strings.Cut(readme, "that can be read from three metres:\n\n")
		require.True(t, ok)
		old := ""
		for row := range strings.Lines(rest) {
			if !strings.HasPrefix(row, "    ") {
				break
			}
			old += row
		}
		require.NoError(t, os.WriteFile(filepath.Join(root(t), "README.md"), []byte(strings.Replace(readme, old, want.String(), 1)), 0o644))
		return
	}
	require.Contains(t, read("README.md"), want.String(), "run with -update")
}
