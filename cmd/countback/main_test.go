package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// program is the built binary that the tests run.
var program string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "countback-test-")
	if err == nil {
		program = filepath.Join(dir, "countback")
		build := exec.Command("go", "build", "-o", program)
		if raceDetector {
			build.Args = append(build.Args, "-race")
		}
		build.Args = append(build.Args, ".")
		build.Stderr = os.Stderr
		err = build.Run()
	}
	status := 1
	if err == nil {
		status = m.Run()
	} else {
		fmt.Fprintln(os.Stderr, "build the program:", err)
	}
	if err := os.RemoveAll(dir); err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	os.Exit(status)
}

// shop is a place to run the program in, with a home and a store of its own.
type shop struct {
	t    *testing.T
	dir  string
	env  []string
	args []string // in front of every command's own
}

// newShop makes an empty shop; its store is made by the first command that
// writes.
func newShop(t *testing.T) *shop {
	t.Helper()
	dir := t.TempDir()
	s := &shop{t: t, dir: dir}
	for _, e := range os.Environ() {
		name, _, _ := strings.Cut(e, "=")
		if !strings.HasPrefix(name, "COUNTBACK_") && !strings.HasPrefix(name, "XDG_") && name != "HOME" {
			s.env = append(s.env, e)
		}
	}
	s.env = append(s.env, "HOME="+dir, "XDG_DATA_HOME="+filepath.Join(dir, "data"), "XDG_CONFIG_HOME="+filepath.Join(dir, "config"))
	return s
}

func (s *shop) path(name ...string) string { return filepath.Join(append([]string{s.dir}, name...)...) }

// store is where the store of a shop lies when no setting says otherwise.
func (s *shop) store() string { return s.path("data", "countback", "store") }

// done is what a run of the program left.
type done struct {
	t      *testing.T
	what   string
	out    string
	err    string
	status status
}

func (s *shop) run(args ...string) done { return s.feed("", args...) }

// feed runs the program with a text on its standard input.
func (s *shop) feed(in string, args ...string) done {
	s.t.Helper()
	d, err := s.try(in, args...)
	require.NoError(s.t, err)
	return d
}

// try is feed for those who have no test to fail.
func (s *shop) try(in string, args ...string) (done, error) {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, append(s.args, args...)...)
	var out, errOut bytes.Buffer
	cmd.Env, cmd.Dir = s.env, s.dir
	cmd.Stdin, cmd.Stdout, cmd.Stderr = strings.NewReader(in), &out, &errOut
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		return done{}, err
	}
	if ctx.Err() != nil {
		return done{}, fmt.Errorf("countback %s did not end", strings.Join(args, " "))
	}
	return done{s.t, "countback " + strings.Join(args, " "), out.String(), errOut.String(), status(cmd.ProcessState.ExitCode())}, nil
}

// ends requires an exit status.
func (d done) ends(want status) done {
	d.t.Helper()
	require.Equal(d.t, want, d.status, "%s\n--- out\n%s\n--- err\n%s", d.what, d.out, d.err)
	return d
}

// says requires texts in what was written to standard output.
func (d done) says(texts ...string) done {
	d.t.Helper()
	for _, text := range texts {
		require.True(d.t, strings.Contains(d.out, text), "%s\ndoes not say %q:\n%.3000s", d.what, text, d.out)
	}
	return d
}

// warns requires texts in what was written to standard error.
func (d done) warns(texts ...string) done {
	d.t.Helper()
	for _, text := range texts {
		require.True(d.t, strings.Contains(d.err, text), "%s\ndoes not warn %q:\n%.3000s", d.what, text, d.err)
	}
	return d
}

// sorrel is the plan of the invented engine.
func sorrel(t *testing.T) string {
	return filepath.Join(root(t), "testdata", "plans", "sorrel-i4-20.yaml")
}
