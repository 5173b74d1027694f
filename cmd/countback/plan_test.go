package main

import (
	"encoding/json"
	"os"
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
