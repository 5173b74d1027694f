package stream

import (
	"bytes"
	"io"
	"net"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

// line is a TCP connection to a server that can lose what goes over it in
// either direction.
type line struct {
	listener net.Listener
	target   string
	fault    journal.Fault
	armed    atomic.Int32
	lost     atomic.Bool
	refuse   atomic.Bool
	mu       sync.Mutex
	open     []net.Conn
	pumps    sync.WaitGroup
}

func newLine(t testing.TB, target string) *line {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ln := &line{listener: l, target: target}
	ln.pumps.Go(ln.accept)
	t.Cleanup(func() {
		l.Close()
		ln.cut()
		ln.pumps.Wait()
	})
	return ln
}

func (ln *line) url() string { return "nats://" + ln.listener.Addr().String() }

func (ln *line) accept() {
	for {
		client, err := ln.listener.Accept()
		if err != nil {
			return
		}
		server, err := net.Dial("tcp", ln.target)
		if err != nil || ln.refuse.Load() {
			client.Close()
			continue
		}
		ln.mu.Lock()
		ln.open = append(ln.open, client, server)
		ln.mu.Unlock()
		ln.pumps.Go(func() { pump(server, client, ln.request) })
		ln.pumps.Go(func() { pump(client, server, ln.answer) })
	}
}

// request passes on what goes to the server, unless it is to get lost: the
// first message that is to be stored, and everything after it.
func (ln *line) request(b []byte) bool {
	if bytes.Contains(b, []byte("HPUB countback.")) && ln.armed.Swap(0) != 0 {
		ln.lost.Store(true)
	}
	return !ln.lost.Load() || ln.fault == journal.LoseAnswer
}

// answer passes on what comes from the server, unless it is to get lost.
func (ln *line) answer([]byte) bool { return !ln.lost.Load() }

// lose arms the line for the next message that is to be stored.
func (ln *line) lose(f journal.Fault) {
	ln.fault = f
	ln.armed.Store(1)
}

// mend makes everything pass again, over new connections.
func (ln *line) mend() {
	ln.armed.Store(0)
	ln.cut()
	ln.lost.Store(false)
}

// pump copies from one end to the other what pass lets through.
func pump(to io.WriteCloser, from io.ReadCloser, pass func([]byte) bool) {
	defer to.Close()
	defer from.Close()
	buf := make([]byte, 64<<10)
	for {
		n, err := from.Read(buf)
		if n > 0 && pass(buf[:n]) {
			if _, err := to.Write(buf[:n]); err != nil {
				return
			}
		}
		if err != nil {
			return
		}
	}
}

// cut ends every connection.
func (ln *line) cut() {
	ln.mu.Lock()
	defer ln.mu.Unlock()
	for _, c := range ln.open {
		c.Close()
	}
	ln.open = nil
}
