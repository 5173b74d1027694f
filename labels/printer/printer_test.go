package printer

import (
	"bytes"
	"context"
	"io"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

var label = File{Name: "bench-2/1041/bag", Title: "bag B2KCZ6EE", Format: PNG, Data: []byte("\x89PNG and so on"), WidthMm: 100, HeightMm: 60}

func TestFolder(t *testing.T) {
	dir := t.TempDir()
	p, err := NewFolder("files", dir)
	require.NoError(t, err)
	require.Equal(t, "files", p.Name())
	require.NoError(t, p.Print(context.Background(), label))
	file := filepath.Join(dir, FileName(label))
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, label.Data, got)
	require.NoError(t, p.Print(context.Background(), label), "the same again after a power cut")
	other := label
	other.Data = []byte("other")
	var held *Held
	require.ErrorAs(t, p.Print(context.Background(), other), &held)
	require.Contains(t, held.Error(), "printer files: held: "+file+" is there already with other contents; move it away")
	other.Name = "bench-2/1042/bag"
	require.NoError(t, p.Print(context.Background(), other))
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, list, 2, "no half file is left")
	require.NoError(t, os.RemoveAll(dir))
	require.ErrorAs(t, p.Print(context.Background(), label), &held)
}

func TestFileNames(t *testing.T) {
	for title, want := range map[string]string{
		"bag B2KCZ6EE": "bag-B2KCZ6EE-", "../../etc/passwd": "etc-passwd-", "a\x00b\n": "a-b-", "田": "label-", "": "label-",
		strings.Repeat("x", 300): strings.Repeat("x", 80) + "-",
	} {
		name := FileName(File{Title: title, Format: PDF})
		require.Equal(t, want+"811c9dc5.pdf", name)
		require.Equal(t, filepath.Base(name), name)
	}
}

func TestPrintersRefuse(t *testing.T) {
	_, err := NewFolder("", t.TempDir())
	require.ErrorContains(t, err, `printer "": a name is 1 to 100 printable characters`)
	_, err = NewFolder("a\nb", t.TempDir())
	require.ErrorContains(t, err, "printable")
	_, err = NewFolder("files", filepath.Join(t.TempDir(), "none"))
	require.ErrorContains(t, err, "printer files: ")
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	_, err = NewFolder("files", file)
	require.ErrorContains(t, err, "is no folder")
	for _, address := range []string{"", "printer", ":9100", "printer:", "printer:99999", "printer:ninety"} {
		_, err := NewSocket("bench", address, 0, 0)
		require.ErrorContains(t, err, "printer bench: address", address)
	}
	for _, queue := range []string{"", "-d", "a b", "a/b", "a#b", "a'b", strings.Repeat("q", 128)} {
		_, err := NewQueue("bench", queue, Programs{})
		require.ErrorContains(t, err, "a CUPS queue has", queue)
	}
}

// listen is a printer that does with each connection as it is told.
func listen(t *testing.T, serve func(c *net.TCPConn)) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			go serve(c.(*net.TCPConn))
		}
	}()
	return l.Addr().String()
}

func TestSocketSendsTheBytesOfTheFile(t *testing.T) {
	got := make(chan []byte, 1)
	address := listen(t, func(c *net.TCPConn) {
		defer c.Close()
		b, _ := io.ReadAll(c)
		got <- b
	})
	p, err := NewSocket("bench", address, 0, 0)
	require.NoError(t, err)
	dir := t.TempDir()
	files, err := NewFolder("files", dir)
	require.NoError(t, err)
	big := label
	big.Data = bytes.Repeat([]byte("0123456789abcdef"), 50_000)
	for _, f := range []File{label, big} {
		f.Name += string(f.Format) + string(rune('a'+len(f.Data)%26))
		require.NoError(t, p.Print(context.Background(), f))
		require.NoError(t, files.Print(context.Background(), f))
		written, err := os.ReadFile(filepath.Join(dir, FileName(f)))
		require.NoError(t, err)
		require.True(t, bytes.Equal(written, <-got), "the socket gets the same bytes as the file")
	}
}

func TestSocketHolds(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	address := l.Addr().String()
	require.NoError(t, l.Close())
	p, err := NewSocket("bench", address, 0, 0)
	require.NoError(t, err)
	var held *Held
	require.ErrorAs(t, p.Print(context.Background(), label), &held)
	require.Equal(t, "printer bench: held: "+address+": connection refused; is it on, and is this the right port?", held.Error())

	p, err = NewSocket("bench", "printer.invalid:9100", time.Second, 0)
	require.NoError(t, err)
	require.ErrorAs(t, p.Print(context.Background(), label), &held)
	require.Contains(t, held.Error(), "printer.invalid")
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	require.ErrorAs(t, p.Print(gone, label), &held)
}

func TestSocketIsUnclear(t *testing.T) {
	big := label
	big.Data = bytes.Repeat([]byte("0123456789abcdef"), 1_000_000)
	hold := make(chan struct{})
	t.Cleanup(func() { close(hold) })
	for name, row := range map[string]struct {
		file  File
		serve func(c *net.TCPConn)
		why   string
	}{
		"closes half-way": {big, func(c *net.TCPConn) {
			io.CopyN(io.Discard, c, 100_000)
			c.Close()
		}, "bytes: it closed the connection; look at the printer"},
		"takes the beginning of a small file and closes": {label, func(c *net.TCPConn) {
			io.CopyN(io.Discard, c, 5)
			c.Close()
		}, "it closed the connection; look at the printer"},
		"takes nothing any more": {big, func(c *net.TCPConn) {
			<-hold
			c.Close()
		}, "it takes nothing any more; look at the printer"},
		"resets": {label, func(c *net.TCPConn) {
			io.ReadAll(c)
			c.SetLinger(0)
			c.Close()
		}, "no orderly end after"},
	} {
		p, err := NewSocket("bench", listen(t, row.serve), 0, 300*time.Millisecond)
		require.NoError(t, err)
		err = p.Print(context.Background(), row.file)
		var unclear *Unclear
		require.ErrorAs(t, err, &unclear, name)
		require.Contains(t, err.Error(), "printer bench: may have been printed: ", name)
		require.Contains(t, err.Error(), row.why, name)
	}
}

// Printers that take everything and then say nothing, or tell their state, are
// common.
func TestSocketNeedsNoAnswer(t *testing.T) {
	hold := make(chan struct{})
	t.Cleanup(func() { close(hold) })
	for name, serve := range map[string]func(c *net.TCPConn){
		"silent": func(c *net.TCPConn) { io.ReadAll(c); <-hold; c.Close() },
		"chatty": func(c *net.TCPConn) {
			io.WriteString(c, "READY\r\n")
			io.ReadAll(c)
			io.WriteString(c, "DONE\r\n")
			c.Close()
		},
	} {
		p, err := NewSocket("bench", listen(t, serve), 0, 200*time.Millisecond)
		require.NoError(t, err)
		require.NoError(t, p.Print(context.Background(), label), name)
	}
}

func TestSocketStopsWhenTheProgramStops(t *testing.T) {
	taken := make(chan struct{})
	hold := make(chan struct{})
	t.Cleanup(func() { close(hold) })
	p, err := NewSocket("bench", listen(t, func(c *net.TCPConn) {
		io.CopyN(io.Discard, c, 1)
		close(taken)
		<-hold
		c.Close()
	}), 0, time.Minute)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	go func() { <-taken; cancel() }()
	big := label
	big.Data = bytes.Repeat([]byte("0123456789abcdef"), 1_000_000)
	var unclear *Unclear
	require.ErrorAs(t, p.Print(ctx, big), &unclear)
	require.Contains(t, unclear.Error(), "the program was stopped")
}
