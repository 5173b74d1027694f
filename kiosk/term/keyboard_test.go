package term

import (
	"context"
	"sync"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
)

// keyboardOf is the whole application on a simulation screen, with a scanner
// and two hands at its keys. Its clock moves with each key and with nothing
// else.
type keyboardOf struct {
	t      *testing.T
	app    *app
	screen tcell.SimulationScreen
	stage  *stage
	ticks  chan time.Time
	cancel context.CancelFunc
	done   chan error

	mu    sync.Mutex
	at    time.Time
	step  time.Duration
	keys  int
	rang  []int // how many facts were on disk at each stroke of the bell
	later []func()
	gaps  []time.Duration // after which those are wanted
}

// start runs the application over a stage's bench.
func start(t *testing.T, s *stage, c Config) *keyboardOf {
	screen := tcell.NewSimulationScreen("UTF-8")
	require.NoError(t, screen.Init())
	screen.SetSize(80, 24)
	c.Terminal, c.Screen, c.Letters = s.term, screen, BlockLetters
	k := &keyboardOf{t: t, screen: screen, stage: s, ticks: make(chan time.Time), done: make(chan error, 1), at: midnight, step: 2 * time.Millisecond}
	a := newApp(c.whole())
	a.ticks = k.ticks
	a.stamp = func(*tcell.EventKey) time.Time {
		k.mu.Lock()
		defer k.mu.Unlock()
		k.at = k.at.Add(k.step)
		return k.at
	}
	a.bell = func() {
		head, err := s.home.Head(context.Background())
		require.NoError(t, err)
		k.rang = append(k.rang, int(head))
	}
	a.after = func(d time.Duration, f func()) { k.later, k.gaps = append(k.later, f), append(k.gaps, d) }
	k.app = a
	ctx, cancel := context.WithCancel(context.Background())
	k.cancel = cancel
	go func() { k.done <- a.run(ctx) }()
	t.Cleanup(func() {
		cancel()
		k.end()
	})
	<-a.started
	return k
}

// end waits until the application is over.
func (k *keyboardOf) end() error {
	err, open := <-k.done
	if open {
		close(k.done)
	}
	return err
}

func (k *keyboardOf) pace(d time.Duration) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.step = d
}

func (k *keyboardOf) press(key tcell.Key, r rune) {
	k.keys++
	k.screen.InjectKey(key, r, tcell.ModNone)
}

// hit presses one key by hand.
func (k *keyboardOf) hit(keys ...tcell.Key) {
	for _, key := range keys {
		k.pause()
		k.press(key, 0)
	}
}

// scan fires bursts, each with an end.
func (k *keyboardOf) scan(end string, lines ...string) {
	for _, l := range lines {
		k.pause()
		for _, r := range l {
			k.press(tcell.KeyRune, r)
		}
		for _, r := range end {
			k.press(map[rune]tcell.Key{'\r': tcell.KeyEnter, '\n': tcell.KeyCtrlJ, '\t': tcell.KeyTab}[r], r)
		}
		k.settle()
	}
}

// typing presses keys as hands do.
func (k *keyboardOf) typing(text string) {
	k.settle()
	k.pace(200 * time.Millisecond)
	for _, r := range text {
		if r == '\r' {
			k.press(tcell.KeyEnter, r)
			continue
		}
		k.press(tcell.KeyRune, r)
	}
	k.settle()
	k.pace(2 * time.Millisecond)
}

// pause lets a second pass.
func (k *keyboardOf) pause() {
	k.settle()
	k.mu.Lock()
	k.at = k.at.Add(time.Second)
	k.mu.Unlock()
}

// settle waits until every key is handled, every line answered, and the screen
// drawn.
func (k *keyboardOf) settle() {
	k.app.pulse.wait(k.keys, 0)
	k.app.view.QueueUpdate(func() {})
}

// tick lets time pass on the terminal's clock, and tells it.
func (k *keyboardOf) tick(d time.Duration) {
	k.settle()
	frames := 0
	k.app.view.QueueUpdate(func() { frames = k.app.pulse.frames })
	k.stage.now += d.Microseconds()
	k.ticks <- time.Time{}
	k.app.pulse.wait(k.keys, frames+1)
	k.app.view.QueueUpdate(func() {})
}

// shown is what the screen shows.
func (k *keyboardOf) shown() string {
	k.settle()
	return screenText(k.screen)
}

func (k *keyboardOf) sees(texts ...string) {
	k.t.Helper()
	shown := k.shown()
	for _, text := range texts {
		require.Contains(k.t, shown, text, "on the screen:\n%s", shown)
	}
}
