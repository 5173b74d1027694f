package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPlanCheckPassesTheSorrel(t *testing.T) {
	s := newShop(t)
	s.run("plan", "check", sorrel(t)).ends(statusDone).says("can be used: 0 faults")
}

func TestPlanCheckPlacesFaults(t *testing.T) {
	s := newShop(t)
	text, err := os.ReadFile(sorrel(t))
	require.NoError(t, err)
	bad := strings.Replace(string(text), "removes: [mount-bracket]", "removes: [mount-braket]", 1)
	require.NotEqual(t, string(text), bad)
	line := 1 + strings.Count(bad[:strings.Index(bad, "mount-braket")], "\n")
	file := s.path("bad.yaml")
	require.NoError(t, os.WriteFile(file, []byte(bad), 0o644))

	s.run("plan", "check", file).ends(statusNo).says("cannot be used", `did you mean "mount-bracket"?`)
	s.run("plan", "show", file).ends(statusNo).warns("plan cannot be used", "countback plan check")

	var r planCheckReport
	d := s.run("plan", "check", "--json", file, sorrel(t)).ends(statusNo)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Files, 2)
	require.False(t, r.Files[0].Usable)
	require.True(t, r.Files[1].Usable)
	require.Positive(t, r.Files[0].Faults)
	found := false
	for _, f := range r.Files[0].Found {
		if f.Level == "fault" && f.Line == line && f.Nearest == "mount-bracket" {
			found = true
		}
	}
	require.True(t, found, "the misspelled word in line %d: %+v", line, r.Files[0].Found)
}

func TestPlanShowAddsUp(t *testing.T) {
	s := newShop(t)
	s.run("plan", "show", sorrel(t)).ends(statusDone).says("INVENTED NUMBERS", "543", "44 off, 28 on the bench, 57 on", "M6x1.0x20 8.8 flange")
	var r planReport
	require.NoError(t, json.Unmarshal([]byte(s.run("plan", "show", "--json", sorrel(t)).ends(statusDone).out), &r))
	require.Equal(t, 250, r.Fasteners)
	require.Equal(t, 231, r.Seats)
	require.Equal(t, 293, r.Parts)
	require.Equal(t, 543, r.Pieces)
	require.Equal(t, planSteps{44, 28, 57}, r.Steps)
	sum := 0
	for i, k := range r.Kinds {
		sum += k.Qty
		require.True(t, i == 0 || r.Kinds[i-1].Qty >= k.Qty, "most of them first")
	}
	require.Equal(t, r.Fasteners, sum)
}

func TestPlanCommandsWithBadArguments(t *testing.T) {
	s := newShop(t)
	for _, row := range []struct {
		args   []string
		status status
		why    string
	}{
		{[]string{"plan", "check"}, statusUsage, "at least 1"},
		{[]string{"plan", "show"}, statusUsage, "usage: countback plan show FILE"},
		{[]string{"plan", "show", "a", "b"}, statusUsage, "usage"},
		{[]string{"plan", "show", "nowhere.yaml"}, statusUnknown, "nowhere.yaml"},
		{[]string{"plan", "check", "nowhere.yaml"}, statusUnknown, "nowhere.yaml"},
		{[]string{"plan", "chek", "x"}, statusUsage, "did you mean check?"},
	} {
		s.run(row.args...).ends(row.status).warns(row.why)
	}
}

// A plan goes into a spreadsheet and comes back the same.
func TestPlanThroughSheets(t *testing.T) {
	s := newShop(t)
	dir, back := s.path("sheets"), s.path("back.yaml")
	s.run("plan", "export", sorrel(t), dir, "--separator", ";", "--decimal-comma", "--length", "in").ends(statusDone)
	s.run("plan", "export", sorrel(t), dir).ends(statusUsage).warns("is there already")
	s.run("plan", "import", dir, back).ends(statusDone)
	s.run("plan", "import", dir, back).ends(statusUsage).warns("is there already")
	s.run("plan", "show", back).ends(statusDone).says("543")
	again := s.path("again")
	s.run("plan", "export", back, again, "--separator", ";", "--decimal-comma", "--length", "in").ends(statusDone)
	files, err := filepath.Glob(dir + "/*.csv")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		one, err := os.ReadFile(f)
		require.NoError(t, err)
		other, err := os.ReadFile(filepath.Join(again, filepath.Base(f)))
		require.NoError(t, err)
		require.Equal(t, string(one), string(other), f)
	}
}

func TestSheetsWithFaults(t *testing.T) {
	s := newShop(t)
	dir := s.path("sheets")
	s.run("plan", "export", sorrel(t), dir).ends(statusDone)
	file := filepath.Join(dir, "steps.csv")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), "front-cover", "frnt-cover", 1)), 0o644))
	s.run("plan", "import", dir).ends(statusNo).warns("steps.csv row ", "frnt-cover", "front-cover")
	s.run("plan", "import", s.path("nowhere")).ends(statusUnknown).warns("no folder")
	s.run("plan", "export", sorrel(t), dir, "--length", "ell").ends(statusUsage).warns("mm, cm or in")
}
