package main

import (
	"encoding/json"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

var (
	playing sync.Once
	played  struct {
		dir string
		out string
		err string
		end status
	}
)

// demoShopOf is a shop whose store is the one that the demo wrote. Tests share
// it and only read it.
func demoShopOf(t *testing.T) *shop {
	t.Helper()
	s := newShop(t)
	playing.Do(func() {
		dir, err := os.MkdirTemp(program[:strings.LastIndexByte(program, '/')], "demo-")
		require.NoError(t, err)
		d := s.run("demo", "--plain", "--store", dir+"/store")
		played.dir, played.out, played.err, played.end = dir, d.out, d.err, d.status
	})
	require.Equal(t, statusDone, played.end, "%s\n%s", played.out, played.err)
	s.args = []string{"--shop", demoShop, "--store", played.dir + "/store"}
	return s
}

func TestDemoTellsTheWholeJob(t *testing.T) {
	demoShopOf(t)
	acts, err := parseStory(storyText)
	require.NoError(t, err)
	scenes := 0
	for _, a := range acts {
		if a.kind == actScene {
			scenes++
			require.Contains(t, played.out, a.text+"\n"+strings.Repeat("-", len(a.text)))
		}
	}
	require.Greater(t, scenes, 12)
	for _, text := range []string{
		"not there when the engine came", "stub proud of the face", "stub below the face", "this shop's limit",
		"never counted: oil pan", "1 M10x1.5x50 short", "heard going into timing case", "which is which is not known any more",
		"1 M14x1.5 plug missing", "it bottoms 14.5 mm early", "single-use, and not a new piece", "That differs from the book",
		"Gate passed", "red lines", "nothing red", "Yes: crank it", "Job ended: released",
		"The audit of the first start", "What was lost", "export COUNTBACK_STORE=" + played.dir + "/store",
	} {
		require.Contains(t, played.out, text)
	}
	require.NotContains(t, played.out, "\x1b[", "no bold type where it was not wanted")
}

func TestDemoLeavesAStoreForTheOtherCommands(t *testing.T) {
	s := demoShopOf(t)
	s.run("store", "check").ends(statusDone).says("nothing is wrong")
	s.run("job", "list").ends(statusDone).says("4K7", "released")
	s.run("audit", "4K7", "ready-to-start").ends(statusDone).says("GREEN", "signed   by Marit and Ole")
	s.run("audit", "4K7", "released").ends(statusNo).says("RED", "passed")
	s.run("missing", "4K7").ends(statusDone).says("Nothing is missing")
	s.run("where", "hole", "front-cover:18").ends(statusDone).says("M8x1.25x45", "now")
	s.run("where", "BHTTG2Z5").ends(statusDone).says("Bag BHTTG2Z5", "Short 3")
	s.run("where", "part head").ends(statusDone).says("rectify")
	s.run("where", "bag", "BXXXXXXX").ends(statusUnknown).warns("no job has met")
	s.run("history", "4k7").ends(statusDone).says("Marit", "Ole", "Timing case looked into")
	s.run("codes", "4K7").ends(statusDone).says("joint front-cover", "BHTTG2Z5  bag of front-cover", "RHTBR6KU  rack of buckets", "ALL OUT", "numbers")
	s.run("losses").ends(statusDone).says("M10x1.5x50", "found", "per 1,000 handled")
	s.run("now", "4K7", "cover-on").ends(statusDone).says("cover-on")
	s.run("now", "4K7", "cover-of").ends(statusUnknown).warns("no step cover-of")
	s.run("plan", "save", "4K7").ends(statusDone).says("sorrel-i4-20", "front-cover")
	s.run("demo").ends(statusUsage).warns("holds a store already")
}

// The card of a job and any label of it name the job too.
func TestAJobIsNamedByItsLabels(t *testing.T) {
	s := demoShopOf(t)
	var jobs jobsReport
	require.NoError(t, json.Unmarshal([]byte(s.run("job", "list", "--json").ends(statusDone).out), &jobs))
	require.Len(t, jobs.Jobs, 1)
	want := s.run("missing", "4K7").out
	require.Equal(t, want, s.run("missing", jobs.Jobs[0].Card).ends(statusDone).out)
	require.Equal(t, want, s.run("missing", strings.ToLower(jobs.Jobs[0].Card)).ends(statusDone).out)
	s.run("missing", "4K8").ends(statusUnknown).warns("there is no job 4K8; the nearest is 4K7; there are: 4K7")
}

// Every report has a JSON form whose lists are lists, never null.
func TestReportsAreJSONForPrograms(t *testing.T) {
	s := demoShopOf(t)
	for _, args := range [][]string{
		{"job", "list"}, {"codes"}, {"codes", "4K7"}, {"missing", "4K7"}, {"audit", "4K7", "ready-to-start"}, {"losses"},
		{"where", "hole", "front-cover:18"}, {"now", "4K7"}, {"history", "4K7"}, {"store", "check"}, {"sentences"}, {"version"},
		{"plan", "show", sorrel(t)}, {"plan", "check", sorrel(t)},
	} {
		d := s.run(append(args, "--json")...).ends(statusDone)
		var v map[string]any
		require.NoError(t, json.Unmarshal([]byte(d.out), &v), "%v", args)
		require.NotEmpty(t, v)
		requireNoNullLists(t, args, v)
	}
}

// nullable are the members that are null where there is nothing.
var nullable = map[string]bool{"signed": true, "hole": true}

func requireNoNullLists(t *testing.T, args []string, v any) {
	t.Helper()
	switch v := v.(type) {
	case map[string]any:
		for key, member := range v {
			require.False(t, member == nil && !nullable[key], "%v: %s is null", args, key)
			requireNoNullLists(t, args, member)
		}
	case []any:
		for _, e := range v {
			requireNoNullLists(t, args, e)
		}
	}
}

func TestDemoNeedsAFreshStore(t *testing.T) {
	s := newShop(t)
	require.NoError(t, os.WriteFile(s.path("file"), nil, 0o644))
	s.run("demo", "--store", s.path("file")).ends(statusStore).warns("is a file")
	s.run("demo", "extra").ends(statusUsage)
	for _, bad := range []string{"#: clock tomorrow", "#: dance"} {
		_, err := parseStory("## A scene\n" + bad)
		require.ErrorContains(t, err, "story: line 2", bad)
	}
}
