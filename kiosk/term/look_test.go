package term

import (
	"math"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"countback/kiosk"
	"countback/kiosk/panel"
)

// contrast is the contrast ratio of two colours by WCAG 2.1, 1.4.3: the
// relative luminances, each plus 0.05, lighter over darker.
func contrast(a, b int32) float64 {
	one, two := luminance(a), luminance(b)
	return (max(one, two) + 0.05) / (min(one, two) + 0.05)
}

func luminance(c int32) float64 {
	part := func(v int32) float64 {
		x := float64(v&0xff) / 255
		if x <= 0.03928 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c>>16) + 0.7152*part(c>>8) + 0.0722*part(c)
}

func TestContrastOfKnownPairs(t *testing.T) {
	require.InDelta(t, 21, contrast(0x000000, 0xffffff), 0.01)
	require.InDelta(t, 4.54, contrast(0x767676, 0xffffff), 0.01) // the usual example of the least grey
}

func (c colours) pairs() map[string]pair {
	m := map[string]pair{"base": c.base, "quiet": c.quiet, "bar": c.bar, "title": c.title, "entry": c.entry, "training": c.training}
	for s := kiosk.Plain; s <= kiosk.Amber; s++ {
		m["sign "+s.String()] = c.signs[s]
	}
	return m
}

// Every text stands out from its ground seven to one.
func TestThemesCanBeRead(t *testing.T) {
	for theme, c := range themes {
		for name, p := range c.pairs() {
			require.GreaterOrEqual(t, contrast(p.text, p.ground), 7.0, "theme %d, %s", theme, name)
		}
	}
}

// hue says which of red and green a colour is, if any.
func hue(c int32) string {
	r, g, b := float64(c>>16&0xff), float64(c>>8&0xff), float64(c&0xff)
	switch {
	case r > 2*g && r > 2*b:
		return "red"
	case g > 1.3*r && g > 1.3*b:
		return "green"
	}
	return ""
}

// No colour is red or green, so nothing is told by one against the other; also
// on terminals of 8 and 16 colours, where the nearest one is taken.
func TestThemesHaveNeitherRedNorGreen(t *testing.T) {
	require.Equal(t, "red", hue(0xcc0000))
	require.Equal(t, "green", hue(0x00aa00))
	for _, colors := range []int{0, 8, 16} {
		var palette []tcell.Color
		for i := range colors {
			palette = append(palette, tcell.PaletteColor(i))
		}
		for theme, c := range themes {
			for name, p := range c.pairs() {
				for _, v := range []int32{p.text, p.ground} {
					if colors > 0 {
						v = tcell.FindColor(tcell.NewHexColor(v), palette).Hex()
					}
					require.Empty(t, hue(v), "theme %d, %s, %d colours", theme, name, colors)
				}
			}
		}
	}
}

// Signs and marks differ in shape and word, so that a screen without colours
// says the same.
func TestSignsAndMarksNeedNoColour(t *testing.T) {
	for _, blocks := range []bool{true, false} {
		l := look{blocks: blocks, mono: true}
		seen := map[[3]string]bool{}
		for s := kiosk.Good; s <= kiosk.Amber; s++ {
			shape := l.signShape(s)
			require.False(t, seen[shape], s.String())
			seen[shape] = true
			require.NotEmpty(t, s.String())
			for _, row := range shape {
				require.Equal(t, 7, width(row), "%s: %q", s, row)
			}
		}
		for m := panel.Plain; m <= panel.Swapped; m++ {
			shape, _ := l.mark(m)
			require.Equal(t, 1, width(shape), m.String())
		}
		states := map[string]bool{}
		for _, m := range []panel.Mark{panel.Out, panel.Parked, panel.In, panel.Tight, panel.Broken, panel.Lent, panel.None, panel.Unsure} {
			shape, _ := l.mark(m)
			require.False(t, states[shape], "what is in a hole, %s", m)
			states[shape] = true
		}
	}
	shapes := map[[2]string]bool{}
	for s := panel.Shape(0); s < panel.Shapes; s++ {
		open, end := bracket(s)
		require.False(t, shapes[[2]string{open, end}], s.String())
		shapes[[2]string{open, end}] = true
	}
}

func TestPlainLettersAreASCII(t *testing.T) {
	l := look{}
	for s := kiosk.Plain; s <= kiosk.Amber; s++ {
		for _, row := range l.signShape(s) {
			require.Regexp(t, `^[ -~]*$`, row)
		}
	}
	for m := panel.Plain; m <= panel.Swapped; m++ {
		shape, _ := l.mark(m)
		require.Regexp(t, `^[ -~]$`, shape)
	}
}

func TestParseWords(t *testing.T) {
	for text, want := range map[string]Theme{"dark": Dark, "light": Light} {
		got, err := ParseTheme(text)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	for text, want := range map[string]Letters{"auto": AutoLetters, "blocks": BlockLetters, "plain": PlainLetters} {
		got, err := ParseLetters(text)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	_, err := ParseTheme("blue")
	require.EqualError(t, err, `theme "blue": want dark or light`)
	_, err = ParseLetters("")
	require.EqualError(t, err, `letters "": want auto, blocks or plain`)
}

func TestLettersByTerminal(t *testing.T) {
	unicode, ascii := simulation(t, "UTF-8", 80, 24), simulation(t, "US-ASCII", 80, 24)
	t.Setenv("TERM", "xterm-256color")
	require.True(t, AutoLetters.blocksOn(unicode))
	require.False(t, AutoLetters.blocksOn(ascii))
	require.False(t, PlainLetters.blocksOn(unicode))
	require.True(t, BlockLetters.blocksOn(ascii))
	t.Setenv("TERM", "linux")
	require.False(t, AutoLetters.blocksOn(unicode), "the console's font is not known")
}
