package term

import (
	"context"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/kiosk/bench"
	"countback/labels/code"
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
	a.after = func(_ time.Duration, f func()) { k.later = append(k.later, f) }
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

func TestAppTakesBurstsWithEveryEnd(t *testing.T) {
	s := newStage(t)
	k := start(t, s, Config{})
	number := func(n int) string { c, _ := code.WholeNumber(n); return string(c) }
	tag := func(noun string) string {
		c, ok := s.term.Job().State().CodeOf(noun)
		require.True(t, ok)
		return string(c)
	}
	k.sees("job 4K7 Sorrel I4-20")
	k.scan("\r", tag("joint mount-bracket"))
	k.sees("Mount bracket   in and tight")
	k.scan("\n", "ALL OUT")
	k.scan("\r\n", tag("joint front-cover"), labelOf(t, code.Bag, 0))
	k.sees("? count it M8 long")
	k.scan("\t", number(1), number(8))
	k.sees("COUNT", "= counted 8 M8 short")
	k.scan("\r", number(4), number(5))
	k.sees("18 counted", "UNDO takes back: Front cover to block out and bagged")
	require.Len(t, k.rang, 2, "two facts are stored, and both are in order")
	k.scan("\r\n", "UNDO")
	k.sees("REDO puts back")
	require.NoError(t, s.term.Job().State().Book().Verify())
}

// The bell sounds after the fact is on disk, once or twice, and for nothing
// else.
func TestAppRingsForWhatIsOnDisk(t *testing.T) {
	s := newStage(t)
	k := start(t, s, Config{})
	before, _ := s.home.Head(context.Background())
	k.scan("\r", "joint mount-bracket", "BBCBR6K2", "no such thing")
	require.Empty(t, k.rang, "nothing was stored")
	k.scan("\r", "CANCEL", "joint mount-bracket", "ALL OUT")
	require.Equal(t, []int{int(before) + 1}, k.rang)
	k.rang = nil
	k.scan("\r", "joint front-cover", labelOf(t, code.Bag, 0), "1", "8", "4", "4")
	require.Equal(t, []int{int(before) + 2}, k.rang, "the first stroke")
	require.Len(t, k.later, 1, "and another one a moment later: now look")
	frames := 0
	k.app.view.QueueUpdate(func() { frames = k.app.pulse.frames })
	k.later[0]()
	k.app.pulse.wait(k.keys, frames+1)
	k.settle()
	require.Len(t, k.rang, 2)
	require.Len(t, k.later, 1)
}

func TestAppKeepsTypingThroughAScan(t *testing.T) {
	k := start(t, newStage(t), Config{})
	k.typing("joint fr")
	k.sees("> joint fr")
	k.scan("\r\n", "joint oil-pan")
	k.sees("Oil pan   in and tight", "> joint fr")
	k.typing("ont-cover\r")
	k.sees("Front cover to block   in and tight", "F12 KEYS")
}

// Enter is only ever the end of a line, whatever is on the screen.
func TestAppEnterPressesNothing(t *testing.T) {
	s := newStage(t)
	k := start(t, s, Config{})
	before, _ := s.home.Head(context.Background())
	for _, up := range []func(){func() {}, func() { k.hit(tcell.KeyF12) }, func() { k.hit(tcell.KeyF1) }, func() { k.hit(tcell.KeyCtrlC) }, func() { k.scan("\r", "joint coils") }} {
		k.pause()
		up()
		k.pause()
		first := k.shown()
		k.typing("\r\r\r")
		k.pause()
		k.hit(tcell.KeyTab)
		if !strings.Contains(first, "Leave the kiosk?") {
			require.Equal(t, first, k.shown())
		}
	}
	after, _ := s.home.Head(context.Background())
	require.Equal(t, before, after)
}

func TestAppKeys(t *testing.T) {
	k := start(t, newStage(t), Config{})
	k.hit(tcell.KeyF12)
	k.sees("Keys. A scan or any key goes back", "F10", "CORRECT: an older fact")
	k.typing("x")
	k.sees("> x", "Bench b1")
	k.hit(tcell.KeyBackspace2)
	k.sees("F12 KEYS")
	k.typing("joint coils\r")
	k.sees("Coils   in and tight")
	k.hit(tcell.KeyUp)
	k.sees("> joint coils")
	k.hit(tcell.KeyEscape)
	k.sees("Coils   in and tight", "F12 KEYS")
	k.hit(tcell.KeyEscape)
	k.sees("Dropped: joint coils", "Bench b1")
	k.hit(tcell.KeyF2)
	k.sees("Can be done now", "page 1 of ")
	k.hit(tcell.KeyPgDn)
	k.sees("page 2 of ")
	k.typing("abc")
	k.hit(tcell.KeyCtrlU)
	k.sees("F12 KEYS")
	k.hit(tcell.KeyCtrlL)
	k.hit(tcell.KeyCtrlT)
	k.settle()
	require.Equal(t, Light, k.app.look.theme)
	k.hit(tcell.KeyF60) // bound to nothing
	k.sees("page 2 of ")
}

// A scanner that sends control characters within a burst starts nothing.
func TestAppIgnoresControlCharactersInABurst(t *testing.T) {
	k := start(t, newStage(t), Config{})
	k.pause()
	for i, r := range "joint coils" {
		k.press(tcell.KeyRune, r)
		if i == 4 {
			k.press(tcell.KeyCtrlC, 0)
			k.press(tcell.KeyCtrlC, 0)
			k.press(tcell.KeyEscape, 0)
		}
	}
	k.press(tcell.KeyEnter, 0)
	k.sees("Coils   in and tight")
}

func TestAppLeavesAtTheSecondCtrlC(t *testing.T) {
	k := start(t, newStage(t), Config{})
	k.hit(tcell.KeyCtrlC)
	k.sees("Leave the kiosk?")
	k.typing("x")
	k.sees("> x")
	k.hit(tcell.KeyCtrlC)
	k.hit(tcell.KeyCtrlC)
	require.NoError(t, k.end())
}

// What was scanned before the key to leave is stored.
func TestAppStoresWhatWasScannedBeforeItLeaves(t *testing.T) {
	s := newStage(t, "joint coils")
	k := start(t, s, Config{})
	before, _ := s.home.Head(context.Background())
	for _, r := range "ALL OUT" {
		k.press(tcell.KeyRune, r)
	}
	k.press(tcell.KeyEnter, 0)
	k.mu.Lock()
	k.at = k.at.Add(time.Second)
	k.mu.Unlock()
	k.press(tcell.KeyCtrlC, 0)
	k.press(tcell.KeyCtrlC, 0)
	require.NoError(t, k.end())
	after, _ := s.home.Head(context.Background())
	require.Equal(t, before+1, after)
}

func TestAppEndsWithItsContext(t *testing.T) {
	k := start(t, newStage(t), Config{})
	k.cancel()
	require.NoError(t, k.end())
}

func TestAppIsResizedToNothingAndBack(t *testing.T) {
	k := start(t, newStage(t), Config{})
	k.scan("\r", "joint front-cover")
	first := k.shown()
	for _, size := range [][2]int{{20, 5}, {1, 1}, {0, 0}, {200, 60}, {20, 5}, {80, 24}} {
		k.screen.SetSize(size[0], size[1])
		k.app.view.QueueUpdateDraw(func() {})
		k.scan("\r", "joint front-cover")
	}
	require.Equal(t, first, k.shown())
}

func TestAppShowsEveryPanelByScansAlone(t *testing.T) {
	s := newStage(t)
	k := start(t, s, Config{})
	for _, row := range []struct {
		lines []string
		sees  string
	}{
		{[]string{"joint front-cover"}, "Front cover to block   in and tight"},
		{[]string{"WHAT NOW"}, "Front cover to block   in and tight"}, // does not go with a joint
		{[]string{"CANCEL", "WHAT NOW"}, "Can be done now"},
		{[]string{"MISSING"}, "Missing for steps on"},
		{[]string{"AUDIT"}, "Audit: Ready to start"},
		{[]string{"part head", "WHERE IS"}, "Now"},
		{[]string{"joint exhaust", "hole 9", "BROKEN", "BELOW", labelOf(t, code.Case, 0)}, "Case 1: Exhaust manifold to head, hole 9"},
		{[]string{"NO", "HAND OVER"}, "Hand-over"},
		{[]string{"CANCEL", "HELP"}, "page 1 of"},
		{[]string{"badge Ole"}, "| Ole |"},
	} {
		k.scan("\r", row.lines...)
		k.sees(row.sees)
	}
}

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
