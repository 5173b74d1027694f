//go:build linux

package printer

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/labels"
	"countback/labels/code"
	"countback/labels/peer"
	"countback/labels/sheet"
)

const insideCUPS = "COUNTBACK_CUPS_FOLDER"

// A real CUPS with Debian's IPP printer behind it, in a network of their own:
// this test starts them and runs TestInsideCUPS among them.
func TestCUPS(t *testing.T) {
	if os.Getenv(insideCUPS) != "" {
		return
	}
	for _, program := range []string{"unshare", "dbus-daemon", "avahi-daemon", "ip", "ippeveprinter", "cupsd", "lpadmin", "lp", "lpstat", "cupsdisable", "pdftoppm"} {
		if !peer.Has(t, program) {
			return
		}
	}
	if out, err := exec.Command("unshare", "-n", "-m", "-p", "--fork", "true").CombinedOutput(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("no namespaces: %s: %s", err, out)
		}
		t.Logf("no namespaces: %s: not tried", out)
		return
	}
	dir, err := os.MkdirTemp("", "cups-")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	script, err := filepath.Abs("testdata/cups.sh")
	require.NoError(t, err)
	self, err := os.Executable()
	require.NoError(t, err)
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "unshare", "-n", "-m", "-p", "--fork", "--kill-child", "sh", script, dir, self, "-test.run=^TestInsideCUPS$", "-test.v")
	cmd.Env = append(os.Environ(), insideCUPS+"="+dir)
	out, err := cmd.CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("--- PASS: TestInsideCUPS")) {
		for _, log := range []string{"avahi.log", "ipp.log", "cupsd.log", "lpadmin.log"} {
			b, _ := os.ReadFile(filepath.Join(dir, log))
			t.Logf("%s: %s", log, b)
		}
		t.Fatalf("%v: %s", err, out)
	}
}

// TestInsideCUPS does nothing unless TestCUPS runs it.
func TestInsideCUPS(t *testing.T) {
	dir := os.Getenv(insideCUPS)
	if dir == "" {
		return
	}
	q, err := NewQueue("labels", "bench", Programs{})
	require.NoError(t, err)
	ctx := context.Background()
	var held *Held

	wanted, file := sheetOfLabels(t)
	require.NoError(t, q.Print(ctx, file))
	bars := received(t, dir)
	require.ElementsMatch(t, wanted, bars, "what came out of the printer")

	odd := file
	odd.WidthMm, odd.HeightMm = 100, 60
	var unclear *Unclear
	require.ErrorAs(t, q.Print(ctx, odd), &unclear, "this printer has no such paper")
	require.Contains(t, unclear.Error(), "job 2: cancelled; Printer cannot print with supplied options.")

	none, err := NewQueue("labels", "nowhere", Programs{})
	require.NoError(t, err)
	require.ErrorAs(t, none.Print(ctx, file), &held)
	require.Contains(t, held.Error(), "CUPS knows no queue nowhere")

	require.NoError(t, exec.Command("cupsdisable", "-r", "out of paper", "bench").Run())
	require.ErrorAs(t, q.Print(ctx, file), &held)
	require.Contains(t, held.Error(), "queue bench is stopped: out of paper")
	require.NoError(t, exec.Command("cupsenable", "bench").Run())
	require.NoError(t, exec.Command("cupsreject", "bench").Run())
	require.ErrorAs(t, q.Print(ctx, file), &held)
	require.Contains(t, held.Error(), "it takes no jobs")
	require.NoError(t, exec.Command("cupsaccept", "bench").Run())

	stopCUPS(t, dir)
	require.ErrorAs(t, q.Print(ctx, file), &held)
	require.Contains(t, held.Error(), "CUPS does not run")
}

// sheetOfLabels is a sheet of four bags and their codes.
func sheetOfLabels(t *testing.T) ([]string, File) {
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	codes, _, err := labels.Codes(i, code.Bag, 0, 4)
	require.NoError(t, err)
	d, err := sheet.Labels(sheet.A4Grid24, labels.Media{DPI: 300, MarginMm: 4}, labels.BagRoll(codes, "Bench 2", false))
	require.NoError(t, err)
	pdf, err := d.PDF()
	require.NoError(t, err)
	var wanted []string
	for _, c := range d.Codes() {
		wanted = append(wanted, string(c))
	}
	first := d.Page(0)
	return wanted, File{Name: "roll/1", Title: d.Title(), Format: PDF, Data: pdf, WidthMm: first.WidthMm(), HeightMm: first.HeightMm()}
}

// received is the texts of the codes on the one page that the printer got.
func received(t *testing.T, dir string) []string {
	files, err := filepath.Glob(filepath.Join(dir, "ipp", "*.pdf"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	out := filepath.Join(t.TempDir(), "page")
	require.NoError(t, exec.Command("pdftoppm", "-r", "300", "-mono", "-singlefile", files[0], out).Run())
	bars, _ := peer.Bars(t, out+".pbm")
	return bars
}

func stopCUPS(t *testing.T, dir string) {
	b, err := os.ReadFile(filepath.Join(dir, "cupsd.pid"))
	require.NoError(t, err)
	pid, err := strconv.Atoi(strings.TrimSpace(string(b)))
	require.NoError(t, err)
	require.NoError(t, syscall.Kill(pid, syscall.SIGTERM))
	require.Eventually(t, func() bool {
		out, _ := exec.Command("lpstat", "-r").Output()
		return strings.Contains(string(out), "not running")
	}, 20*time.Second, 50*time.Millisecond)
}
