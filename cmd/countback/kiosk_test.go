package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// screen is a terminal that a program fills, seen from outside.
type screen struct {
	t      *testing.T
	socket string
}

// tmux runs a command in a terminal of 110 by 40; nil where the tmux program
// is not installed.
func (s *shop) tmux(args ...string) *screen {
	s.t.Helper()
	if _, err := exec.LookPath("tmux"); err != nil {
		if os.Getenv("CI") == "" {
			s.t.Log("the tmux program is not here")
			return nil
		}
		require.NoError(s.t, err)
	}
	w := &screen{s.t, s.path("tmux")}
	cmd := exec.Command("tmux", append([]string{"-S", w.socket, "-f", "/dev/null", "new-session", "-d", "-x", "110", "-y", "40", program}, append(s.args, args...)...)...)
	cmd.Env, cmd.Dir = append(s.env, "LANG=C.UTF-8", "TERM=xterm-256color"), s.dir
	out, err := cmd.CombinedOutput()
	require.NoError(s.t, err, "%s", out)
	s.t.Cleanup(func() { _ = exec.Command("tmux", "-S", w.socket, "kill-server").Run() })
	return w
}

func (w *screen) text() string {
	out, err := exec.Command("tmux", "-S", w.socket, "capture-pane", "-p").Output()
	if err != nil {
		return "" // the program has ended, and its terminal with it
	}
	return string(out)
}

// until waits for what the screen shall show.
func (w *screen) until(what string, shown func(text string) bool) {
	w.t.Helper()
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	late := time.After(20 * time.Second)
	for text := w.text(); !shown(text); text = w.text() {
		select {
		case <-tick.C:
		case <-late:
			require.FailNow(w.t, "the screen does not show "+what, text)
		}
	}
}

func (w *screen) shows(what string) {
	w.t.Helper()
	w.until(what, func(text string) bool { return strings.Contains(text, what) })
}

func (w *screen) types(line string) {
	w.t.Helper()
	out, err := exec.Command("tmux", "-S", w.socket, "send-keys", line, "Enter").CombinedOutput()
	require.NoError(w.t, err, "%s", out)
}

func TestTheKioskFillsATerminal(t *testing.T) {
	s := sorrelShop(t)
	w := s.tmux("kiosk", "--job", "J1", "--letters", "plain")
	if w == nil {
		return
	}
	w.shows("Job J1, Sorrel, blue van")
	s.run("scan").ends(statusStore).warns("in use by b1")
	w.types("joint flywheel")
	w.shows("Flywheel: in")
	w.types("8")
	w.shows("8 counted")
	s.run("where", "joint", "flywheel").ends(statusDone).says("counted")
	out, err := exec.Command("tmux", "-S", w.socket, "kill-server").CombinedOutput()
	require.NoError(t, err, "%s", out)
	w.until("that the program has ended", func(string) bool {
		return s.run("store", "check").ends(statusDone).status == statusDone &&
			!strings.Contains(s.run("store", "check").out, "in use")
	})
	s.feed("WHAT NOW\n", "scan", "--job", "J1").ends(statusDone)
}

func TestTheKioskNeedsATerminal(t *testing.T) {
	s := newShop(t)
	s.run("kiosk").ends(statusUsage).warns("no terminal here to fill", "countback scan")
	s.run("kiosk", "--theme", "pink").ends(statusUsage).warns("pink")
	s.run("kiosk", "--letters", "huge").ends(statusUsage).warns("huge")
	s.run("kiosk", "--training").ends(statusUsage).warns("a store of its own")
}
