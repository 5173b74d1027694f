package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/kiosk"
	"countback/kiosk/bench"
)

func scanCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "scan [FILE|-]", Short: "Run a kiosk's screen from scanned or typed lines", GroupID: "work",
		Long: `Reads scans line by line, from standard input, a file, or a serial scanner, and
runs a kiosk's screens with them. What is stored is said in one sentence in the
past tense, once it is safely on disk. A line is a code, or a noun or word typed
in full: "joint front-cover", "ALL OUT", "8". See: countback sentences. Several
scans may stand on one line with a comma and a blank, or a |, between them:
"joint oil-pan, ALL OUT". A text with commas has the word text before it. Blank
lines, and lines that begin with #, are remarks.

At a keyboard or a scanner the screen is shown after every line; the bell of the
terminal sounds once when a fact is on disk, and twice with a gap when it is on
disk and there is something to look at. From a file or
a pipe only what was stored, refused or answered is shown; --all shows the rest.
What can hardly be meant is asked, and shown as well. A sentence that is only half
said at the end, or when another one begins, is named, and nothing of it is stored.
Exit status 1 if anything was refused, misread or left half said.`,
		Example: `  countback scan --terminal bench-1
  countback scan --job 4K7 morning.scan
  echo 'job 4K7, WHAT NOW' | countback scan
  countback scan /dev/ttyACM0
  countback scan --listen 127.0.0.1:4222`,
		Args: arguments(cobra.MaximumNArgs(1)),
	}
	addListen(cmd.Flags())
	job := cmd.Flags().String("job", "", "begin with this job on the screen")
	completeFlag(cmd, "job", completeJobs)
	all := cmd.Flags().Bool("all", false, "show the screen after every line")
	echo := cmd.Flags().Bool("echo", false, "write every line before its answer")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		in, err := scanInput(cmd, args)
		if err != nil {
			return err
		}
		defer in.Close()
		s.Patient = live(in)
		r := scanRun{out: cmd.OutOrStdout(), json: s.JSON, all: *all || live(in), echo: *echo}
		if live(r.out) && !s.JSON {
			r.bell.out = r.out
		}
		return r.run(cmd, s, *job, in)
	}
	return cmd
}

// scanInput is the file, the device or the standard input that is read.
func scanInput(cmd *cobra.Command, args []string) (io.ReadCloser, error) {
	if len(args) == 1 && args[0] != "-" {
		return os.Open(args[0])
	}
	if f, ok := cmd.InOrStdin().(*os.File); ok {
		return f, nil
	}
	return io.NopCloser(cmd.InOrStdin()), nil
}

// scanRun is one run of a terminal over an input.
type scanRun struct {
	out     io.Writer
	json    bool
	all     bool
	echo    bool
	bell    bell
	refused bool
	rest    string // of a line with several scans
}

func (r *scanRun) run(cmd *cobra.Command, s settings, job string, in io.Reader) error {
	ctx := cmd.Context()
	plans, err := plansIn(s.Plans)
	if err != nil {
		return err
	}
	t, err := openTerminal(ctx, s, plans, wallClock)
	if err != nil {
		return err
	}
	if addr := t.store.Addr(); addr != "" {
		fmt.Fprintf(cmd.ErrOrStderr(), "countback: listening on %s\n", addr)
	}
	if err = t.begin(ctx, job); err == nil {
		t.Heard()
		err = r.lines(ctx, t.Terminal, in)
	}
	if err == nil && r.refused {
		err = t.sick(ctx)
	}
	if err = t.close(err); err == nil && r.refused {
		return no()
	}
	return err
}

// tickEvery is how often the screen is told the time: a chained number is
// whole half a second after its last digit.
const tickEvery = 250 * time.Millisecond

// lines takes every line of the input, and tells the screen the time between.
// While nobody knows whether the last fact is stored, the next line waits.
func (r *scanRun) lines(ctx context.Context, t *bench.Terminal, in io.Reader) error {
	lines, done := readScans(ctx, in)
	tick := time.NewTicker(tickEvery)
	defer tick.Stop()
	ticksLeft := -1 // after the end of the input; -1: it has not ended
	for ticksLeft != 0 || r.rest != "" {
		if err := r.several(ctx, t); err != nil {
			return err
		}
		next := lines
		if r.rest != "" {
			next = nil
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case line := <-next:
			r.rest = line
			if strings.TrimSpace(line) == "" {
				r.rest = ""
			}
		case <-tick.C:
			if err := r.tick(ctx, t); err != nil {
				return err
			}
			ticksLeft = max(ticksLeft-1, -1)
		case err := <-done:
			if err != nil {
				return fmt.Errorf("scan: %w", err)
			}
			ticksLeft = ticksAfter(t.View())
		}
	}
	return r.leftOpen(t)
}

// leftOpen names the sentence that the end of the input broke off.
func (r *scanRun) leftOpen(t *bench.Terminal) error {
	s := t.Screen()
	begun := s.Begun()
	if begun == "" {
		return nil
	}
	end := newTurn("", t.View(), nil, nil)
	end.Sign, end.Refused = kiosk.Stop.String(), true
	end.Text, end.List = []string{"Left open at the end: " + begun + ". Nothing of it is stored"}, []string{}
	r.refused = true
	if r.json {
		return end.writeJSON(r.out)
	}
	return end.write(r.out)
}

// ticksAfter is how long to go on after the end of the input: until a number
// whose digits could go on is whole.
func ticksAfter(v kiosk.View) int {
	if v.Big == "" {
		return 0
	}
	return int(kiosk.UsualSettings().Chain/tickEvery.Microseconds()) + 1
}

// several takes the scans of a line one after the other. While nobody knows
// whether the last fact is stored, the rest waits.
func (r *scanRun) several(ctx context.Context, t *bench.Terminal) error {
	for r.rest != "" && !t.Screen().Waits() {
		one, rest := t.First(r.rest)
		r.rest = rest
		if one == "" {
			continue
		}
		if err := r.line(ctx, t, one); err != nil {
			return err
		}
	}
	return nil
}

func (r *scanRun) line(ctx context.Context, t *bench.Terminal, line string) error {
	view, err := t.Scan(ctx, line)
	if err != nil {
		return storeError(err)
	}
	return r.show(newTurn(line, view, t.Heard(), t.Told()))
}

func (r *scanRun) tick(ctx context.Context, t *bench.Terminal) error {
	if err := t.Tick(ctx); err != nil {
		return storeError(err)
	}
	if err := r.bell.tick(); err != nil {
		return err
	}
	if sounds := t.Heard(); len(sounds) > 0 {
		return r.show(newTurn("", t.View(), sounds, t.Told()))
	}
	return nil
}

func (r *scanRun) show(t turn) error {
	r.refused = r.refused || t.Refused
	if len(t.Sounds) == 0 && t.Line == "" {
		return nil // an empty line
	}
	if r.json {
		return t.writeJSON(r.out)
	}
	if r.echo {
		if _, err := fmt.Fprintf(r.out, "%s\n", t.Line); err != nil {
			return err
		}
	}
	if r.all || t.matters() {
		if err := t.write(r.out); err != nil {
			return err
		}
	}
	return r.bell.ring(t.Sounds)
}
