package page

import (
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/bidi"
)

// visual puts a visible text into the order in which it stands on the paper,
// after the Unicode bidirectional algorithm (UAX #9) with left to right as the
// base. Explicit embeddings do not occur: Visible has made them visible.
func visual(text string) string {
	parts, rtl := classed(text)
	if !rtl {
		return text
	}
	weak(parts)
	brackets(parts)
	neutral(parts)
	return reordered(parts)
}

// piece is one cluster and its class while the rules are applied.
type piece struct {
	text  string
	class bidi.Class
}

// classed gives each cluster the class of its first character, and says
// whether anything runs to the left.
func classed(text string) (parts []piece, rtl bool) {
	for i := range len(text) {
		if text[i] >= 0xd6 { // U+0590 and above begin with it
			rtl = true
			break
		}
	}
	if !rtl {
		return nil, false
	}
	rtl = false
	for _, c := range clusters(text) {
		p := piece{c, bidi.ON}
		if number(c) == 0 {
			props, _ := bidi.LookupString(c)
			p.class = props.Class()
		}
		rtl = rtl || p.class == bidi.R || p.class == bidi.AL
		parts = append(parts, p)
	}
	return parts, rtl
}

// weak is the rules W2 to W7; W1 is done by the clusters.
func weak(parts []piece) {
	strong := bidi.L
	for i, p := range parts {
		switch p.class {
		case bidi.L, bidi.R, bidi.AL:
			strong = p.class
		case bidi.EN:
			if strong == bidi.AL {
				parts[i].class = bidi.AN
			}
		}
	}
	for i := range parts {
		if parts[i].class == bidi.AL {
			parts[i].class = bidi.R
		}
	}
	for i := 1; i+1 < len(parts); i++ {
		before, after := parts[i-1].class, parts[i+1].class
		if before != after {
			continue
		}
		if c := parts[i].class; before == bidi.EN && (c == bidi.ES || c == bidi.CS) || before == bidi.AN && c == bidi.CS {
			parts[i].class = before
		}
	}
	terminators(parts)
	strong = bidi.L
	for i, p := range parts {
		switch p.class {
		case bidi.L, bidi.R:
			strong = p.class
		case bidi.ES, bidi.ET, bidi.CS:
			parts[i].class = bidi.ON
		case bidi.EN:
			if strong == bidi.L {
				parts[i].class = bidi.L
			}
		}
	}
}

// terminators is rule W5: signs beside a number belong to it.
func terminators(parts []piece) {
	for i := 0; i < len(parts); i++ {
		from := i
		for i < len(parts) && parts[i].class == bidi.ET {
			i++
		}
		if i > from && (from > 0 && parts[from-1].class == bidi.EN || i < len(parts) && parts[i].class == bidi.EN) {
			for j := from; j < i; j++ {
				parts[j].class = bidi.EN
			}
		}
	}
}

// side is the direction that a piece gives to what stands beside it.
func (p piece) side() (bidi.Class, bool) {
	switch p.class {
	case bidi.L:
		return bidi.L, true
	case bidi.R, bidi.EN, bidi.AN:
		return bidi.R, true
	}
	return 0, false
}

// brackets is rule N0: a pair takes the direction of what is in it.
func brackets(parts []piece) {
	type pair struct{ open, shut int }
	var pairs []pair
	var stack []int
	for i, p := range parts {
		r, n := utf8.DecodeRuneInString(p.text)
		if p.class != bidi.ON || n != len(p.text) {
			continue
		}
		switch r {
		case '(', '[', '{':
			stack = append(stack, i)
		case ')', ']', '}':
			for at := len(stack) - 1; at >= 0; at-- {
				if parts[stack[at]].text == string(mirror(r)) {
					pairs = append(pairs, pair{stack[at], i})
					stack = stack[:at]
					break
				}
			}
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int { return a.open - b.open })
	for _, q := range pairs {
		if c, ok := inside(parts, q.open, q.shut); ok {
			parts[q.open].class, parts[q.shut].class = c, c
		}
	}
}

// inside is the direction that a pair of brackets takes; none if nothing in it
// has one.
func inside(parts []piece, open, shut int) (bidi.Class, bool) {
	right := false
	for _, p := range parts[open+1 : shut] {
		if c, ok := p.side(); ok && c == bidi.L {
			return bidi.L, true
		} else if ok {
			right = true
		}
	}
	if !right {
		return 0, false
	}
	for i := open - 1; i >= 0; i-- {
		if c, ok := parts[i].side(); ok {
			return c, true
		}
	}
	return bidi.L, true
}

// neutral is the rules N1 and N2: what has no direction takes that of both its
// neighbours, or else that of the base.
func neutral(parts []piece) {
	for i := 0; i < len(parts); i++ {
		if _, ok := parts[i].side(); ok {
			continue
		}
		from := i
		before, after := bidi.L, bidi.L
		if from > 0 {
			before, _ = parts[from-1].side()
		}
		for ; i < len(parts); i++ {
			if c, ok := parts[i].side(); ok {
				after = c
				break
			}
		}
		class := bidi.L
		if before == after {
			class = before
		}
		for j := from; j < i; j++ {
			parts[j].class = class
		}
	}
}

// reordered is the rules I1, L2 and L4: what runs to the left is turned round,
// numbers in it are not, and brackets open to the other side.
func reordered(parts []piece) string {
	level := func(i int) int {
		switch parts[i].class {
		case bidi.R:
			return 1
		case bidi.EN, bidi.AN:
			return 2
		}
		return 0
	}
	order := make([]int, len(parts))
	for i := range order {
		order[i] = i
	}
	for least := 2; least >= 1; least-- {
		for i := 0; i < len(order); i++ {
			from := i
			for i < len(order) && level(order[i]) >= least {
				i++
			}
			slices.Reverse(order[from:i])
		}
	}
	var b strings.Builder
	for _, i := range order {
		r, n := utf8.DecodeRuneInString(parts[i].text)
		if level(i) == 1 && n == len(parts[i].text) {
			b.WriteRune(mirror(r))
		} else {
			b.WriteString(parts[i].text)
		}
	}
	return b.String()
}

const mirrors = "()[]{}<>«»‹›"

// mirror is the bracket that opens to the other side.
func mirror(r rune) rune {
	list := []rune(mirrors)
	if i := slices.Index(list, r); i >= 0 {
		return list[i^1]
	}
	return r
}
