package term

import (
	"strings"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
)

// simulation is a screen of a fixed size.
func simulation(t testing.TB, charset string, w, h int) tcell.SimulationScreen {
	t.Helper()
	s := tcell.NewSimulationScreen(charset)
	require.NoError(t, s.Init())
	s.SetSize(w, h)
	t.Cleanup(s.Fini)
	return s
}

// screenText is what a screen shows, a line for each row, blanks at the end
// left out.
func screenText(s tcell.SimulationScreen) string {
	cells, w, h := s.GetContents()
	var b strings.Builder
	for y := range h {
		var row strings.Builder
		for x := 0; x < w; x++ {
			c := cells[y*w+x]
			if len(c.Runes) == 0 || c.Runes[0] == 0 {
				row.WriteByte(' ')
				continue
			}
			row.WriteString(string(c.Runes))
			x += max(0, width(string(c.Runes))-1) // what is two columns wide fills two cells
		}
		b.WriteString(strings.TrimRight(row.String(), " ") + "\n")
	}
	return b.String()
}

func blank(t testing.TB, w, h int) (canvas, func() string) {
	s := simulation(t, "UTF-8", w, h)
	c := canvas{screen: s, w: w, h: h, look: look{blocks: true}}
	c.fill(tcell.StyleDefault)
	return c, func() string {
		s.Show()
		return screenText(s)
	}
}

func TestPutStaysInsideItsCanvas(t *testing.T) {
	c, shown := blank(t, 12, 4)
	inner := c.part(2, 1, 6, 2)
	inner.put(0, 0, "abcdefghij", tcell.StyleDefault)
	inner.put(-2, 1, "abcdefghij", tcell.StyleDefault)
	inner.put(0, 2, "below", tcell.StyleDefault)
	inner.put(0, -1, "above", tcell.StyleDefault)
	require.Equal(t, "\n  abcdef\n  cdefgh\n\n", shown())
}

func TestPartIsCutToItsCanvas(t *testing.T) {
	c := canvas{w: 10, h: 5}
	for _, row := range [][4]int{{0, 0, 99, 99}, {8, 4, 9, 9}, {-3, -3, 2, 2}, {99, 99, 1, 1}, {3, 3, -1, -1}} {
		p := c.part(row[0], row[1], row[2], row[3])
		require.GreaterOrEqual(t, p.w, 0)
		require.GreaterOrEqual(t, p.h, 0)
		require.LessOrEqual(t, p.x+p.w, 10)
		require.LessOrEqual(t, p.y+p.h, 5)
	}
}

func TestCutShortensVisibly(t *testing.T) {
	c := canvas{look: look{blocks: true}}
	plain := canvas{}
	for _, row := range []struct {
		text  string
		w     int
		want  string
		plain string
	}{
		{"front cover", 20, "front cover", "front cover"},
		{"front cover", 11, "front cover", "front cover"},
		{"front cover", 8, "front c…", "front..."},
		{"front cover", 2, "f…", ".."},
		{"front cover", 1, "…", "."},
		{"front cover", 0, "", ""},
		{"front cover", -4, "", ""},
		{"日本語の部品", 7, "日本語…", "日本..."},
		{"e\u0301\u0301 e\u0301", 9, "e\u0301\u0301 e\u0301", "e\u0301\u0301 e\u0301"},
		{"red\x1b[31m and \x00bell\a", 40, "red[31m and bell", "red[31m and bell"},
		{"two\nlines\tof text", 40, "two lines of text", "two lines of text"},
		{"broken \xff text", 40, "broken ? text", "broken ? text"},
	} {
		require.Equal(t, row.want, c.cut(row.text, row.w), "%q in %d", row.text, row.w)
		require.Equal(t, row.plain, plain.cut(row.text, row.w), "%q in %d, plain", row.text, row.w)
		require.LessOrEqual(t, width(c.cut(row.text, row.w)), max(0, row.w))
	}
}

func TestWrap(t *testing.T) {
	c := canvas{look: look{blocks: true}}
	for _, row := range []struct {
		text string
		w, n int
		want []string
	}{
		{"scan the bag first", 20, 2, []string{"scan the bag first"}},
		{"scan the bag first", 10, 3, []string{"scan the", "bag first"}},
		{"scan the bag first", 10, 1, []string{"scan the …"}},
		{"scan the bag first", 8, 3, []string{"scan the", "bag", "first"}},
		{"M8x1.25x30M8x1.25x30", 8, 3, []string{"M8x1.25x", "30M8x1.2", "5x30"}},
		{"", 8, 3, nil},
		{"   ", 8, 3, nil},
		{"text", 0, 3, nil},
		{"text", 8, 0, nil},
		{"日本", 1, 3, nil},
	} {
		require.Equal(t, row.want, c.wrap(row.text, row.w, row.n), "%q in %d", row.text, row.w)
	}
}

// A name of 300 characters is shortened, on any width.
func TestWrapOfEndlessNames(t *testing.T) {
	c := canvas{look: look{blocks: true}}
	name := strings.Repeat("Vorderer Deckel ", 20)
	for w := 1; w < 130; w++ {
		for _, row := range c.wrap(name, w, 3) {
			require.LessOrEqual(t, width(row), w)
		}
		require.LessOrEqual(t, len(c.wrap(name, w, 3)), 3)
	}
}

func TestBorderNeedsRoom(t *testing.T) {
	c, shown := blank(t, 16, 4)
	inner := c.border("COUNT", tcell.StyleDefault)
	require.Equal(t, [2]int{14, 2}, [2]int{inner.w, inner.h})
	require.Equal(t, "╔═ COUNT ══════╗\n║              ║\n║              ║\n╚══════════════╝\n", shown())
	small := canvas{w: 3, h: 2}
	require.Equal(t, small, small.border("COUNT", tcell.StyleDefault))
}
