package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// sorrelShop is a shop with one open job, J1, at a bench.
func sorrelShop(t *testing.T) *shop {
	t.Helper()
	s := newShop(t)
	s.run("job", "open", "--terminal", "b1", "--plan", sorrel(t), "--engine", "Sorrel, blue van").
		ends(statusDone).says("Job J1 opened", "838 codes issued")
	s.args = []string{"--terminal", "b1"}
	return s
}

func TestJobOpenIssuesCodesAndCountsOn(t *testing.T) {
	s := sorrelShop(t)
	var r openedReport
	d := s.run("job", "open", "--engine", "Barn find", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Equal(t, "J2", r.Job)
	require.Empty(t, r.Plan)
	require.NotEmpty(t, r.Card)
	s.run("job", "open", "--engine", "again", "--id", "J1").ends(statusNo).warns("job J1 was not opened")
	s.run("job", "list").ends(statusDone).says("Sorrel, blue van", "Barn find")
	broken := s.path("broken.yaml")
	require.NoError(t, os.WriteFile(broken, []byte("plan: 7\n"), 0o644))
	s.run("job", "open", "--engine", "x", "--plan", broken).ends(statusNo).warns("countback plan check")
	require.NotContains(t, s.run("job", "list").out, "J3", "nothing was opened half")
}

func TestScanSaysOneSentenceForEachAcceptedEvent(t *testing.T) {
	s := sorrelShop(t)
	d := s.feed("job J1\nmark checked-in\nDONE\njoint oil-pan\nhole 7\nMISSING ON ARRIVAL\nSELLER\n", "scan").ends(statusDone)
	d.says("OK         Checked in and photographed", "OK         Oil pan")
	require.Equal(t, 2, strings.Count(d.out, "OK  "))
	require.NotContains(t, d.out, "Whose was it?", "what was only heard is not shown for a pipe")
	s.feed("joint oil-pan\n", "scan", "--job", "J1", "--all", "--echo").ends(statusNo).says("joint oil-pan\n", "ALL OUT", "Left open at the end: joint oil-pan. Nothing")
	s.feed("joint oil-pan\n", "scan", "--job", "J9").ends(statusUnknown).warns("there is no job J9")

	var kinds []string
	d = s.feed("job J1\njoint flywheel\n8\n", "scan", "--json").ends(statusDone)
	for _, line := range strings.Split(strings.TrimSpace(d.out), "\n") {
		var got turn
		require.NoError(t, json.Unmarshal([]byte(line), &got), line)
		kinds = append(kinds, got.Kinds...)
	}
	require.Equal(t, []string{"pieces-out"}, kinds)
}

func TestScanStatusTellsWhetherAnythingWasRefused(t *testing.T) {
	s := sorrelShop(t)
	for name, row := range map[string]struct {
		in   string
		want status
		says string
	}{
		"a verb without a noun":     {"job J1\nALL OUT\n", statusNo, "STOP"},
		"a misread label":           {"job J1\nBAABR6K3\n", statusNo, "Misread"},
		"a foreign code":            {"job J1\n4006381333931\n", statusNo, "STOP"},
		"a number of nothing":       {"job J1\n5\n", statusNo, "STOP"},
		"a turn with the pin in":    {"job J1\nloan crank-pin\nIN\nTURN OVER?\nloan crank-pin\nOUT\n", statusNo, "Crank timing pin"},
		"a question that is fine":   {"job J1\nHEAT?\nWHAT NOW\n", statusNo, "STOP"},
		"what now":                  {"job J1\nWHAT NOW\n", statusDone, "can start"},
		"nothing":                   {"", statusDone, ""},
		"empty lines":               {"\n\r\n\n", statusDone, ""},
		"CR, as many scanners send": {"job J1\rWHAT NOW\r", statusDone, "can start"},
		"no end of line":            {"job J1\nWHAT NOW", statusDone, "can start"},
		"lower case":                {"JOB J1\nwhat now\n", statusDone, "can start"},
		"no UTF-8 is no scan":       {"job J1\n\xff\xfe\n", statusDone, ""},
	} {
		d := s.feed(row.in, "scan")
		require.Equal(t, row.want, d.status, "%s\n%s%s", name, d.out, d.err)
		require.Contains(t, d.out, row.says, name)
	}
	s.feed(strings.Repeat("x", maxScan+1), "scan").ends(statusUsage).warns("is this the right file?")
	s.run("scan", s.path("nowhere.scan")).ends(statusUnknown).warns("nowhere.scan")
	s.run("scan", "a", "b").ends(statusUsage)
}

func TestScanReadsAFile(t *testing.T) {
	s := sorrelShop(t)
	file := s.path("morning.scan")
	require.NoError(t, os.WriteFile(file, []byte("mark checked-in\nDONE\n"), 0o644))
	s.run("scan", "--job", "J1", file).ends(statusDone).says("Checked in")
	s.feed("WHAT NOW\n", "scan", "--job", "J1", "-").ends(statusDone).says("can start")
	s.run("scan", s.dir).ends(statusFailed)
}

// Digit cards make a number that is whole half a second after its last digit,
// also when the input ends before that.
func TestScanWaitsForTheLastDigit(t *testing.T) {
	s := sorrelShop(t)
	cards := map[string]string{}
	var codes codesReport
	require.NoError(t, json.Unmarshal([]byte(s.run("codes", "--json").out), &codes))
	for _, c := range codes.Cards {
		cards[c.Word] = c.Code
	}
	s.feed("job J1\njoint flywheel\n"+cards["DIGIT 8"]+"\n", "scan").ends(statusDone).says("8")
	s.run("where", "joint flywheel").ends(statusDone).says("counted")
}

// start runs a command and waits for what it first says on standard error.
func (s *shop) start(args ...string) (*exec.Cmd, *os.File, string) {
	s.t.Helper()
	read, write, err := os.Pipe()
	require.NoError(s.t, err)
	cmd := exec.Command(program, append(s.args, args...)...)
	cmd.Env, cmd.Dir, cmd.Stdin = s.env, s.dir, read
	errOut, err := cmd.StderrPipe()
	require.NoError(s.t, err)
	require.NoError(s.t, cmd.Start())
	require.NoError(s.t, read.Close())
	s.t.Cleanup(func() {
		_ = write.Close()
		_ = cmd.Process.Kill()
	})
	line, err := bufio.NewReader(errOut).ReadString('\n')
	require.NoError(s.t, err)
	return cmd, write, strings.TrimSpace(line)
}

func TestAStoppedScanLeavesASoundStore(t *testing.T) {
	s := sorrelShop(t)
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGKILL} {
		cmd, in, line := s.start("scan", "--listen", "127.0.0.1:0", "--job", "J1")
		require.Contains(t, line, "listening on 127.0.0.1:")
		_, err := fmt.Fprintln(in, "loan rag\nIN\n2")
		require.NoError(t, err)
		s.run("scan").ends(statusStore).warns("in use by b1", fmt.Sprint(cmd.Process.Pid))
		require.NoError(t, cmd.Process.Signal(signal))
		err = cmd.Wait()
		require.Error(t, err)
		if signal != syscall.SIGKILL {
			require.Equal(t, int(statusInterrupted), cmd.ProcessState.ExitCode(), "%v", signal)
		}
		s.run("store", "check").ends(statusDone)
		s.feed("WHAT NOW\n", "scan", "--job", "J1").ends(statusDone)
	}
}

// A disk that is full refuses what no longer fits before any of it is written.
func TestAFullDiskIsSaid(t *testing.T) {
	s := newShop(t)
	small := s.path("small")
	require.NoError(t, os.MkdirAll(small, 0o755))
	if err := syscall.Mount("tmpfs", small, "tmpfs", 0, "size=32m"); err != nil {
		if os.Getenv("CI") == "" {
			t.Logf("no small disk to fill: %v", err)
			return
		}
		require.NoError(t, err)
	}
	t.Cleanup(func() { require.NoError(t, syscall.Unmount(small, 0)) })
	store := small + "/store"
	d := s.run("job", "open", "--engine", "x", "--store", store)
	d.ends(statusStore).warns("no room for more events", "make room there")
	require.NotContains(t, d.out, "opened")
	s.run("job", "list", "--store", store).ends(statusDone).says("There is no job yet")
}

// Remarks, blank lines, and several scans on a line; what is typed as a text is
// never divided.
func TestScanTakesSeveralScansOnALine(t *testing.T) {
	s := sorrelShop(t)
	s.feed("# the pan\n\njob J1\njoint coils, ALL OUT\njoint oil-pan|14|3|STILL IN|OK\n", "scan").says("Coils out", "Oil pan out", "still in").ends(statusDone)
	s.feed("joint coils, bag NOSUCH99, 4\n", "scan", "--job", "J1").ends(statusNo)
	s.feed("part head, HOLD, text cracked, at the front, badly\nstep head-on, HOLD, it leaks, a bit\nmeasurement main-journal, position 4, 51,98\n", "scan", "--job", "J1").
		ends(statusDone).says("on part head: cracked, at the front, badly", "on step head-on: it leaks, a bit", "main-journal at 4: 51.98 mm")
}

func TestScanNamesWhatWasLeftHalfSaid(t *testing.T) {
	s := sorrelShop(t)
	for name, row := range map[string]struct{ in, says string }{
		"a noun":                       {"joint oil-pan", "Left open at the end: joint oil-pan. Nothing of it is stored"},
		"some of the numbers":          {"joint oil-pan, 14", "Left open at the end: joint oil-pan, 14 M6. Nothing of it is stored"},
		"a doubt":                      {"measurement main-journal, position 4, 2.1", "was 2.1 in (53 mm) meant?"},
		"a verb that asks":             {"bag BAA9QN9C, COUNT", "COUNT"},
		"left for another one":         {"bag BAA9QN9C, COUNT, joint coils, ALL OUT", "Dropped: bag BAA9QN9C, COUNT"},
		"left for another by a person": {"joint oil-pan, 14, step cover-on, joint coils", "Joint coils again begins with it and drops joint oil-pan, 14 M6"},
	} {
		t.Run(name, func(t *testing.T) {
			s.feed(row.in+"\n", "scan", "--job", "J1").ends(statusNo).says(row.says)
		})
	}
}
