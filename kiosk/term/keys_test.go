package term

import (
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"countback/kiosk/scan"
)

func TestBindingsAreSound(t *testing.T) {
	keys, names := map[tcell.Key]bool{}, map[string]bool{}
	for _, b := range bindings {
		require.False(t, keys[b.key], b.name)
		keys[b.key] = true
		require.False(t, b.name != "" && names[b.name], b.name)
		names[b.name] = true
		require.Equal(t, b.act == say, b.word != "", "%s says a word, or does something else", b.name)
		if b.word != "" {
			known, _ := scan.Wants(b.word)
			require.True(t, known, "%s: no sentence has %s", b.name, b.word)
		}
		require.Equal(t, b.name == "", b.help == "", b.name)
		require.NotContains(t, []tcell.Key{tcell.KeyEnter, tcell.KeyTab, tcell.KeyCtrlJ, tcell.KeyRune}, b.key, "that key belongs to scanners and typing")
	}
	_, ok := bound(tcell.KeyF64)
	require.False(t, ok)
}

// The table shows every key that has a name, at the smallest screen.
func TestKeyTableIsWhole(t *testing.T) {
	s := simulation(t, "UTF-8", 80, 24)
	draw(s, &Frame{}, keyboard{keys: true}, look{blocks: true})
	s.Show()
	text := screenText(s)
	for _, b := range bindings {
		if b.name != "" {
			require.Contains(t, text, b.name+" ", "%s is missing:\n%s", b.name, text)
		}
	}
	require.NotContains(t, text, "…", "nothing of it is cut")
	require.LessOrEqual(t, width(keyLine()), 78, "the keys that are used most fit on one line")
}
