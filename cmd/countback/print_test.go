package main

import (
	"context"
	"encoding/json"
	"io/fs"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// printed lists what a folder that is a printer has got, in the order of time.
func printed(t *testing.T, dir string) []string {
	t.Helper()
	var files []string
	require.NoError(t, filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			files = append(files, path)
		}
		return err
	}))
	return files
}

// queueShop is a shop whose bag labels go to a folder.
func queueShop(t *testing.T) (s *shop, bag, dir string) {
	t.Helper()
	s, bag = benchShop(t)
	dir = s.path("labels")
	require.NoError(t, os.Mkdir(dir, 0o755))
	s.printers("{name: bench, folder: " + dir + ", bags: all}")
	s.run("print", "--once").ends(statusDone).says("bench: idle")
	return s, bag, dir
}

func TestQueuePrintsEachBagOnce(t *testing.T) {
	s, bag, dir := queueShop(t)
	s.fill(bag)
	s.run("print", "--once").ends(statusDone)
	require.Len(t, printed(t, dir), 1)
	if text, ok := pdfText(t, printed(t, dir)[0]); ok {
		require.Contains(t, text, bag)
		require.Contains(t, text, "Coils")
	}
	s.run("print", "--once").ends(statusDone) // a restart
	s.feed(bag+"\nCLOSE\n", "scan", "--terminal", "bench-1", "--job", "J1").ends(statusDone)
	s.run("print", "--once").ends(statusDone) // the bag has its label
	require.Len(t, printed(t, dir), 1)

	cursor := filepath.Join(s.store()+".print", "cursor")
	require.NoError(t, os.WriteFile(cursor, []byte("countback print cursor 1\n0\n"), 0o600))
	s.run("print", "--once").ends(statusDone) // a replay of everything
	require.Len(t, printed(t, dir), 1)
	s.run("print", "--status").ends(statusDone).says("nobody works it", "bench: idle")
}

func TestReprintIsAFactAndSaysSo(t *testing.T) {
	s, bag, dir := queueShop(t)
	s.fill(bag)
	s.run("label", "bag", bag, "--again", "--to", "x.pdf").ends(statusUsage).warns("the print queue prints the labels")
	s.run("label", "bag", bag, "--again", "--why", "label torn").ends(statusDone).says("Ordered on bench")
	s.feed(bag+"\nPRINT AGAIN\nTORN\n", "scan", "--terminal", "bench-1", "--job", "J1").ends(statusDone).says("printed again, torn")
	for range 2 {
		s.run("print", "--once").ends(statusDone)
		require.Len(t, printed(t, dir), 3)
	}
	s.run("history", "J1").ends(statusDone).says("Label "+bag+" printed again, label torn", "Label "+bag+" printed again, torn")
	var stamps []string
	for _, f := range printed(t, dir) {
		if text, ok := pdfText(t, f); ok {
			stamp := "first"
			for _, n := range []string{"REPRINT 1", "REPRINT 2"} {
				if strings.Contains(text, n) {
					stamp = n
				}
			}
			stamps = append(stamps, stamp)
		}
	}
	if stamps != nil {
		require.ElementsMatch(t, []string{"first", "REPRINT 1", "REPRINT 2"}, stamps)
	}
}

func TestReprintWithoutAQueue(t *testing.T) {
	s, bag := benchShop(t)
	s.fill(bag)
	s.run("label", "bag", bag, "--again", "--to", "tiny.pdf", "--size", "20x10").ends(statusUsage)
	require.NotContains(t, s.run("history", "J1").ends(statusDone).out, "printed again", "what was not drawn is no fact")
	s.run("label", "bag", bag, "--again", "--to", "again.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("again.pdf")); ok {
		require.Contains(t, text, "REPRINT 1")
	}
	s.run("history", "J1").ends(statusDone).says("Label " + bag + " printed again")
}

func TestPrinterThatIsOffHoldsTheQueue(t *testing.T) {
	s, bag := benchShop(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	address := l.Addr().String()
	require.NoError(t, l.Close())
	s.printers("{name: raw, socket: '" + address + "', bags: [bench-1]}")
	s.run("print", "--once").ends(statusDone)
	s.fill(bag)
	s.run("print", "--once").ends(statusNo).says("raw: held", "refused", "bag "+bag)
	s.run("print", "--status").ends(statusNo).says(bag)
	_, got := fakePrinter(t, address)
	s.run("print", "--once").ends(statusDone)
	require.True(t, strings.HasPrefix(string(<-got), "%PDF-"))
	s.run("print", "--once").ends(statusDone)
	require.Empty(t, got, "nothing comes twice")
}

func TestPrinterThatClosesHalfWayAsksAPerson(t *testing.T) {
	s, bag := benchShop(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	go func() {
		if c, err := l.Accept(); err == nil {
			_, _ = c.Read(make([]byte, 1))
			_ = c.(*net.TCPConn).SetLinger(0) // a reset, with bytes still under way
			c.Close()
		}
	}()
	s.printers("{name: raw, socket: '" + l.Addr().String() + "', bags: all, format: png, size: 200x200, dpi: 600}")
	s.run("print", "--once").ends(statusDone)
	s.fill(bag)
	s.run("print", "--once").ends(statusNo).says("look at the printer", "countback print answer 1 printed, or again")
	require.NoError(t, l.Close())
	s.run("print", "answer", "9", "printed").ends(statusUnknown).warns("no order 9 waits")
	s.run("print", "answer", "1", "perhaps").ends(statusUsage).warns("say printed, again or drop")
	s.run("print", "answer", "1", "drop").ends(statusUsage).warns("say why")
	s.run("print", "answer", "1", "printed").ends(statusDone)
	s.run("print", "--status").ends(statusDone)
}

func TestLabelsOfOtherTerminalsAreNotPrinted(t *testing.T) {
	s, bag := benchShop(t)
	dir := s.path("labels")
	require.NoError(t, os.Mkdir(dir, 0o755))
	s.printers("{name: bench, folder: " + dir + ", bags: [bench-2]}")
	s.run("print", "--once").ends(statusDone)
	s.fill(bag)
	s.run("print", "--once").ends(statusDone)
	require.Empty(t, printed(t, dir))
}

func TestLabelThatCannotBeDrawnIsSaidAndKept(t *testing.T) {
	s, bag, dir := queueShop(t)
	s.printers("{name: bench, folder: " + dir + ", bags: all, size: 20x10}")
	s.fill(bag)
	s.run("print", "--once").ends(statusNo).says("not drawn: bag "+bag, "this would fit")
	s.printers("{name: bench, folder: " + dir + ", bags: all, size: 60x40}")
	s.run("print", "--once").ends(statusDone)
	require.Len(t, printed(t, dir), 1)
}

func TestQueueOfAnotherStoreIsRefused(t *testing.T) {
	s, _, _ := queueShop(t)
	cursor := filepath.Join(s.store()+".print", "cursor")
	require.NoError(t, os.WriteFile(cursor, []byte("countback print cursor 1\n99999\n"), 0o600))
	s.run("print", "--once").ends(statusStore).warns("has read up to event 99999", "restored")
}

func TestQueueFollowsAStoreAtWork(t *testing.T) {
	s, bag, dir := queueShop(t)
	cmd := exec.Command(program, "print")
	cmd.Env, cmd.Dir = s.env, s.dir
	require.NoError(t, cmd.Start())
	status := func() (r queueReport) {
		data, err := os.ReadFile(filepath.Join(s.store()+".print", "status.json"))
		if err == nil {
			_ = json.Unmarshal(data, &r)
		}
		return r
	}
	require.Eventually(t, func() bool { return status().Working }, 20*time.Second, 20*time.Millisecond)
	s.run("print", "--once").ends(statusStore).warns("another program has it open")
	s.fill(bag)
	require.Eventually(t, func() bool { return len(printed(t, dir)) == 1 }, 20*time.Second, 20*time.Millisecond)
	require.Eventually(t, func() bool { return len(status().Printers[0].Open) == 0 }, 20*time.Second, 20*time.Millisecond)
	s.run("print", "--status").ends(statusDone).says("a program works it")
	require.NoError(t, cmd.Process.Signal(syscall.SIGTERM))
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	stopped := make(chan error, 1)
	go func() { stopped <- cmd.Wait() }()
	select {
	case <-stopped:
	case <-ctx.Done():
		t.Fatal("it did not stop")
	}
	require.Equal(t, int(statusInterrupted), cmd.ProcessState.ExitCode())
	require.False(t, status().Working)
}
