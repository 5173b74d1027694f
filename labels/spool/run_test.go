package spool

import (
	"bytes"
	"context"
	"io"
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels/printer"
)

// until waits for a state that the spool must come to.
func until(t *testing.T, s *Spool, ok func(Queue) bool) {
	t.Helper()
	limit := time.After(20 * time.Second)
	for {
		changed := s.Changed()
		if ok(s.Queues()[0]) {
			return
		}
		select {
		case <-changed:
		case <-limit:
			t.Fatalf("stays %+v", s.Queues()[0])
		}
	}
}

func TestRun(t *testing.T) {
	p, other := &fake{name: "bench"}, &fake{name: "other"}
	p.say(held("out of paper"))
	s := open(t, t.TempDir(), p, other)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Run(ctx) }()
	add(t, s, order(t, 1, 0))
	until(t, s, func(q Queue) bool { return q.State == Held })
	require.Equal(t, "out of paper", s.Queues()[0].Reason)
	o := order(t, 2, 0)
	o.Printer = "other"
	add(t, s, o)
	until(t, s, func(Queue) bool { return other.count() == 1 }) // one printer does not hold the other
	p.say(nil)
	s.Retry("bench")
	until(t, s, func(q Queue) bool { return len(q.Open) == 0 })
	p.say(unclear("half-way"))
	add(t, s, order(t, 3, 0))
	until(t, s, func(q Queue) bool { return q.State == Asks })
	p.say(nil)
	require.NoError(t, s.Again("bench-2/3/bag", 0))
	until(t, s, func(q Queue) bool { return len(q.Open) == 0 })
	require.Equal(t, 2, p.count())
	cancel()
	require.NoError(t, <-done)

	go func() { done <- s.Run(context.Background()) }()
	require.NoError(t, s.Close())
	require.NoError(t, <-done, "closed while running")
}

func TestRunTriesAgainAfterThePause(t *testing.T) {
	tries := 0
	p := &fake{name: "bench"}
	p.say(func(printer.File) error {
		if tries++; tries < 4 {
			return &printer.Held{Printer: "bench", Reason: "off"}
		}
		return nil
	})
	s, err := Open(Settings{Dir: t.TempDir(), Printers: []printer.Printer{p}, Pause: time.Millisecond})
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	go s.Run(ctx)
	add(t, s, order(t, 1, 0))
	until(t, s, func(q Queue) bool { return len(q.Open) == 0 })
	require.Equal(t, 4, tries)
}

// A real printer on a raw socket: first nobody listens, then it closes
// half-way, then it takes all: the same bytes as the file in a folder.
func TestARawSocket(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	address := l.Addr().String()
	require.NoError(t, l.Close())
	socket, err := printer.NewSocket("bench", address, 0, 5*time.Second)
	require.NoError(t, err)
	folder := t.TempDir()
	files, err := printer.NewFolder("files", folder)
	require.NoError(t, err)
	s := open(t, t.TempDir(), socket, files)
	add(t, s, order(t, 1, 0))
	next(t, s, Holding)
	require.Contains(t, s.Queues()[0].Reason, "connection refused; is it on")

	l, err = net.Listen("tcp", address)
	require.NoError(t, err)
	defer l.Close()
	got := make(chan []byte, 1)
	go func() {
		c, err := l.Accept()
		if err != nil {
			return
		}
		_, _ = io.CopyN(io.Discard, c, 10)
		c.Close()
		if c, err = l.Accept(); err != nil {
			return
		}
		b, _ := io.ReadAll(c)
		c.Close()
		got <- b
	}()
	next(t, s, Asking)
	require.Contains(t, s.Queues()[0].Reason, "closed the connection")
	require.NoError(t, s.Again("bench-2/1/bag", 0))
	next(t, s, Done)

	o := order(t, 1, 0)
	o.Key, o.Printer = "bench-2/1/file", "files"
	add(t, s, o)
	outcome, err := s.Next(context.Background(), "files")
	require.NoError(t, err)
	require.Equal(t, Done, outcome)
	list, err := filepath.Glob(filepath.Join(folder, "*.png"))
	require.NoError(t, err)
	require.Len(t, list, 1)
	file, err := os.ReadFile(list[0])
	require.NoError(t, err)
	require.True(t, bytes.Equal(file, <-got), "the socket got the same bytes as the file")
}

// Whatever printers do and whenever the power fails: no order comes out more
// often than once, and once more for each Again; none is forgotten.
func TestOnceWhateverHappens(t *testing.T) {
	orders := make([]Order, 6)
	for n := range orders {
		orders[n] = order(t, n, 0)
	}
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "spool")
		require.NoError(rt, err)
		p := &fake{name: "bench"}
		begin := func() *Spool {
			s, err := Open(Settings{Dir: dir, Printers: []printer.Printer{p}, Now: func() time.Time { return start }})
			require.NoError(rt, err)
			return s
		}
		s := begin()
		may, added := map[string]int{}, map[string]bool{}
		for range rapid.IntRange(1, 40).Draw(rt, "steps") {
			n := rapid.IntRange(0, len(orders)-1).Draw(rt, "order")
			key := orders[n].Key
			switch rapid.SampledFrom([]string{"add", "add", "print", "print", "held", "unclear", "came out, then broke", "power", "again", "printed", "restart"}).Draw(rt, "step") {
			case "add":
				fresh, err := s.Add(orders[n])
				require.NoError(rt, err)
				require.Equal(rt, !added[key], fresh)
				if fresh {
					added[key], may[key+"#0"] = true, 1
				}
			case "print":
				p.says = nil
				_, err := s.Next(context.Background(), "bench")
				require.NoError(rt, err)
			case "held":
				p.says = held("off")
				_, err := s.Next(context.Background(), "bench")
				require.NoError(rt, err)
			case "unclear":
				p.says = unclear("broke")
				_, err := s.Next(context.Background(), "bench")
				require.NoError(rt, err)
			case "came out, then broke":
				p.says = func(f printer.File) error {
					p.out = append(p.out, f)
					return &printer.Unclear{Printer: "bench", Reason: "broke"}
				}
				_, err := s.Next(context.Background(), "bench")
				require.NoError(rt, err)
			case "power":
				p.says = func(printer.File) error { kill(s); return nil }
				_, _ = s.Next(context.Background(), "bench")
				if !s.closed {
					kill(s)
				}
				s = begin()
			case "again":
				if s.Again(key, 0) == nil {
					may[key+"#0"]++
				}
			case "printed":
				_ = s.Printed(key, 0) // refused unless it is unclear
			case "restart":
				require.NoError(rt, s.Close())
				s = begin()
			}
			came := map[string]int{}
			for _, f := range p.out {
				came[f.Name]++
			}
			for name, n := range came {
				require.LessOrEqual(rt, n, may[name], name)
			}
			for key := range added {
				e, ok := s.Find(key, 0)
				require.True(rt, ok)
				if e.State == Waiting {
					require.Less(rt, came[key+"#0"], may[key+"#0"], "waits though it came out")
				}
			}
		}
		require.NoError(rt, s.Close())
	})
}
