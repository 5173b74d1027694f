package term

import (
	"fmt"
	"os"

	"github.com/gdamore/tcell/v2"

	"countback/kiosk"
	"countback/kiosk/panel"
)

// Theme is light or dark.
type Theme uint8

// The themes: dark for the night and dim places, light for the day.
const (
	Dark Theme = iota
	Light
)

// ParseTheme reads the word of a setting.
func ParseTheme(text string) (Theme, error) {
	switch text {
	case "dark":
		return Dark, nil
	case "light":
		return Light, nil
	}
	return Dark, fmt.Errorf("theme %q: want dark or light", text)
}

// Letters says how large letters, shapes and lines are drawn.
type Letters uint8

// The ways to draw.
const (
	AutoLetters  Letters = iota // blocks where the terminal has them
	BlockLetters                // half blocks, lines and signs of Unicode
	PlainLetters                // ASCII only
)

// ParseLetters reads the word of a setting.
func ParseLetters(text string) (Letters, error) {
	switch text {
	case "auto":
		return AutoLetters, nil
	case "blocks":
		return BlockLetters, nil
	case "plain":
		return PlainLetters, nil
	}
	return AutoLetters, fmt.Errorf("letters %q: want auto, blocks or plain", text)
}

// blocksOn decides for a screen: the Linux console and terminals without
// Unicode get plain letters.
func (l Letters) blocksOn(s tcell.Screen) bool {
	switch l {
	case BlockLetters:
		return true
	case PlainLetters:
		return false
	}
	return os.Getenv("TERM") != "linux" && s.CanDisplay('▀', false) && s.CanDisplay('│', false)
}

// pair is text on a ground, as 24-bit colours.
type pair struct{ text, ground int32 }

// colours of a theme. Normal is dull; colour means that something is not as
// usual. Signs keep their colours in both themes, so that they are learned
// once: white on dark magenta for STOP, black on yellow for LOOK, white on
// blue for WAIT, black on orange for another job.
type colours struct {
	base, quiet, bar, title, entry pair
	signs                          [6]pair // by kiosk.Sign
	training                       pair
}

const (
	black, white       = 0x000000, 0xffffff
	nearBlack          = 0x101418
	paper              = 0xf4f1e8
	yellow, orange     = 0xffd400, 0xffa53a
	magenta, blue      = 0x6a0058, 0x0a3a8c
	greyOnDark, slate  = 0xb4bcc4, 0x2a333c
	greyOnLight, stone = 0x454b52, 0xd9d4c4
)

var themes = [...]colours{
	Dark: {
		base: pair{white, nearBlack}, quiet: pair{greyOnDark, nearBlack}, bar: pair{white, slate}, title: pair{nearBlack, greyOnDark}, entry: pair{white, slate},
		signs:    [6]pair{{white, nearBlack}, {white, slate}, {black, yellow}, {white, magenta}, {white, blue}, {black, orange}},
		training: pair{black, yellow},
	},
	Light: {
		base: pair{nearBlack, paper}, quiet: pair{greyOnLight, paper}, bar: pair{nearBlack, stone}, title: pair{paper, slate}, entry: pair{nearBlack, stone},
		signs:    [6]pair{{nearBlack, paper}, {white, slate}, {black, yellow}, {white, magenta}, {white, blue}, {black, orange}},
		training: pair{black, yellow},
	},
}

// look is how a screen is drawn: the theme, and whether the terminal has
// blocks and colours.
type look struct {
	theme  Theme
	blocks bool
	mono   bool // no colours: signs are reversed
}

func (l look) style(p pair) tcell.Style {
	if l.mono {
		return tcell.StyleDefault
	}
	return tcell.StyleDefault.Foreground(tcell.NewHexColor(p.text)).Background(tcell.NewHexColor(p.ground))
}

func (l look) base() tcell.Style  { return l.style(themes[l.theme].base) }
func (l look) quiet() tcell.Style { return l.style(themes[l.theme].quiet) }
func (l look) bar() tcell.Style   { return l.reversed(themes[l.theme].bar) }
func (l look) title() tcell.Style { return l.reversed(themes[l.theme].title).Bold(true) }
func (l look) entry() tcell.Style { return l.reversed(themes[l.theme].entry) }
func (l look) training() tcell.Style {
	return l.reversed(themes[l.theme].training).Bold(true)
}

// reversed is a style that stands out on a terminal without colours too.
func (l look) reversed(p pair) tcell.Style {
	if l.mono {
		return tcell.StyleDefault.Reverse(true)
	}
	return l.style(p)
}

func (l look) sign(s kiosk.Sign) tcell.Style {
	if s == kiosk.Plain {
		return l.base()
	}
	return l.reversed(themes[l.theme].signs[s])
}

// mark is how a row's mark is shown: its shape, and the style of its word.
func (l look) mark(m panel.Mark) (shape string, style tcell.Style) {
	style = l.base()
	switch m {
	case panel.Look, panel.Swapped, panel.Unsure:
		style = l.sign(kiosk.Short).Bold(true)
	case panel.Stop, panel.Broken, panel.Hot:
		style = l.sign(kiosk.Stop).Bold(true)
	case panel.Parked, panel.Lent:
		style = l.sign(kiosk.Amber).Bold(true)
	case panel.Now:
		style = style.Bold(true)
	case panel.Done, panel.Shut, panel.Carried, panel.None, panel.Plain:
		style = l.quiet()
	}
	shapes := &plainShapes
	if l.blocks {
		shapes = &blockShapes
	}
	return shapes[m], style
}

// Shapes of marks, one cell each, different in form and not only in colour.
var (
	blockShapes = [...]string{panel.Plain: "·", panel.Done: "✓", panel.Now: "►", panel.Begun: "◐", panel.Waits: "▒", panel.Look: "▲", panel.Hidden: "□", panel.Counted: "=",
		panel.Hot: "♨", panel.Failed: "✗", panel.Stop: "■", panel.Carried: "…", panel.Open: "◇", panel.Shut: "◆", panel.Out: "○", panel.Parked: "◍", panel.In: "●", panel.Tight: "■", panel.Broken: "✗", panel.Lent: "L",
		panel.None: "-", panel.Unsure: "?", panel.Full: "●", panel.Empty: "○", panel.Swapped: "▲"}
	plainShapes = [...]string{panel.Plain: "-", panel.Done: "v", panel.Now: ">", panel.Begun: "%", panel.Waits: "#", panel.Look: "!", panel.Hidden: "_", panel.Counted: "=",
		panel.Hot: "!", panel.Failed: "x", panel.Stop: "#", panel.Carried: "~", panel.Open: "u", panel.Shut: "n", panel.Out: "o", panel.Parked: "~", panel.In: "+", panel.Tight: "#", panel.Broken: "X", panel.Lent: "L",
		panel.None: "-", panel.Unsure: "?", panel.Full: "+", panel.Empty: "o", panel.Swapped: "!"}
)

// brackets around a hole's number are the shape of its size.
var brackets = [panel.Shapes][2]string{{"(", ")"}, {"[", "]"}, {"/", "\\"}, {"<", ">"}, {"+", "+"}, {"{", "}"}, {"*", "*"}, {"|", "|"}}

func bracket(s panel.Shape) (open, end string) {
	if s >= panel.Shapes {
		return " ", " "
	}
	return brackets[s][0], brackets[s][1]
}

// signShape is the shape of a sign in three rows of seven characters: a square
// with a tick, a triangle, an octagon, a clock, a diamond.
func (l look) signShape(s kiosk.Sign) [3]string {
	if !l.blocks {
		return plainSigns[s]
	}
	return blockSigns[s]
}

var (
	blockSigns = [...][3]string{
		kiosk.Plain: {},
		kiosk.Good:  {"┌─────┐", "│  ✓  │", "└─────┘"},
		kiosk.Short: {"   ▲   ", "  ╱!╲  ", " ╱▁▁▁╲ "},
		kiosk.Stop:  {" ╱───╲ ", "│ ■■■ │", " ╲───╱ "},
		kiosk.Wait:  {" ╭─┬─╮ ", "│  └─ │", " ╰───╯ "},
		kiosk.Amber: {"  ╱╲   ", " ╱  ╲  ", " ╲__╱  "},
	}
	plainSigns = [...][3]string{
		kiosk.Plain: {},
		kiosk.Good:  {"+-----+", "|  v  |", "+-----+"},
		kiosk.Short: {"   ^   ", "  /!\\  ", " /___\\ "},
		kiosk.Stop:  {" /---\\ ", "| ### |", " \\---/ "},
		kiosk.Wait:  {" .-+-. ", "|  +- |", " '---' "},
		kiosk.Amber: {"   ^   ", "  < >  ", "   v   "},
	}
)
