package bench

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// Any text, line by line, into a bench that has a job: it never panics, no scan
// ends the bench, what is stored can be read back, and the books hold.
func FuzzScan(f *testing.F) {
	files, err := filepath.Glob("../../testdata/scripts/*.scan")
	require.NoError(f, err)
	for _, name := range files {
		text, err := os.ReadFile(name)
		require.NoError(f, err)
		var lines []string
		for _, l := range strings.Split(string(text), "\n") {
			if l != "" && l[0] != '#' && l[0] != '@' {
				lines = append(lines, strings.ReplaceAll(l, ", ", "\n"))
			}
		}
		f.Add(strings.Join(lines, "\n"))
	}
	f.Add("joint coils\n-1\n\x00\xff\n\r\n99999999999999999999\nALL OUT\nUNDO\nREDO")
	f.Fuzz(func(t *testing.T, text string) {
		s := newStage(t)
		s.use("b1")
		s.openJob("4K7")
		lines := strings.Split(text, "\n")
		for _, l := range lines[:min(len(lines), 200)] {
			s.now += s.pace
			_, err := s.at.Scan(s.ctx, l)
			require.NoError(t, err, "%q", l)
		}
		for _, r := range s.at.Told() {
			data, err := events.Append(nil, &r)
			require.NoError(t, err)
			again, err := s.at.decode(data)
			require.NoError(t, err)
			require.Equal(t, r.ID(), again.ID())
		}
		s.verify()
		require.Equal(t, log(s.at.jobs["4K7"]), log(s.fresh()))
	})
}
