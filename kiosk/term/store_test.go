package term

import (
	"context"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/kiosk/bench"
	"countback/labels/code"
)

func TestAppDropsACountThatNobodyGoesOnWith(t *testing.T) {
	s := newStage(t, "joint front-cover", labelOf(t, code.Bag, 0), "1")
	k := start(t, s, Config{CountIdle: 2 * time.Minute})
	k.tick(50 * time.Second)
	k.sees("COUNT")
	require.NotContains(t, k.shown(), "drops in")
	k.tick(20 * time.Second)
	k.sees("COUNT: drops in 50 s, nothing is stored yet")
	k.scan("\r", "8") // gone on with
	require.NotContains(t, k.shown(), "drops in")
	k.tick(119 * time.Second)
	k.sees("drops in 1 s")
	k.tick(2 * time.Second)
	k.sees("Dropped: joint front-cover")
	require.Empty(t, s.term.View().Mode)
}

func TestAppStopsWhereNothingCanBeStored(t *testing.T) {
	s := newStage(t, "joint coils")
	k := start(t, s, Config{})
	s.home.sick = errDisk
	k.scan("\r", "ALL OUT")
	k.sees("Nothing can be stored", "disk: no space left on device", "then scan OK")
	require.Empty(t, k.rang)
	k.scan("\r", "joint oil-pan")
	k.sees("NOT TAKEN: joint oil-pan")
	k.scan("\r", "OK")
	k.sees("Nothing can be stored")
	s.home.sick = nil
	k.scan("\r", "OK")
	require.NotContains(t, k.shown(), "Nothing can be stored")
	k.scan("\r", "joint coils", "ALL OUT")
	k.sees("Coils out and loose on this bench")
	require.Len(t, k.rang, 1)
}

// A store that fails while nobody scans stops the screen too.
func TestAppLooksAtTheStoreMeanwhile(t *testing.T) {
	s := newStage(t)
	k := start(t, s, Config{})
	s.home.sick = errDisk
	for range healthEvery {
		k.tick(250 * time.Millisecond)
	}
	k.sees("Nothing can be stored")
	k.hit(tcell.KeyCtrlC)
	k.hit(tcell.KeyCtrlC)
	require.ErrorIs(t, k.end(), errDisk, "the program ends with the reason")
}

func TestAppWaitsUntilItIsKnown(t *testing.T) {
	s := newStage(t, "joint coils")
	k := start(t, s, Config{})
	s.home.Fail(journal.LoseRequest)
	k.scan("\r", "ALL OUT")
	k.sees("Nobody knows yet", "WAIT")
	require.Empty(t, k.rang)
	k.scan("\r", "joint oil-pan")
	k.sees("NOT TAKEN: joint oil-pan")
	k.tick(250 * time.Millisecond)
	k.sees("Coils out and loose on this bench")
	require.Len(t, k.rang, 1)
}

// A bench that is cut off saves here, says so, and goes on.
func TestAppGoesOnCutOff(t *testing.T) {
	s := newStage(t, "joint coils")
	line := &bench.Line{Journal: s.home}
	s.hand.store.Journal, s.term.Outbox = line, &bench.Tray{}
	s.term.Home = line
	k := start(t, s, Config{})
	line.Cut()
	k.scan("\r", "ALL OUT")
	k.sees("CUT OFF: 1 saved here, not sent", "saved here, sent later")
	require.Len(t, k.rang, 1, "it is on this terminal's own disk")
	line.Join()
	k.tick(250 * time.Millisecond)
	require.NotContains(t, k.shown(), "CUT OFF")
}

func TestAppOffersUndoForAWhile(t *testing.T) {
	s := newStage(t)
	k := start(t, s, Config{})
	k.scan("\r", "joint coils", "ALL OUT")
	require.True(t, k.app.frame.Fresh)
	k.tick(31 * time.Second)
	require.False(t, k.app.frame.Fresh)
	k.sees("UNDO takes back: Coils out")
}

func TestRunWantsATerminal(t *testing.T) {
	require.EqualError(t, Run(context.Background(), Config{}), "kiosk: no bench terminal")
}
