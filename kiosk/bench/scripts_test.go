package bench

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/kiosk/scan"
)

var update = flag.Bool("update", false, "write the transcripts anew")

const scripts = "../../testdata/scripts"

// Each script is a morning at the bench in scans; its transcript is what the
// screen said and what was stored.
func TestScripts(t *testing.T) {
	files, err := filepath.Glob(scripts + "/*.scan")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var all []counted
	used, did, kinds := map[*scan.Sentence]bool{}, map[*scan.Sentence]bool{}, map[string]bool{}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".scan")
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(f)
			require.NoError(t, err)
			s := newStage(t)
			got := s.play(name+".scan", string(text))
			all = append(all, s.counted...)
			for row := range s.used {
				used[row] = true
			}
			for row := range s.did {
				did[row] = true
			}
			for _, r := range s.told {
				kinds[events.NameOf(r.Event)] = true
			}
			out := strings.TrimSuffix(f, ".scan") + ".out"
			if *update {
				require.NoError(t, os.WriteFile(out, []byte(got), 0o644))
				return
			}
			want, err := os.ReadFile(out)
			require.NoError(t, err, "run the test with -update to write it")
			if at, was, is := firstDifference(string(want), got); at > 0 {
				t.Fatalf("%s line %d: run with -update if this is right\nwas: %s\nis:  %s\nafter:\n%s", out, at, was, is, tail(strings.Join(strings.Split(got, "\n")[:at-1], "\n")))
			}
		})
	}
	t.Run("counts", func(t *testing.T) { budget(t, all) })
	t.Run("every kind of fact", func(t *testing.T) {
		for _, name := range events.Names() {
			if !kinds[name] {
				t.Errorf("no script stores %s", name)
			}
		}
	})
	t.Run("every sentence", func(t *testing.T) {
		for _, row := range scan.Sentences {
			switch {
			case !used[row]:
				t.Errorf("no script says: %s %s", row.Subject, row.Verb)
			case row.Event != "" && !did[row]:
				t.Errorf("no script stores anything by: %s %s", row.Subject, row.Verb)
			}
		}
	})
}

// firstDifference is the first line, from 1, in which two texts differ; 0 if
// they are equal.
func firstDifference(a, b string) (line int, was, is string) {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range max(len(x), len(y)) {
		was, is = "", ""
		if i < len(x) {
			was = x[i]
		}
		if i < len(y) {
			is = y[i]
		}
		if was != is || i >= min(len(x), len(y)) {
			return i + 1, was, is
		}
	}
	return 0, "", ""
}

// budget holds every counted action to three scans and one for each size.
func budget(t *testing.T, all []counted) {
	var b strings.Builder
	b.WriteString("# Scans per action\n\nComputed by the scripts in this folder, after badge and job card. An action may take three scans, and one for each size that is counted.\n\n")
	b.WriteString("| action | scans | sizes | allowed |\n|---|---|---|---|\n")
	for _, c := range all {
		require.LessOrEqual(t, c.scans, 3+c.sizes, c.what)
		fmt.Fprintf(&b, "| %s | %d | %d | %d |\n", c.what, c.scans, c.sizes, 3+c.sizes)
	}
	file := scripts + "/COUNTS.md"
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run the test with -update to write it")
	require.Equal(t, string(want), b.String())
}
