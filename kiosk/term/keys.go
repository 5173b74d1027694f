package term

import (
	"strings"

	"github.com/gdamore/tcell/v2"

	"countback/kiosk/scan"
)

// act is what a key does that is no word of the kiosk.
type act uint8

const (
	say    act = iota // say the binding's word
	escape            // clear what is typed; where nothing is, CANCEL
	recall            // the last typed line
	table             // the table of keys
	turn              // the other theme
	redraw            // the whole screen anew
	leave             // pressed twice: leave
	erase             // the last character
	wipe              // the whole entry
)

// binding is one key.
type binding struct {
	key  tcell.Key
	name string
	act  act
	word scan.Word
	help string
	top  bool // on the entry line while nothing is typed
}

// bindings is the table of keys. The help is drawn from it.
var bindings = []binding{
	{tcell.KeyF1, "F1", say, scan.Help, "what can be said", true},
	{tcell.KeyF2, "F2", say, scan.WhatNow, "the steps", true},
	{tcell.KeyF3, "F3", say, scan.Missing, "for steps on", true},
	{tcell.KeyF4, "F4", say, scan.AuditWord, "the next audit point", true},
	{tcell.KeyF5, "F5", say, scan.WhereIs, "what was scanned", false},
	{tcell.KeyF6, "F6", say, scan.Count, "what was scanned", false},
	{tcell.KeyF7, "F7", say, scan.AllOut, "by word", false},
	{tcell.KeyF8, "F8", say, scan.AllIn, "by word", false},
	{tcell.KeyF9, "F9", say, scan.Undo, "the last fact", true},
	{tcell.KeyF10, "F10", say, scan.Correct, "an older fact", false},
	{tcell.KeyF11, "F11", say, scan.HandOver, "to another person", false},
	{tcell.KeyF12, "F12", table, "", "this table of keys", true},
	{tcell.KeyPgDn, "PgDn", say, scan.More, "the next page", false},
	{tcell.KeyEscape, "Esc", escape, "", "clear the line; else CANCEL", true},
	{tcell.KeyUp, "Up", recall, "", "the last typed line", false},
	{tcell.KeyBackspace2, "Backspace", erase, "", "the last character", false},
	{tcell.KeyBackspace, "", erase, "", "", false},
	{tcell.KeyCtrlU, "Ctrl-U", wipe, "", "all that is typed", false},
	{tcell.KeyCtrlT, "Ctrl-T", turn, "", "light or dark", false},
	{tcell.KeyCtrlL, "Ctrl-L", redraw, "", "draw the screen anew", false},
	{tcell.KeyCtrlC, "Ctrl-C", leave, "", "twice: leave the kiosk", false},
}

// bound finds the binding of a key.
func bound(k tcell.Key) (binding, bool) {
	for _, b := range bindings {
		if b.key == k {
			return b, true
		}
	}
	return binding{}, false
}

// word is what a key is called in one word.
func (b *binding) short() string {
	switch {
	case b.word != "":
		return string(b.word)
	case b.act == table:
		return "KEYS"
	}
	return "CANCEL"
}

// keyLine is the entry line while nothing is typed.
func keyLine() string {
	var list []string
	for i := range bindings {
		if b := &bindings[i]; b.top {
			list = append(list, b.name+" "+b.short())
		}
	}
	return strings.Join(list, "  ")
}

// keyTable draws the table of keys, and how else to speak.
func (c canvas) keyTable() {
	c.rows(0, 1).fill(c.look.title())
	c.fit(1, 0, "Keys. A scan or any key goes back", c.look.title())
	y, x, wide := 2, 1, c.w/2
	for i := range bindings {
		b := &bindings[i]
		if b.name == "" {
			continue
		}
		if y >= c.h-4 && x == 1 {
			y, x = 2, wide
		}
		col := c.part(x, y, wide-2, 1)
		col.put(0, 0, b.name, c.look.base().Bold(true))
		text := b.help
		if b.word != "" {
			text = string(b.word) + ": " + text
		}
		col.fit(10, 0, text, c.look.base())
		y++
	}
	for i, text := range []string{
		"All of it can be typed, with Enter: a code, a word, a name, a number.",
		"    joint front-cover    B2KCZ6EE    8    COUNT    part head    hole 18",
		"A scanner may fire at any time, also into a half-typed line: that stays.",
	} {
		c.fit(1, c.h-3+i, text, c.look.quiet())
	}
}
