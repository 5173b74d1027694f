package main

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/kiosk/scan"
	"countback/labels/code"
)

// pane is the built program in a terminal of tmux.
type pane struct {
	t      *testing.T
	socket string
	ctx    context.Context
	moved  chan struct{} // gets one when the program wrote something
	over   chan struct{} // closed when it ended
	status string        // file that its exit status is written to
}

// openPane runs the program in a terminal of a size. It is nil where there is
// no tmux, which is a failure on a build machine.
func openPane(t *testing.T, s *shop, width, height string, args ...string) *pane {
	t.Helper()
	if _, err := exec.LookPath("tmux"); err != nil {
		if os.Getenv("CI") != "" {
			require.NoError(t, err, "the kiosk is tested in a terminal of tmux")
		}
		t.Log("not tested: there is no tmux here")
		return nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	p := &pane{t: t, socket: s.path("tmux"), ctx: ctx, moved: make(chan struct{}, 1), over: make(chan struct{}), status: s.path("status")}
	fifo := s.path("out")
	require.NoError(t, syscall.Mkfifo(fifo, 0o600))
	script := s.path("run.sh")
	line := "#!/bin/sh\n"
	for _, e := range s.env {
		if name, value, _ := strings.Cut(e, "="); strings.HasPrefix(name, "XDG_") || name == "HOME" {
			line += "export " + name + "=" + quoted(value) + "\n"
		}
	}
	line += quoted(program)
	for _, a := range args {
		line += " " + quoted(a)
	}
	require.NoError(t, os.WriteFile(script, []byte(line+" 2>"+quoted(p.status+".err")+"\necho $? >"+quoted(p.status)+"\n"), 0o755))
	// the program waits until its output is listened to
	p.tmux("-f", "/dev/null", "new-session", "-d", "-s", "kiosk", "-x", width, "-y", height, "read go; exec "+quoted(script))
	t.Cleanup(func() {
		_ = exec.Command("tmux", "-S", p.socket, "kill-server").Run() // it may have ended already
		cancel()
	})
	p.tmux("pipe-pane", "-t", "kiosk", "cat >"+quoted(fifo))
	go p.listen(fifo)
	p.tmux("send-keys", "-t", "kiosk", "Enter")
	return p
}

func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

func (p *pane) tmux(args ...string) string {
	p.t.Helper()
	out, err := exec.CommandContext(p.ctx, "tmux", append([]string{"-S", p.socket}, args...)...).CombinedOutput()
	require.NoError(p.t, err, "tmux %s: %s", strings.Join(args, " "), out)
	return string(out)
}

// listen notes that something was written, until the program ends.
func (p *pane) listen(fifo string) {
	defer close(p.over)
	f, err := os.Open(fifo)
	if err != nil {
		return
	}
	defer f.Close()
	for buf := make([]byte, 4096); ; {
		if _, err := f.Read(buf); err != nil {
			return
		}
		select {
		case p.moved <- struct{}{}:
		default:
		}
	}
}

// sees waits until texts are on the screen, without looking at a clock: it
// looks again whenever the program has written something.
func (p *pane) sees(texts ...string) {
	p.t.Helper()
	for {
		shown := p.shown()
		missing := ""
		for _, text := range texts {
			if !strings.Contains(shown, text) {
				missing = text
			}
		}
		if missing == "" {
			return
		}
		select {
		case <-p.moved:
		case <-p.over:
			require.Fail(p.t, "the program ended", "waiting for %q; the screen was:\n%s", missing, shown)
		case <-p.ctx.Done():
			require.Fail(p.t, "not on the screen: "+missing, "%s", shown)
		}
	}
}

// shown is the screen; once the program has ended, what it said at its end.
func (p *pane) shown() string {
	out, err := exec.CommandContext(p.ctx, "tmux", "-S", p.socket, "capture-pane", "-p", "-t", "kiosk").Output()
	if err != nil {
		said, _ := os.ReadFile(p.status + ".err") // there is none where it never began
		return "(ended) " + string(said)
	}
	return string(out)
}

// scan sends a code as a scanner does: all keys at once, and Enter.
func (p *pane) scan(text string) {
	p.t.Helper()
	p.tmux("send-keys", "-t", "kiosk", "-l", text, ";", "send-keys", "-t", "kiosk", "Enter")
}

// leave ends the program and gives its exit status.
func (p *pane) leave() string {
	p.t.Helper()
	p.tmux("send-keys", "-t", "kiosk", "C-c")
	p.sees("Leave the kiosk?")
	p.tmux("send-keys", "-t", "kiosk", "C-c")
	select {
	case <-p.over:
	case <-p.ctx.Done():
		require.Fail(p.t, "the program did not end")
	}
	return p.ended()
}

// ended is the exit status of the program.
func (p *pane) ended() string {
	text, err := os.ReadFile(p.status)
	require.NoError(p.t, err)
	return strings.TrimSpace(string(text))
}

// cards are the codes that a test scans.
type cards struct {
	t    *testing.T
	tags map[string]string
	from code.Issuer
}

// cardsOf reads the tags of a job, and makes labels of the same range.
func cardsOf(t *testing.T, s *shop, job string) cards {
	var r struct {
		Codes []struct{ Code, Noun string }
	}
	require.NoError(t, json.Unmarshal([]byte(s.run("codes", job, "--json").ends(statusDone).out), &r))
	c := cards{t: t, tags: map[string]string{}}
	for _, l := range r.Codes {
		c.tags[l.Noun] = l.Code
	}
	issuer, err := code.NewIssuer(code.Code(c.tag("job " + job)).Range())
	require.NoError(t, err)
	c.from = issuer
	return c
}

func (c cards) tag(noun string) string {
	require.Contains(c.t, c.tags, noun)
	return c.tags[noun]
}

func (c cards) word(w scan.Word) string {
	card, ok := w.Card()
	require.True(c.t, ok, string(w))
	return string(card)
}

func (c cards) number(n int) string {
	card, ok := code.WholeNumber(n)
	require.True(c.t, ok)
	return string(card)
}

func (c cards) label(t code.Type) string {
	l, _, ok := c.from.Next(t, 0)
	require.True(c.t, ok)
	return string(l)
}
