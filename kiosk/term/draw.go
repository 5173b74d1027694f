package term

import (
	"strings"
	"unicode/utf8"

	"github.com/gdamore/tcell/v2"

	"countback/kiosk"
	"countback/kiosk/panel"
)

// Sizes below which a screen cannot show what it should; it then shows the
// sign, the next thing to do and the sentence, as plain text.
const (
	leastWidth  = 60
	leastHeight = 16
)

// keyboard is what the screen shows of the keys and takes from nobody else.
type keyboard struct {
	typed   string // on the entry line
	keys    bool   // the table of keys is up
	waiting int    // scans that were taken and are not answered yet
	leaving bool   // the key to leave was pressed once
}

// draw puts a frame on a screen, from its upper left corner to its lower
// right. It reads nothing but its arguments.
func draw(s tcell.Screen, f *Frame, k keyboard, l look) {
	w, h := s.Size()
	c := canvas{screen: s, w: w, h: h, look: l}
	c.fill(l.base())
	switch {
	case w < leastWidth || h < leastHeight:
		c.small(f, k)
	case k.keys:
		c.rows(0, 1).bar(f, k)
		c.rows(1, h-2).keyTable()
		c.rows(h-1, 1).entry(k)
	default:
		c.whole(f, k)
	}
}

// whole is the screen as it should be: bar, headline, what is asked, what
// happened, the panel, the log, the entry line.
func (c canvas) whole(f *Frame, k keyboard) {
	c.rows(0, 1).bar(f, k)
	high := headHigh(c.h, c.look.blocks)
	c.rows(1, high).head(f)
	y := 1 + high
	ask := f.View.Ask
	if f.Stopped != "" {
		ask = "Clear that, then scan OK. Nothing that is scanned meanwhile is taken."
	}
	y += c.rows(y, 2).text(ask, c.look.base().Bold(true), 2)
	y += c.rows(y, 2).clocks(f)
	y += c.rows(y, c.h/5).lines(f)
	foot := c.logHigh() + 1
	c.rows(y, c.h-foot-y).panel(f)
	c.rows(c.h-foot, c.logHigh()).log(f)
	c.rows(c.h-1, 1).entry(k)
}

// headHigh is how many rows the largest letters get: at least one line of
// small ones, and more on a larger screen.
func headHigh(h int, blocks bool) int {
	least := bigRows(1, blocks)
	return min(max(least, h/5), 4*least)
}

func (c canvas) logHigh() int { return min(max(3, c.h/8), 8) }

// bar says where, who and which job, and what is not as usual with the
// terminal itself.
func (c canvas) bar(f *Frame, k keyboard) {
	s := c.look.bar()
	c.fill(s)
	x := 1
	if f.Training {
		x = c.put(0, 0, " TRAINING ", c.look.training()) + 1
	}
	right := clockText(f.Clock)
	if k.waiting > 0 {
		right = "storing " + itoa(k.waiting) + "  " + right
	}
	if f.Kept > 0 {
		right = "CUT OFF: " + itoa(f.Kept) + " saved here, not sent  " + right
	}
	for _, n := range f.Notices {
		right = n + "  " + right
	}
	right = c.cut(right, c.w*2/3)
	bar := f.View.Bar
	if f.View.Said != "" {
		bar += " | " + f.View.Said
	}
	c.part(0, 0, c.w-width(right)-2, 1).fit(x, 0, bar, s)
	c.part(0, 0, c.w-1, 1).right(0, right, s)
}

// head is the sign with its shape and word, and the next thing to do.
func (c canvas) head(f *Frame) {
	sign := f.View.Sign
	if f.Stopped != "" {
		sign = kiosk.Stop
	}
	s := c.look.sign(sign)
	c.fill(s)
	left := 2
	if sign != kiosk.Plain {
		left = 12
		for i, row := range c.look.signShape(sign) {
			c.put(2, i, row, s.Bold(true))
		}
		c.put(1, 3, sign.String(), s.Bold(true))
	}
	area := c.part(left, 0, c.w-left-1, c.h)
	echo := f.View.Big
	if len(f.Next) == 1 && f.Next[0] == echo {
		echo = ""
	}
	room := area.w
	if echo != "" {
		room -= dotsWide(echo) + 3
	}
	b, ok := fitBig(f.headline(), room, area.h, c.look.blocks)
	if !ok {
		area.fit(0, 0, strings.Join(f.headline(), " "), s.Bold(true))
		return
	}
	for i, row := range b.rows {
		area.put(0, i, row, s.Bold(true))
	}
	if echo != "" {
		area.echo(echo, s)
	}
}

// echo shows the number that was taken last, at the right edge.
func (c canvas) echo(text string, s tcell.Style) {
	b := bigText(text, 1, c.look.blocks)
	x := c.w - b.width
	for i, row := range b.rows {
		c.put(x, i, row, s)
	}
}

// text writes a wrapped text and says how many rows it took.
func (c canvas) text(text string, s tcell.Style, most int) int {
	rows := c.wrap(text, c.w-2, min(most, c.h))
	for i, r := range rows {
		c.put(1, i, r, s)
	}
	return len(rows)
}

// clocks are the clocks that run, the most urgent first, each a bar of its own
// with its shape.
func (c canvas) clocks(f *Frame) int {
	y := 0
	for _, k := range f.Clocks {
		if y >= c.h {
			break
		}
		shape, _ := c.look.mark(k.Mark)
		s := c.look.title()
		switch k.Mark {
		case panel.Look:
			s = c.look.sign(kiosk.Short).Bold(true)
		case panel.Stop:
			s = c.look.sign(kiosk.Stop).Bold(true)
		}
		row := c.rows(y, 1)
		row.fill(s)
		row.fit(1, 0, shape+" "+k.Text, s)
		y++
	}
	return y
}

// lines are what happened or is so.
func (c canvas) lines(f *Frame) int {
	y := 0
	lines := f.lines()
	for i, l := range lines {
		if y >= c.h {
			break
		}
		left := min(2, c.h-y)
		if i == len(lines)-1 {
			left = c.h - y
		}
		y += c.rows(y, c.h-y).text(l, c.look.base(), left)
	}
	return y
}

// log is the last facts as sentences, and the one that UNDO takes back.
func (c canvas) log(f *Frame) {
	c.line(0, c.look.quiet())
	undo := f.View.Undo
	rows := c.h - 1
	if undo != "" {
		rows--
	}
	for i, l := range f.Log {
		if i >= rows {
			break
		}
		c.fit(1, 1+i, l.Time+" "+l.Who+": "+l.Text, c.look.quiet())
	}
	if undo == "" {
		return
	}
	s := c.look.base()
	if f.Fresh {
		s = c.look.title()
	}
	c.fit(1, c.h-1, undo, s)
}

// entry is what is typed; where nothing is, the keys that are used most.
func (c canvas) entry(k keyboard) {
	s := c.look.entry()
	c.fill(s)
	switch {
	case k.leaving:
		c.fit(1, 0, "Leave the kiosk? Ctrl-C again; any other key stays. What rang is stored.", s.Bold(true))
	case k.typed != "":
		x := c.put(1, 0, "> "+ending(clean(k.typed), c.w-4), s.Bold(true))
		c.put(x, 0, " ", s.Reverse(true))
	default:
		c.fit(1, 0, keyLine(), s)
	}
}

// small is what a screen without room shows.
func (c canvas) small(f *Frame, k keyboard) {
	s := c.look.sign(f.View.Sign)
	y := 0
	put := func(text string, s tcell.Style, most int) {
		if text != "" && y < c.h {
			y += c.rows(y, c.h-y).text(text, s, most)
		}
	}
	head := strings.TrimSpace(f.View.Sign.String() + " " + f.headline()[0])
	if f.Training {
		head = "TRAINING " + head
	}
	c.rows(0, 1).fill(s)
	put(head, s.Bold(true), 1)
	if f.Stopped != "" {
		put(f.Stopped, c.look.base(), 2)
	}
	put(f.View.Ask, c.look.base().Bold(true), 2)
	for _, l := range f.View.Lines {
		put(l, c.look.base(), 2)
	}
	if k.typed != "" {
		c.rows(c.h-1, 1).entry(k)
	}
}

// ending is the last part of a text that is no wider than w.
func ending(text string, w int) string {
	for text != "" && width(text) > max(0, w) {
		_, size := utf8.DecodeRuneInString(text)
		text = text[size:]
	}
	return text
}
