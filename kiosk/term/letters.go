package term

import "strings"

// glyphRows is how many rows a letter has.
const glyphRows = 7

// thin are the rows of a letter that stand for it where only five can be
// drawn: the letters are made so that these five tell them apart.
var thin = [5]int{0, 1, 3, 5, 6}

// glyphs are the letters, rows from the top, divided by blanks. What is not
// here is drawn as a box.
var glyphs = parseGlyphs(map[rune]string{
	'A': ".###. #...# #...# ##### #...# #...# #...#", 'B': "####. #...# #...# ####. #...# #...# ####.",
	'C': ".#### #.... #.... #.... #.... #.... .####", 'D': "####. #...# #...# #...# #...# #...# ####.",
	'E': "##### #.... #.... ####. #.... #.... #####", 'F': "##### #.... #.... ####. #.... #.... #....",
	'G': ".#### #.... #.... #.### #...# #...# .####", 'H': "#...# #...# #...# ##### #...# #...# #...#",
	'I': "### .#. .#. .#. .#. .#. ###", 'J': "....# ....# ....# ....# ....# #...# .###.",
	'K': "#...# #..#. #.#.. ##... #.#.. #..#. #...#", 'L': "#.... #.... #.... #.... #.... #.... #####",
	'M': "#...# ##.## #.#.# #.#.# #...# #...# #...#", 'N': "#...# ##..# ##..# #.#.# #..## #..## #...#",
	'O': ".###. #...# #...# #...# #...# #...# .###.", 'P': "####. #...# #...# ####. #.... #.... #....",
	'Q': ".###. #...# #...# #...# #.#.# #..#. .##.#", 'R': "####. #...# #...# ####. #.#.. #..#. #...#",
	'S': ".#### #.... #.... .###. ....# ....# ####.", 'T': "##### ..#.. ..#.. ..#.. ..#.. ..#.. ..#..",
	'U': "#...# #...# #...# #...# #...# #...# .###.", 'V': "#...# #...# #...# #...# #...# .#.#. ..#..",
	'W': "#...# #...# #...# #.#.# #.#.# ##.## #...#", 'X': "#...# #...# .#.#. ..#.. .#.#. #...# #...#",
	'Y': "#...# #...# .#.#. ..#.. ..#.. ..#.. ..#..", 'Z': "##### ....# ...#. ..#.. .#... #.... #####",
	'0': ".###. #...# #..## #.#.# ##..# #...# .###.", '1': "..#.. .##.. ..#.. ..#.. ..#.. ..#.. .###.",
	'2': ".###. #...# ....# ..##. .#... #.... #####", '3': "####. ....# ....# .###. ....# ....# ####.",
	'4': "#...# #...# #...# ##### ....# ....# ....#", '5': "##### #.... #.... ####. ....# ....# ####.",
	'6': ".###. #.... #.... ####. #...# #...# .###.", '7': "##### ....# ...#. ..#.. ..#.. ..#.. ..#..",
	'8': ".###. #...# #...# .###. #...# #...# .###.", '9': ".###. #...# #...# .#### ....# ....# .###.",
	'?': ".###. #...# ....# ..##. ..#.. ..... ..#..", '!': "# # # # # . #", '.': ". . . . . . #", ',': ".. .. .. .. .. .# #.",
	':': ". # . . . # .", '-': ".... .... .... #### .... .... ....", '+': "..... ..#.. ..#.. ##### ..#.. ..#.. .....",
	'/': "....# ....# ...#. ..#.. .#... #.... #....", '(': ".# #. #. #. #. #. .#", ')': "#. .# .# .# .# .# #.",
	'\'': "# # . . . . .", '&': ".##.. #..#. #..#. .##.. #..## #..#. .##.#", ' ': "... ... ... ... ... ... ...",
})

func parseGlyphs(texts map[rune]string) map[rune][glyphRows]string {
	m := make(map[rune][glyphRows]string, len(texts))
	for r, t := range texts {
		m[r] = [glyphRows]string(strings.Fields(t))
	}
	return m
}

var boxGlyph = [glyphRows]string{"#####", "#...#", "#...#", "#...#", "#...#", "#...#", "#####"}

func glyphOf(r rune) [glyphRows]string {
	if g, ok := glyphs[r]; ok {
		return g
	}
	return boxGlyph
}

// bitmap is a text in dots, one row a string of '#' and '.'.
func bitmap(text string) [glyphRows]string {
	var rows [glyphRows]string
	for i, r := range []rune(strings.ToUpper(text)) {
		g := glyphOf(r)
		for y := range rows {
			if i > 0 {
				rows[y] += "."
			}
			rows[y] += g[y]
		}
	}
	return rows
}

// dotsWide is how many dots a text is wide.
func dotsWide(text string) int { return len(bitmap(text)[0]) }

// big is a text in large letters: rows of characters.
type big struct {
	rows  []string
	width int
}

// bigRows is how many rows of a screen letters of a size take.
func bigRows(scale int, blocks bool) int {
	if blocks {
		return (glyphRows*scale + 1) / 2
	}
	return len(thin) * scale
}

// bigText draws a text in letters of a size, with half blocks or with plain
// characters.
func bigText(text string, scale int, blocks bool) big {
	dots := scaled(bitmap(text), scale, blocks)
	b := big{width: len(dots[0])}
	if !blocks {
		for _, row := range dots {
			b.rows = append(b.rows, strings.ReplaceAll(row, ".", " "))
		}
		return b
	}
	for y := 0; y < len(dots); y += 2 {
		low := strings.Repeat(".", b.width)
		if y+1 < len(dots) {
			low = dots[y+1]
		}
		b.rows = append(b.rows, halfBlocks(dots[y], low))
	}
	return b
}

func halfBlocks(top, low string) string {
	var s strings.Builder
	for x := range len(top) {
		switch {
		case top[x] == '#' && low[x] == '#':
			s.WriteRune('█')
		case top[x] == '#':
			s.WriteRune('▀')
		case low[x] == '#':
			s.WriteRune('▄')
		default:
			s.WriteByte(' ')
		}
	}
	return s.String()
}

// scaled makes every dot so many dots wide and high. Plain characters are
// twice as high as wide, so they take only the five rows that matter.
func scaled(rows [glyphRows]string, scale int, blocks bool) []string {
	var list []string
	add := func(row string) {
		var wide strings.Builder
		for i := range len(row) {
			wide.WriteString(strings.Repeat(row[i:i+1], scale))
		}
		for range scale {
			list = append(list, wide.String())
		}
	}
	if blocks {
		for _, row := range rows {
			add(row)
		}
		return list
	}
	for _, y := range thin {
		add(rows[y])
	}
	return list
}

// fitBig finds the first text that fits, in one line or two, and draws it as
// large as it can be; false if none fits.
func fitBig(texts []string, width, rows int, blocks bool) (big, bool) {
	for _, text := range texts {
		best, found := 0, big{}
		for _, lines := range breaks(text) {
			scale := largest(lines, width, rows, blocks)
			if scale > best {
				best, found = scale, stack(lines, scale, blocks)
			}
		}
		if best > 0 {
			return found, true
		}
	}
	return big{}, false
}

// breaks are the ways to put a text into one line or two.
func breaks(text string) [][]string {
	list := [][]string{{text}}
	for i, r := range text {
		if r == ' ' {
			list = append(list, []string{text[:i], text[i+1:]})
		}
	}
	return list
}

// largest is the largest size at which lines fit; 0 if none does.
func largest(lines []string, width, rows int, blocks bool) int {
	wide := 1
	for _, l := range lines {
		wide = max(wide, dotsWide(l))
	}
	scale := width / wide
	for scale > 0 && len(lines)*bigRows(scale, blocks)+len(lines)-1 > rows {
		scale--
	}
	return scale
}

func stack(lines []string, scale int, blocks bool) big {
	var all big
	for i, l := range lines {
		b := bigText(l, scale, blocks)
		if i > 0 {
			all.rows = append(all.rows, "")
		}
		all.rows = append(all.rows, b.rows...)
		all.width = max(all.width, b.width)
	}
	return all
}
