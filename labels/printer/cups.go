package printer

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"time"
)

// Queue is a queue of CUPS, reached through the programs lp and lpstat.
type Queue struct {
	name, queue string
	lp, lpstat  string
	patience    time.Duration // for one program, and for a job to end
	look        time.Duration // between two looks at it
	ask         func(ctx context.Context, job int) (jobWords, error)
}

// Programs are the programs that a Queue uses, where they are not lp and
// lpstat of the search path.
type Programs struct{ Lp, Lpstat string }

// NewQueue is a CUPS queue. It is not asked for yet: it may be set up later.
func NewQueue(name, queue string, p Programs) (*Queue, error) {
	if err := checkName(name); err != nil {
		return nil, err
	}
	if queue == "" || len(queue) > 127 || strings.ContainsAny(queue, " /#\\'\"\t\n\x00") || strings.HasPrefix(queue, "-") {
		return nil, fmt.Errorf("printer %s: queue %q: a CUPS queue has 1 to 127 characters without blanks, quotes, / and #", name, queue)
	}
	if p.Lp == "" {
		p.Lp = "lp"
	}
	if p.Lpstat == "" {
		p.Lpstat = "lpstat"
	}
	return &Queue{name, queue, p.Lp, p.Lpstat, 30 * time.Second, 200 * time.Millisecond, askJob}, nil
}

// Name is the printer's name.
func (q *Queue) Name() string { return q.name }

// Print hands the file to lp, unless the queue is stopped, since CUPS would
// keep it and a person would print it again. Then it follows the job: if CUPS
// or the printer gives it up, it may have been printed in part. A job that is
// done, or that CUPS still keeps after a while, is printed.
func (q *Queue) Print(ctx context.Context, f File) error {
	if reason := q.stopped(ctx); reason != "" {
		return &Held{q.name, reason}
	}
	out, err := q.lpRun(ctx, f)
	if err != nil {
		return err
	}
	if job, ok := jobNumber(out); ok {
		return q.follow(ctx, job)
	}
	return nil
}

// lpRun runs lp.
func (q *Queue) lpRun(ctx context.Context, f File) (string, error) {
	limited, cancel := context.WithTimeout(ctx, q.patience)
	defer cancel()
	var out, errs bytes.Buffer
	cmd := exec.CommandContext(limited, q.lp, q.arguments(f)...)
	cmd.Env = environment()
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(f.Data), &out, &errs
	err := cmd.Run()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return out.String(), nil
	case limited.Err() != nil:
		return "", &Unclear{q.name, fmt.Sprintf("lp to queue %s did not end: %s", q.queue, limited.Err())}
	case errors.As(err, &exit) && exit.Exited():
		return "", &Held{q.name, fmt.Sprintf("queue %s: %s", q.queue, q.complaint(ctx, errs.String()))}
	case errors.As(err, &exit):
		return "", &Unclear{q.name, fmt.Sprintf("lp to queue %s was ended: %s", q.queue, err)}
	}
	return "", &Held{q.name, fmt.Sprintf("lp cannot be run: %s; is CUPS installed?", err)}
}

// environment makes the programs speak English.
func environment() []string { return append(os.Environ(), "LC_ALL=C") }

// jobNumber reads "request id is bench-12 (0 file(s))".
func jobNumber(out string) (int, bool) {
	_, rest, _ := strings.Cut(out, "request id is ")
	id, _, _ := strings.Cut(rest, " ")
	n, err := strconv.Atoi(id[strings.LastIndexByte(id, '-')+1:])
	return n, err == nil && n > 0
}

// follow waits for the end of a job, for as long as patience lasts.
func (q *Queue) follow(ctx context.Context, job int) error {
	limited, cancel := context.WithTimeout(ctx, q.patience)
	defer cancel()
	tick := time.NewTicker(q.look)
	defer tick.Stop()
	for {
		said, err := q.ask(limited, job)
		if reason, failed := said.failed(); failed {
			return &Unclear{q.name, fmt.Sprintf("queue %s: job %d: %s", q.queue, job, reason)}
		}
		if err == nil && said.state == jobCompleted {
			return nil
		}
		select {
		case <-limited.Done():
			return nil // CUPS keeps it and goes on by itself
		case <-tick.C:
		}
	}
}

// arguments of lp: the paper has the label's size, and nothing is scaled to
// it.
func (q *Queue) arguments(f File) []string {
	args := []string{"-d", q.queue, "-t", oneLine(f.Title)}
	if f.WidthMm > 0 && f.HeightMm > 0 {
		args = append(args, "-o", "media="+media(f.WidthMm, f.HeightMm))
	}
	return append(args, "-o", "print-scaling=none")
}

// media is the name that CUPS has for a size of paper.
func media(widthMm, heightMm float64) string {
	is := func(w, h float64) bool { return math.Abs(widthMm-w) < 1 && math.Abs(heightMm-h) < 1 }
	switch {
	case is(210, 297):
		return "A4"
	case is(215.9, 279.4):
		return "Letter"
	}
	return fmt.Sprintf("Custom.%.4gx%.4gmm", widthMm, heightMm)
}

// stopped says why a queue prints nothing; empty if it does, or if nobody
// knows.
func (q *Queue) stopped(ctx context.Context) string {
	ctx, cancel := context.WithTimeout(ctx, q.patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, q.lpstat, "-p", q.queue)
	cmd.Env = environment()
	out, err := cmd.Output()
	if err != nil {
		return "" // lp says it better
	}
	first, rest, _ := strings.Cut(string(out), "\n")
	if !strings.Contains(first, " disabled ") {
		return ""
	}
	reason := strings.Join(strings.Fields(rest), " ")
	if reason == "" {
		reason = "no reason given"
	}
	return fmt.Sprintf("queue %s is stopped: %s", q.queue, reason)
}

// complaint says what lp's complaint means. It says of a queue that it does
// not exist also when CUPS does not run.
func (q *Queue) complaint(ctx context.Context, text string) string {
	text = oneLine(strings.TrimPrefix(strings.TrimSpace(text), "lp: "))
	switch {
	case strings.Contains(text, "scheduler not responding"), strings.Contains(text, "Unable to connect"), q.asleep(ctx):
		return "CUPS does not run (" + text + ")"
	case strings.Contains(text, "does not exist"), strings.Contains(text, "Unknown destination"):
		return fmt.Sprintf("CUPS knows no queue %s; set it up, or choose one that lpstat -e lists (%s)", q.queue, text)
	case strings.Contains(text, "not accepting"):
		return "it takes no jobs (" + text + ")"
	case text == "":
		return "lp refused without a word"
	}
	return text
}

// asleep reports whether CUPS says that it does not run.
func (q *Queue) asleep(ctx context.Context) bool {
	ctx, cancel := context.WithTimeout(ctx, q.patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, q.lpstat, "-r")
	cmd.Env = environment()
	out, _ := cmd.Output()
	return strings.Contains(string(out), "not running")
}

// oneLine makes a text one printable line of at most 200 characters.
func oneLine(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	var b strings.Builder
	for _, r := range text {
		if r < ' ' || r == 0x7f || r == 0xfffd {
			r = '?'
		}
		if b.Len() >= 200 {
			break
		}
		b.WriteRune(r)
	}
	return b.String()
}
