package term

import (
	"context"
	"fmt"
	"time"

	"github.com/gdamore/tcell/v2"

	"countback/kiosk/bench"
)

// Config is what a screen is made of.
type Config struct {
	// Terminal is the bench. It belongs to Run until Run returns.
	Terminal *bench.Terminal
	Theme    Theme
	Letters  Letters
	// Training puts the word into the bar. The terminal's store must be one
	// that no real job is in; this package cannot know.
	Training bool
	// CountIdle is after how long without a scan a count that is going on is
	// dropped aloud; 0 is the usual three minutes, negative never.
	CountIdle time.Duration
	// UndoShown is how long UNDO stands out after a fact; 0 is the usual half
	// minute. UNDO works later as well.
	UndoShown time.Duration
	// Timing tells scans from typing; the zero value is UsualTiming.
	Timing Timing
	// Notices are short texts for the bar: a printer that waits, a copy that
	// is late. It is asked at every frame, from one goroutine. nil: none.
	Notices func() []string
	// Screen is what is drawn on; nil is the terminal of this process.
	Screen tcell.Screen
}

func (c Config) whole() Config {
	if c.CountIdle == 0 {
		c.CountIdle = 3 * time.Minute
	}
	if c.UndoShown == 0 {
		c.UndoShown = 30 * time.Second
	}
	if c.Timing == (Timing{}) {
		c.Timing = UsualTiming()
	}
	return c
}

// tickEvery is how often the terminal is told the time: a chained number is
// whole half a second after its last digit.
const tickEvery = 250 * time.Millisecond

// Run draws the bench on a full screen and works it until somebody leaves or
// the context ends. It returns why the store could not be written where that
// was so at the end; a context that ended is no error.
func Run(ctx context.Context, c Config) error {
	if c.Terminal == nil {
		return fmt.Errorf("kiosk: no bench terminal")
	}
	tick := time.NewTicker(tickEvery)
	defer tick.Stop()
	a := newApp(c.whole())
	a.ticks = tick.C
	return a.run(ctx)
}
