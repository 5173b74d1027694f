package main

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPrintMakesFilesOfWhatIsScanned(t *testing.T) {
	s := sorrelShop(t)
	printed := func(args ...string) printReport {
		t.Helper()
		var r printReport
		require.NoError(t, json.Unmarshal([]byte(s.run(append([]string{"print", "--json"}, args...)...).ends(statusDone).out), &r))
		b, err := os.ReadFile(s.path(r.File))
		require.NoError(t, err)
		require.True(t, bytes.HasPrefix(b, []byte("%PDF-")), r.File)
		return r
	}
	var codes codesReport
	require.NoError(t, json.Unmarshal([]byte(s.run("codes", "--json").out), &codes))
	require.Equal(t, len(codes.Cards), printed("cards", "cards.pdf").Codes, "every card of the wall")
	require.Equal(t, 12, printed("labels", "bags.pdf", "--count", "12").Codes)
	require.Equal(t, 4, printed("labels", "badges.pdf", "--type", "badge", "--count", "4").Codes)
	require.Greater(t, printed("job", "J1", "job.pdf").Codes, 300)
	s.run("print", "cards", "cards.pdf").ends(statusUsage).warns("is there already")
}

// A sheet begins behind the last label that is on something, so that no code
// is printed twice.
func TestBlankLabelsGoOnBehindTheUsedOnes(t *testing.T) {
	s := sorrelShop(t)
	s.run("print", "labels", "one.pdf", "--count", "3").ends(statusDone).says("3 codes", "--from 4")
	s.feed("job J1\njoint flywheel\nBAA7P5X6\n8\n", "scan").ends(statusDone).says("BAA7P5X6")
	s.run("print", "labels", "two.pdf", "--count", "3").ends(statusDone).says("--from 6")
	s.run("print", "labels", "three.pdf", "--count", "3", "--from", "6").ends(statusDone).says("--from 9")
}

func TestPrintRefusesWhatMakesNoSense(t *testing.T) {
	s := sorrelShop(t)
	for _, row := range []struct {
		args []string
		want status
		why  string
	}{
		{[]string{"print", "labels", "x.pdf", "--type", "part"}, statusUsage, "not printed ahead"},
		{[]string{"print", "labels", "x.pdf", "--count", "0"}, statusUsage, "want 1 to"},
		{[]string{"print", "labels", "x.pdf", "--count", "100000"}, statusUsage, "want 1 to"},
		{[]string{"print", "labels", "x.pdf", "--terminal", "b9"}, statusUnknown, "terminal b9 has no labels"},
		{[]string{"print", "labels", "x.pdf", "--from", "9999999"}, statusFailed, "code"},
		{[]string{"print", "cards", "x.pdf", "--paper", "A7"}, statusUsage, "A7"},
		{[]string{"print", "cards"}, statusUsage, "usage"},
		{[]string{"print", "cards", "nowhere/x.pdf"}, statusUnknown, "nowhere"},
		{[]string{"print", "job", "J9", "x.pdf"}, statusUnknown, "there is no job J9"},
	} {
		s.run(row.args...).ends(row.want).warns(row.why)
		_, err := os.Stat(s.path("x.pdf"))
		require.ErrorIs(t, err, os.ErrNotExist, "%v", row.args)
	}
}
