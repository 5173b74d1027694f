package term

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"countback/kiosk/scan"
)

func TestLettersAreAllOneHeight(t *testing.T) {
	for r, g := range glyphs {
		for _, row := range g {
			require.Len(t, row, len(g[0]), "letter %q", r)
			require.Empty(t, strings.Trim(row, "#."), "letter %q", r)
		}
	}
}

// No two letters look alike, and the five rows that stand for seven still tell
// them apart.
func TestLettersDifferFromEachOther(t *testing.T) {
	for _, rows := range [][]int{{0, 1, 2, 3, 4, 5, 6}, thin[:]} {
		seen := map[string]rune{}
		for r, g := range glyphs {
			var text string
			for _, y := range rows {
				text += g[y] + "/"
			}
			other, dup := seen[text]
			require.False(t, dup, "%q and %q look alike in %d rows", r, other, len(rows))
			seen[text] = r
		}
	}
}

// Every word that a screen may have to say is drawn in letters, not boxes.
func TestLettersKnowEveryWord(t *testing.T) {
	for _, w := range append(append([]scan.Word{}, scan.Verbs()...), scan.Answers()...) {
		for _, r := range strings.ToUpper(string(w)) {
			require.Contains(t, glyphs, r, "word %s", w)
		}
	}
	require.Equal(t, boxGlyph, glyphOf('漢'))
}

func TestBigTextInHalfBlocks(t *testing.T) {
	require.Equal(t, []string{
		"▄▀▀▀▄ █  ▄▀ ▄▀▀▀▄",
		"█   █ █▄▀     ▄▄▀",
		"█   █ █ ▀▄    ▀  ",
		" ▀▀▀  ▀   ▀   ▀  ",
	}, bigText("ok?", 1, true).rows)
}

func TestBigTextInPlainCharacters(t *testing.T) {
	require.Equal(t, []string{
		" ###  #   #  ### ",
		"#   # #  #  #   #",
		"#   # ##      ## ",
		"#   # #  #       ",
		" ###  #   #   #  ",
	}, bigText("ok?", 1, false).rows)
}

func TestBigTextGrowsInBothDirections(t *testing.T) {
	for _, blocks := range []bool{true, false} {
		for scale := 1; scale < 5; scale++ {
			b := bigText("M8", scale, blocks)
			require.Equal(t, dotsWide("M8")*scale, b.width)
			require.Len(t, b.rows, bigRows(scale, blocks))
			for _, row := range b.rows {
				require.Equal(t, b.width, utf8.RuneCountInString(row))
			}
		}
	}
}

func TestFitBig(t *testing.T) {
	for _, row := range []struct {
		name        string
		texts       []string
		width, rows int
		high, wide  int // 0: nothing fits
	}{
		{"as large as the width lets it", []string{"8"}, 80, 100, 56, 80},
		{"as large as the height lets it", []string{"8"}, 1000, 7, 7, 10},
		{"the second text where the first has no room", []string{"HOW MANY M8 LONG", "M8?"}, 40, 4, 4, 17},
		{"two lines where one is too long", []string{"HOW MANY"}, 30, 9, 9, 23},
		{"two lines only where they are larger", []string{"HOW MANY"}, 45, 9, 4, 45},
		{"nothing", []string{"HOW MANY", "HOW"}, 10, 3, 0, 0},
		{"no width", []string{"HOW"}, 0, 4, 0, 0},
		{"no texts", nil, 80, 4, 0, 0},
	} {
		b, ok := fitBig(row.texts, row.width, row.rows, true)
		require.Equal(t, row.high > 0, ok, row.name)
		require.Len(t, b.rows, row.high, row.name)
		require.LessOrEqual(t, b.width, row.width, row.name)
		if row.wide > 0 {
			require.Equal(t, row.wide, b.width, row.name)
		}
	}
}
