package term

import (
	"context"
	"fmt"
	"sync"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/rivo/tview"

	"countback/labels/code"
)

// app joins the hand and the screen. What stands under "of the loop" is
// touched by the loop's goroutine alone, what stands under "of the hand" by
// the hand's.
type app struct {
	set   Config
	view  *tview.Application
	lines *queue
	ticks <-chan time.Time

	updates chan func() // for the loop, in order
	started chan struct{}
	leaving chan struct{}
	ended   chan struct{} // the loop is over
	left    sync.Once
	begun   sync.Once

	// of the loop
	wedge  *Wedge
	frame  Frame
	look   look
	screen tcell.Screen
	table  bool
	asked  bool // the key to leave was pressed once
	last   string
	open   int // lines that are not answered yet

	// of the hand
	hand *hand

	// for tests
	stamp func(*tcell.EventKey) time.Time
	after func(time.Duration, func())
	bell  func()
	pulse *pulse
}

func newApp(c Config) *app {
	a := &app{set: c, view: tview.NewApplication(), lines: newQueue(), updates: make(chan func()),
		started: make(chan struct{}), leaving: make(chan struct{}), ended: make(chan struct{}),
		wedge: NewWedge(c.Timing, isCode), look: look{theme: c.Theme}}
	a.stamp = func(e *tcell.EventKey) time.Time { return e.When() }
	a.after = func(d time.Duration, f func()) { time.AfterFunc(d, f) }
	a.bell = func() { _ = a.screen.Beep() } // a terminal that cannot beep shows it all the same
	a.pulse = newPulse()
	return a
}

func isCode(text string) bool {
	_, err := code.Parse(text)
	return err == nil
}

// face is the one thing on the screen: it fills it and has the focus. It takes
// no key itself, so that no key can press anything.
type face struct {
	*tview.Box
	app *app
}

// Draw implements tview.Primitive.
func (f *face) Draw(s tcell.Screen) {
	a := f.app
	k := keyboard{typed: a.wedge.Text(), keys: a.table, waiting: a.open, leaving: a.asked}
	draw(s, &a.frame, k, a.look)
}

// run runs both goroutines until somebody leaves, the context ends, or the
// screen is gone.
func (a *app) run(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	h, undo := newHand(a.set)
	defer undo()
	a.hand = h
	a.frame = h.frame()
	if a.set.Screen != nil {
		w, high := a.set.Screen.Size()
		a.view.SetScreen(a.set.Screen)
		if w > 0 && high > 0 {
			a.set.Screen.SetSize(w, high)
		}
	}
	a.view.SetRoot(&face{tview.NewBox(), a}, true)
	a.view.SetInputCapture(a.key)
	a.view.SetBeforeDrawFunc(a.beforeDraw)

	handOver := make(chan struct{})
	go func() {
		defer close(handOver)
		a.work(ctx)
		a.view.Stop()
	}()
	err := a.view.Run()
	close(a.ended)
	cancel()
	<-handOver
	if err != nil {
		return fmt.Errorf("kiosk: screen: %w", err)
	}
	return h.broken
}

// beforeDraw learns the screen at the first draw.
func (a *app) beforeDraw(s tcell.Screen) bool {
	a.begun.Do(func() {
		a.screen = s
		a.look.blocks = a.set.Letters.blocksOn(s)
		a.look.mono = s.Colors() < 8
		close(a.started)
	})
	return false
}

// work is the hand's goroutine.
func (a *app) work(ctx context.Context) {
	painted := make(chan struct{})
	quit := make(chan struct{})
	go func() {
		defer close(painted)
		a.paint(quit)
	}()
	defer func() {
		close(quit)
		select {
		case <-painted:
		case <-a.ended: // nobody draws any more
		}
	}()
	select {
	case <-a.started:
	case <-a.ended:
		return
	}
	for {
		select {
		case <-ctx.Done():
			return
		case <-a.leaving:
			a.answer(ctx) // what was scanned before the key is taken
			return
		case <-a.ended:
			return
		case <-a.lines.ready:
			a.answer(ctx)
		case <-a.ticks:
			a.show(a.hand.tick(ctx), 0)
		}
	}
}

// answer takes every line that waits.
func (a *app) answer(ctx context.Context) {
	for _, line := range a.lines.drain() {
		a.show(a.hand.take(ctx, line), 1)
	}
}

// paint gives updates to the loop. It is a goroutine of its own, since an
// update that the loop never takes must not hold up the hand.
func (a *app) paint(quit <-chan struct{}) {
	for {
		select {
		case f := <-a.updates:
			a.view.QueueUpdateDraw(f)
		case <-quit:
			return
		}
	}
}

// show puts a frame on the screen, and rings for what is on disk.
func (a *app) show(f Frame, answered int) {
	n := a.hand.rings
	a.hand.rings = 0
	a.update(func() {
		a.frame = f
		a.open -= answered
		a.ring(n)
		a.pulse.frame(answered)
	})
}

// update runs a function in the loop. It is dropped when the loop is over.
func (a *app) update(f func()) {
	select {
	case a.updates <- f:
	case <-a.ended:
	}
}

// ringGap is from one stroke of the bell to the next: two of them are another
// sound than one by their rhythm. It is longer than the bell of the Linux console
// (an eighth of a second) and than the short sounds that terminal windows play for
// it, some of which drop a second one that comes before the first has ended.
const ringGap = 400 * time.Millisecond

// ring sounds the bell n times.
func (a *app) ring(n int) {
	if n <= 0 {
		return
	}
	a.bell()
	if n > 1 {
		a.after(ringGap, func() {
			a.update(func() {
				a.ring(n - 1)
				a.pulse.frame(0)
			})
		})
	}
}
