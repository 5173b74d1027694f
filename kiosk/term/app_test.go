package term

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

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
	k.sees("□ count it M8 long")
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
	require.Equal(t, []time.Duration{ringGap}, k.gaps)
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
