package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
)

// each visits every command that a person can run.
func each(cmd *cobra.Command, visit func(*cobra.Command)) {
	visit(cmd)
	for _, c := range cmd.Commands() {
		if c.Name() != "help" && c.Name() != "completion" {
			each(c, visit)
		}
	}
}

func TestEveryCommandExplainsItself(t *testing.T) {
	seen := 0
	each(newRoot(), func(c *cobra.Command) {
		seen++
		require.NotEmpty(t, c.Short, c.CommandPath())
		if !c.IsAdditionalHelpTopicCommand() {
			require.NotEmpty(t, c.Example, "%s has no example", c.CommandPath())
			for _, line := range strings.Split(c.Example, "\n") {
				require.True(t, strings.HasPrefix(line, "  "), "%s: example %q", c.CommandPath(), line)
			}
		}
		for _, line := range strings.Split(c.Long, "\n") {
			require.LessOrEqual(t, len([]rune(line)), 160, "%s: %q", c.CommandPath(), line)
		}
	})
	require.Greater(t, seen, 20)
}

func TestHelpIsOnStandardOutput(t *testing.T) {
	s := newShop(t)
	s.run().ends(statusDone).says("At the bench:", "Reports:", "Plans, store and program:")
	s.run("--help").ends(statusDone).says("countback demo")
	s.run("help", "audit").ends(statusDone).says("Exit status 1 while anything is red", "Examples:")
	s.run("help", "settings").ends(statusDone).says("COUNTBACK_STORE")
	for _, st := range statuses {
		s.run("help", "exit").ends(statusDone).says(fmt.Sprintf("%3d  %s", st.status, st.name))
	}
}

// Every answer that has a JSON form is among the documented shapes, with every
// member that it really has.
func TestTheShapesOfJSONAreDocumented(t *testing.T) {
	s := demoShopOf(t)
	help := s.run("help", "json").ends(statusDone).out
	for _, shape := range shapes {
		require.Contains(t, help, "\n"+shape.command+"\n")
	}
	for command, args := range map[string][]string{
		"job list": nil, "codes": {"4K7"}, "now": {"4K7"}, "missing": {"4K7"}, "measure": {"4K7"}, "findings": {"4K7"}, "run": {"4K7"}, "handover": {"4K7"}, "bolt": {"4K7", "M8x1.25"}, "tools": nil, "trays": {"4K7"}, "batches": {"4K7"}, "ageing": {"4K7"}, "where": {"part", "head"}, "audit": {"4K7", "ready-to-start"},
		"losses": nil, "history": {"4K7"}, "plan show": {sorrel(t)}, "plan check": {sorrel(t)}, "store check": nil, "sentences": nil, "version": nil,
	} {
		_, section, ok := strings.Cut(help, "\n"+command+"\n")
		require.True(t, ok, command)
		section, _, _ = strings.Cut(section, "\n\n")
		var v map[string]any
		d := s.run(append(append(strings.Fields(command), args...), "--json")...).ends(statusDone)
		require.NoError(t, json.Unmarshal([]byte(d.out), &v))
		for member := range v {
			require.Regexp(t, `(?m)^  `+member+` `, section, command)
		}
	}
}

func TestBadCommandLines(t *testing.T) {
	s := newShop(t)
	for _, row := range []struct {
		args string
		want status
		why  string
	}{
		{"adit", statusUsage, `there is no command "adit"; did you mean audit?`},
		{"frobnicate", statusUsage, "see: countback --help"},
		{"--colour", statusUsage, "unknown flag: --colour"},
		{"job", statusDone, ""},
		{"job opne", statusUsage, "did you mean open?"},
		{"audit", statusUsage, "usage: countback audit JOB [POINT]"},
		{"audit a b c", statusUsage, "usage"},
		{"missing", statusUsage, "usage"},
		{"losses all", statusUsage, "usage"},
		{"job list --json=perhaps", statusUsage, "--json"},
		{"job list --shop a.b", statusUsage, `shop "a.b"`},
		{"job list --terminal", statusUsage, "needs an argument"},
		{"scan --server nats://127.0.0.1:1", statusUsage, "name the file that has it with --passwords"},
		{"job open", statusUsage, "--engine"},
		{"job open --engine x --plan nowhere.yaml", statusUnknown, "nowhere.yaml"},
		{"job open --engine x --id a.b", statusUsage, `job "a.b"`},
		{"missing 4K7", statusUnknown, "there is no store"},
		{"job list --server nats://127.0.0.1:1", statusStore, "connect"},
	} {
		d := s.run(strings.Fields(row.args)...)
		d.ends(row.want).warns(row.why)
		if row.want != statusDone {
			require.Equal(t, 1, strings.Count(d.err, "\n"), "one line: %q", d.err)
			require.Empty(t, d.out, row.args)
		}
	}
}

func TestSettingsComeFromFlagThenEnvironmentThenFile(t *testing.T) {
	s := newShop(t)
	store := func(args ...string) string {
		t.Helper()
		d := s.run(append([]string{"store", "check"}, args...)...).ends(statusUnknown)
		return strings.Fields(d.out)[1]
	}
	require.Equal(t, s.store(), store(), "the platform's usual place")

	config := s.path("config", "countback", "settings.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(config), 0o755))
	require.NoError(t, os.WriteFile(config, []byte("store: "+s.path("of-file")+"\nshop: elm-street\n"), 0o644))
	require.Equal(t, s.path("of-file"), store())
	s.run("store", "check").says("shop elm-street")

	s.env = append(s.env, "COUNTBACK_STORE="+s.path("of-env"))
	require.Equal(t, s.path("of-env"), store())
	require.Equal(t, s.path("of-flag"), store("--store", s.path("of-flag")))
	s.run("store", "check").says("shop elm-street")

	other := s.path("other.yaml")
	require.NoError(t, os.WriteFile(other, []byte("shop: by-the-river\n"), 0o644))
	s.run("store", "check", "--config", other).says("shop by-the-river")
	s.env = append(s.env, "COUNTBACK_CONFIG="+other)
	s.run("store", "check").says("shop by-the-river")
	s.env = append(s.env, "COUNTBACK_JSON=yes")
	s.run("store", "check").says(`"shop": "by-the-river"`)
	s.env = append(s.env, "COUNTBACK_JSON=perhaps")
	s.run("store", "check").ends(statusUsage).warns("json")
}

func TestABrokenSettingsFileIsNoSettingsFile(t *testing.T) {
	s := newShop(t)
	for name, row := range map[string]struct{ text, why string }{
		"no-yaml": {"store: [", "settings file"},
		"no-key":  {"sotre: /srv\n", `there is no setting "sotre"`},
		"list":    {"- store\n", "settings file"},
	} {
		file := s.path(name)
		require.NoError(t, os.WriteFile(file, []byte(row.text), 0o644))
		s.run("store", "check", "--config", file).ends(statusUsage).warns(row.why, file)
	}
	s.run("store", "check", "--config", s.path("nowhere")).ends(statusUsage).warns("nowhere")
}

func TestTheShellCompletes(t *testing.T) {
	s := demoShopOf(t)
	complete := func(words ...string) string {
		t.Helper()
		// the flags stand behind the command, as a person may type them
		return s.run(append([]string{"__complete"}, words...)...).ends(statusDone).out
	}
	s.env = append(s.env, "COUNTBACK_STORE="+played.dir+"/store", "COUNTBACK_SHOP="+demoShop)
	s.args = nil
	require.Contains(t, complete("au"), "audit\t")
	require.Contains(t, complete("audit", ""), "4K7\tSorrel I4-20, blue van")
	require.Contains(t, complete("audit", "4K7", ""), "ready-to-start")
	require.Contains(t, complete("now", "4K7", "cover"), "cover-on\t")
	require.Contains(t, complete("scan", "--job", ""), "4K7")
	require.Contains(t, complete("plan", "check", ""), "yaml")
	require.Contains(t, complete("missing", "4K7", ""), ":4", "nothing more, and no files")
	s.env = append(s.env, "COUNTBACK_STORE="+s.path("nowhere"))
	require.NotContains(t, complete("audit", ""), "4K7")
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		s.run("completion", shell).ends(statusDone).says("countback")
	}
}

func TestVersionNamesTheParts(t *testing.T) {
	newShop(t).run("version").ends(statusDone).says("countback ", "message server inside: v2.")
}
