//go:build unix

package printer

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// programs writes an lp and an lpstat that say what real ones say.
func programs(t *testing.T, lp, lpstat string) (Programs, string) {
	t.Helper()
	dir := t.TempDir()
	write := func(name, body string) string {
		file := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(file, []byte("#!/bin/sh\ncd "+dir+"\n"+body), 0o755))
		return file
	}
	return Programs{write("lp", lp), write("lpstat", lpstat)}, dir
}

// The words are those of CUPS 2.4.2, copied from its programs.
const (
	idle     = `case "$1" in -p) echo "printer bench is idle.  enabled since Wed Nov 25 14:42:45 2026";; -r) echo "scheduler is running";; `
	finished = idle + `esac`
)

func queue(t *testing.T, lp, lpstat string) (*Queue, string) {
	t.Helper()
	p, dir := programs(t, lp, lpstat)
	q, err := NewQueue("labels", "bench", p)
	require.NoError(t, err)
	q.look = 10 * time.Millisecond
	q.ask = func(context.Context, int) (jobWords, error) { return jobWords{state: jobCompleted}, nil }
	return q, dir
}

func TestQueueGivesTheFileToLp(t *testing.T) {
	q, dir := queue(t, `printf '%s|' "$@" > arguments; cat > data; echo "request id is bench-1 (0 file(s))"`, finished)
	require.Equal(t, "labels", q.Name())
	f := label
	f.Title = "bag\nB2KCZ6EE \x1b[31m"
	require.NoError(t, q.Print(context.Background(), f))
	data, err := os.ReadFile(filepath.Join(dir, "data"))
	require.NoError(t, err)
	require.Equal(t, label.Data, data)
	arguments, err := os.ReadFile(filepath.Join(dir, "arguments"))
	require.NoError(t, err)
	require.Equal(t, "-d|bench|-t|bag B2KCZ6EE ?[31m|-o|media=Custom.100x60mm|-o|print-scaling=none|", string(arguments))
	require.Equal(t, "A4", media(210, 297))
	require.Equal(t, "Letter", media(216, 279))
}

func TestQueueHolds(t *testing.T) {
	const took = `cat > data; echo "request id is bench-1 (0 file(s))"`
	for name, row := range map[string]struct{ lp, lpstat, why string }{
		"unknown": {`echo "lp: Error - The printer or class does not exist." >&2; exit 1`, finished,
			"printer labels: held: queue bench: CUPS knows no queue bench; set it up, or choose one that lpstat -e lists (Error - The printer or class does not exist.)"},
		"CUPS off": {`echo "lp: Error - The printer or class does not exist." >&2; exit 1`, `[ "$1" = -r ] && echo "scheduler is not running"; exit 1`,
			"queue bench: CUPS does not run (Error - The printer or class does not exist.)"},
		"rejecting": {`echo 'lp: Destination "bench" is not accepting jobs.' >&2; exit 1`, finished,
			`queue bench: it takes no jobs (Destination "bench" is not accepting jobs.)`},
		"out of paper": {took, `printf 'printer bench disabled since Wed Nov 25 14:43:00 2026 -\n\tout of paper\n'`,
			"queue bench is stopped: out of paper"},
		"silent": {`exit 3`, finished, "lp refused without a word"},
	} {
		q, _ := queue(t, row.lp, row.lpstat)
		err := q.Print(context.Background(), label)
		var held *Held
		require.ErrorAs(t, err, &held, name)
		require.Contains(t, err.Error(), row.why, name)
	}
	q, err := NewQueue("labels", "bench", Programs{Lp: "/nowhere/lp", Lpstat: "/nowhere/lpstat"})
	require.NoError(t, err)
	require.ErrorContains(t, q.Print(context.Background(), label), "lp cannot be run")
	require.ErrorContains(t, q.Print(context.Background(), label), "is CUPS installed?")
}

func TestQueueIsUnclear(t *testing.T) {
	var unclear *Unclear
	q, _ := queue(t, `cat > data; kill -9 $$`, finished)
	require.ErrorAs(t, q.Print(context.Background(), label), &unclear)
	require.Contains(t, unclear.Error(), "was ended: signal: killed")
	q, _ = queue(t, `cat > data; exec tail -f /dev/null`, finished)
	q.patience = 200 * time.Millisecond
	require.ErrorAs(t, q.Print(context.Background(), label), &unclear)
	require.Contains(t, unclear.Error(), "lp to queue bench did not end")
}

// A job that CUPS keeps is CUPS's: it goes on by itself when the printer is
// back. One that it gives up may have been printed in part.
func TestQueueFollowsTheJob(t *testing.T) {
	const took = `cat > data; echo "request id is bench-12 (0 file(s))"`
	q, _ := queue(t, took, finished)
	var states []int
	q.ask = func(_ context.Context, job int) (jobWords, error) {
		require.Equal(t, 12, job)
		now := []int{3, 0, 5, 6, jobCompleted}[len(states)]
		states = append(states, now)
		if now == 0 {
			return jobWords{}, os.ErrDeadlineExceeded
		}
		return jobWords{state: now}, nil
	}
	require.NoError(t, q.Print(context.Background(), label))
	require.Len(t, states, 5)

	q.ask = func(context.Context, int) (jobWords, error) {
		return jobWords{jobCanceled, "Printer cannot print with supplied options.", []string{"processing-to-stop-point"}}, nil
	}
	err := q.Print(context.Background(), label)
	var unclear *Unclear
	require.ErrorAs(t, err, &unclear)
	require.EqualError(t, err, "printer labels: may have been printed: queue bench: job 12: cancelled; Printer cannot print with supplied options.; processing-to-stop-point; look at the printer")

	q.ask = func(context.Context, int) (jobWords, error) { return jobWords{state: 6}, nil }
	q.patience = 500 * time.Millisecond
	require.NoError(t, q.Print(context.Background(), label))
	q, _ = queue(t, `cat > data`, finished)
	require.NoError(t, q.Print(context.Background(), label), "an lp that gives no id")
}

func TestJobNumbers(t *testing.T) {
	for out, want := range map[string]int{
		"request id is bench-12 (0 file(s))\n": 12, "request id is label-printer-2-7 (1 file(s))": 7, "": 0, "request id is bench (1)": 0, "request id is bench-x": 0,
	} {
		n, ok := jobNumber(out)
		require.Equal(t, want > 0, ok, out)
		if ok {
			require.Equal(t, want, n)
		}
	}
}
