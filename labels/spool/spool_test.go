package spool

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/labels"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/printer"
)

var start = time.Date(2026, 5, 12, 9, 30, 0, 0, time.UTC)

// fake is a printer that does as it is told and keeps what came out.
type fake struct {
	name string
	mu   sync.Mutex
	out  []printer.File
	says func(f printer.File) error // nil: prints
}

func (p *fake) Name() string { return p.name }

func (p *fake) Print(_ context.Context, f printer.File) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.says != nil {
		if err := p.says(f); err != nil {
			return err
		}
	}
	p.out = append(p.out, f)
	return nil
}

func (p *fake) count() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return len(p.out)
}

func (p *fake) say(f func(printer.File) error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.says = f
}

func held(reason string) func(printer.File) error {
	return func(printer.File) error { return &printer.Held{Printer: "bench", Reason: reason} }
}

func unclear(reason string) func(printer.File) error {
	return func(printer.File) error { return &printer.Unclear{Printer: "bench", Reason: reason} }
}

// document is a bag label, the reprint-th one.
func document(t require.TestingT, n, reprint int) page.Document {
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	c, _, ok := i.Next(code.Bag, uint32(2*n))
	require.True(t, ok)
	d, err := labels.Draw(labels.Bag{Code: c, Joint: "Front cover", Reprint: reprint}, labels.Media{WidthMm: 57, HeightMm: 32, DPI: 203})
	require.NoError(t, err)
	return d
}

func order(t require.TestingT, n, reprint int) Order {
	return Order{Key: fmt.Sprintf("bench-2/%d/bag", n), Printer: "bench", Format: printer.PNG, Document: document(t, n, reprint)}
}

// open opens a folder with printers; the clock stands still.
func open(t testing.TB, dir string, printers ...printer.Printer) *Spool {
	t.Helper()
	s, err := Open(Settings{Dir: dir, Printers: printers, Now: func() time.Time { return start }, Pause: time.Hour})
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	return s
}

// kill ends a spool as a power cut does: nothing is finished.
func kill(s *Spool) {
	s.lock.Close()
	s.log.Close()
	s.closed = true
}

func add(t testing.TB, s *Spool, o Order) {
	t.Helper()
	added, err := s.Add(o)
	require.NoError(t, err)
	require.True(t, added)
}

func next(t testing.TB, s *Spool, want Outcome) {
	t.Helper()
	got, err := s.Next(context.Background(), "bench")
	require.NoError(t, err)
	require.Equal(t, want, got)
}

func TestOrdersArePrintedOnceAndInOrder(t *testing.T) {
	dir, p := t.TempDir(), &fake{name: "bench"}
	s := open(t, dir, p)
	for n := range 3 {
		add(t, s, order(t, n, 0))
	}
	for n := range 3 {
		next(t, s, Done)
		want, err := document(t, n, 0).PNG(0)
		require.NoError(t, err)
		require.Equal(t, want, p.out[n].Data)
		require.Equal(t, fmt.Sprintf("bench-2/%d/bag#0", n), p.out[n].Name)
		require.InDelta(t, 57, p.out[n].WidthMm, 0.2)
	}
	next(t, s, Nothing)
	// A replay, in the same run and after a restart.
	for range 2 {
		for n := range 3 {
			added, err := s.Add(order(t, n, 0))
			require.NoError(t, err)
			require.False(t, added)
		}
		next(t, s, Nothing)
		require.NoError(t, s.Close())
		require.NoError(t, s.Close(), "twice is once")
		s = open(t, dir, p)
	}
	require.Equal(t, 3, p.count())
	left, err := os.ReadDir(filepath.Join(dir, "files"))
	require.NoError(t, err)
	require.Empty(t, left, "documents of printed orders go")
}

func TestAReprintIsAnOrderOfItsOwn(t *testing.T) {
	p := &fake{name: "bench"}
	s := open(t, t.TempDir(), p)
	add(t, s, order(t, 1, 0))
	add(t, s, order(t, 1, 1))
	added, err := s.Add(order(t, 1, 1))
	require.NoError(t, err)
	require.False(t, added, "the same reprint in a replay")
	next(t, s, Done)
	next(t, s, Done)
	require.NotEqual(t, p.out[0].Data, p.out[1].Data, "it says so on the paper")
	e, ok := s.Find("bench-2/1/bag", 1)
	require.True(t, ok)
	require.Equal(t, Printed, e.State)
	require.Equal(t, 1, e.Reprint)
	_, ok = s.Find("bench-2/1/bag", 2)
	require.False(t, ok)
}

func TestAHeldPrinterLosesNothing(t *testing.T) {
	dir, p := t.TempDir(), &fake{name: "bench"}
	p.say(held("connection refused; is it on?"))
	s := open(t, dir, p)
	add(t, s, order(t, 1, 0))
	add(t, s, order(t, 2, 0))
	next(t, s, Holding)
	next(t, s, Holding)
	q := s.Queues()[0]
	require.Equal(t, Queue{Printer: "bench", SetUp: true, State: Held, Reason: "connection refused; is it on?", Since: start, Open: q.Open}, q)
	require.Len(t, q.Open, 2)
	kill(s)
	p.say(nil)
	s = open(t, dir, p)
	require.Equal(t, Idle, s.Queues()[0].State)
	require.Len(t, s.Queues()[0].Open, 2)
	next(t, s, Done)
	next(t, s, Done)
	next(t, s, Nothing)
	require.Equal(t, []string{"bench-2/1/bag#0", "bench-2/2/bag#0"}, []string{p.out[0].Name, p.out[1].Name})
}

func TestAnUnclearOrderWaitsForAPerson(t *testing.T) {
	dir, p := t.TempDir(), &fake{name: "bench"}
	p.say(unclear("stopped after 5 of 900 bytes"))
	s := open(t, dir, p)
	add(t, s, order(t, 1, 0))
	add(t, s, order(t, 2, 0))
	next(t, s, Asking)
	p.say(nil)
	next(t, s, Asking)
	require.Zero(t, p.count(), "nothing is tried again by itself")
	q := s.Queues()[0]
	require.Equal(t, Asks, q.State)
	require.Contains(t, q.Reason, " may have been printed: stopped after 5 of 900 bytes")
	require.ErrorContains(t, s.Printed("bench-2/2/bag", 0), "it is waiting; nothing to answer")
	require.ErrorContains(t, s.Again("bench-2/9/bag", 0), "there is none")
	kill(s)
	s = open(t, dir, p)
	next(t, s, Asking)
	require.NoError(t, s.Again("bench-2/1/bag", 0))
	next(t, s, Done)
	next(t, s, Done)

	p.say(errorf("cable burnt"))
	add(t, s, order(t, 3, 0))
	next(t, s, Asking)
	require.NoError(t, s.Printed("bench-2/3/bag", 0))
	p.say(nil)
	next(t, s, Nothing)
	require.Equal(t, 2, p.count())
	require.ErrorContains(t, s.Again("bench-2/3/bag", 0), "it is printed")
}

func errorf(text string) func(printer.File) error {
	return func(printer.File) error { return errors.New(text) }
}

// The power fails while the printer is at it.
func TestAPowerCutWhileSendingIsUnclear(t *testing.T) {
	dir, p := t.TempDir(), &fake{name: "bench"}
	s := open(t, dir, p)
	add(t, s, order(t, 1, 0))
	p.say(func(printer.File) error {
		kill(s)
		return nil
	})
	_, err := s.Next(context.Background(), "bench")
	require.Error(t, err)
	require.Equal(t, 1, p.count())
	p.say(nil)
	s = open(t, dir, p)
	next(t, s, Asking)
	require.Contains(t, s.Queues()[0].Reason, "the program ended while it was sending")
	require.Equal(t, 1, p.count())
}

func TestUnknownPrinters(t *testing.T) {
	dir, p := t.TempDir(), &fake{name: "bench"}
	files, err := printer.NewFolder("files", t.TempDir())
	require.NoError(t, err)
	s := open(t, dir, p, files)
	o := order(t, 1, 0)
	o.Printer = "bench9"
	_, err = s.Add(o)
	require.EqualError(t, err, `printer "bench9": not set up; there are bench, files`)
	_, err = s.Next(context.Background(), "bench9")
	require.EqualError(t, err, `printer "bench9": not set up; there are bench, files`)
	add(t, s, order(t, 1, 0))
	add(t, s, order(t, 2, 0))
	require.NoError(t, s.Close())

	s = open(t, dir, files)
	q := s.Queues()
	require.Len(t, q, 2)
	require.Equal(t, Missing, q[1].State)
	require.Equal(t, `printer "bench": not set up; there are files`, q[1].Reason)
	require.False(t, q[1].SetUp)
	require.Len(t, q[1].Open, 2)
	_, err = s.Move("bench", "nowhere")
	require.ErrorContains(t, err, `printer "nowhere": not set up`)
	n, err := s.Move("bench", "files")
	require.NoError(t, err)
	require.Equal(t, 2, n)
	require.NoError(t, s.Close())
	s = open(t, dir, files)
	for range 2 {
		outcome, err := s.Next(context.Background(), "files")
		require.NoError(t, err)
		require.Equal(t, Done, outcome)
	}
	require.Equal(t, []Queue{{Printer: "files", SetUp: true, State: Idle}}, s.Queues())
	require.EqualError(t, &UnknownPrinter{Name: "x"}, `printer "x": not set up; there is none`)
	_, err = Open(Settings{Dir: t.TempDir(), Printers: []printer.Printer{p, p}})
	require.EqualError(t, err, "printer bench: set up twice")
}

func TestOneProgramAtATime(t *testing.T) {
	dir := t.TempDir()
	open(t, dir)
	_, err := Open(Settings{Dir: dir})
	require.EqualError(t, err, "print queue "+dir+": another program has it open")
}

func TestOrdersThatAreRefused(t *testing.T) {
	s := open(t, t.TempDir(), &fake{name: "bench"})
	two, err := labels.Roll(labels.BagRoll([]code.Code{document(t, 1, 0).Codes()[0], document(t, 2, 0).Codes()[0]}, "", false), labels.Media{WidthMm: 57, HeightMm: 32, DPI: 203})
	require.NoError(t, err)
	for _, row := range []struct {
		change func(o *Order)
		why    string
	}{
		{func(o *Order) { o.Key = "" }, `print order "": a key is 1 to 500 bytes`},
		{func(o *Order) { o.Key = strings.Repeat("k", 501) }, "a key is 1 to 500 bytes"},
		{func(o *Order) { o.Key = "a\nb" }, "a key is"},
		{func(o *Order) { o.Document = page.Document{} }, "no page"},
		{func(o *Order) { o.Format = "zpl" }, `format "zpl": want png or pdf`},
		{func(o *Order) { o.Document = two }, "2 pages: a png holds one; print it as pdf"},
	} {
		o := order(t, 1, 0)
		row.change(&o)
		_, err := s.Add(o)
		require.ErrorContains(t, err, row.why)
	}
	require.NoError(t, s.Close())
	_, err = s.Add(order(t, 1, 0))
	require.ErrorIs(t, err, errClosed)
	require.ErrorIs(t, s.Printed("x", 0), errClosed)
}

func TestTheCursor(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	_, known := s.Cursor()
	require.False(t, known, "a new folder does not know where to begin")
	require.NoError(t, s.Advance(1041))
	require.NoError(t, s.Advance(7), "never back")
	kill(s)
	s = open(t, dir)
	at, known := s.Cursor()
	require.True(t, known)
	require.Equal(t, uint64(1041), at)
	b, err := os.ReadFile(filepath.Join(dir, "cursor"))
	require.NoError(t, err)
	require.Equal(t, "countback print cursor 1\n1041\n", string(b))
	require.NoError(t, s.Close())
	require.ErrorIs(t, s.Advance(2000), errClosed)
}
