package plan

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The package doc is the builder's reference: it names every key that the
// reader asks for.
func TestDocNamesEveryKey(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	known := map[string]bool{}
	for _, w := range regexp.MustCompile(`[a-z]+(-[a-z]+)*`).FindAllString(string(doc), -1) {
		known[w] = true
	}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	asks := regexp.MustCompile(`(?:\.(?:text|flag|whole|length|duration|choice|refs|items|get|reuse|places|conditions|seatsOf|barrier|limit)\(|(?:one|many)\([a-z.]+, [a-z.]+, )"([a-z][a-z-]*)"`)
	n := 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, m := range asks.FindAllStringSubmatch(string(src), -1) {
			n++
			require.True(t, known[m[1]], "%s asks for key %q, which the doc does not name", file, m[1])
		}
	}
	require.Greater(t, n, 100, "the pattern finds the reader's keys")
}

// The small plan at the end of the doc is a plan.
func TestDocPlanIsSound(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	_, text, ok := strings.Cut(string(doc), "# A small plan\n")
	require.True(t, ok)
	var lines []string
	for _, line := range strings.Split(text, "\n") {
		if code, ok := strings.CutPrefix(line, "//\t"); ok {
			lines = append(lines, code)
		}
	}
	faults := CheckSource("doc", []byte(strings.Join(lines, "\n")))
	require.Empty(t, faults, faults.Error())
}
