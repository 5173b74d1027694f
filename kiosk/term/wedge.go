package term

import (
	"strings"
	"time"
)

// Timing tells a scanner's burst from typing. The numbers are common practice
// without a source.
type Timing struct {
	Gap  time.Duration // between two keys of a burst, at most
	Join time.Duration // between two halves of a burst that was cut, at most
	Min  int           // keys of a burst that is no code of ours, at least
}

// UsualTiming is 80 ms between keys, 500 ms between halves, four keys.
func UsualTiming() Timing {
	return Timing{Gap: 80 * time.Millisecond, Join: 500 * time.Millisecond, Min: 4}
}

// codeLength is how many characters a code of ours has.
const codeLength = 8

// maxKeys is how many keys are kept; a line has no use for more.
const maxKeys = 2000

// Wedge sorts keys into scans and typing by the time between them. It reads no
// clock: the time comes with each key.
//
// A burst is a run of keys with no more than Gap between two of them. It ends
// with CR, LF, CR and LF, or Tab, as scanners do. What was typed before it
// stays as it was. A burst that was cut in two is put together where the halves
// come within Join of each other and are one code, or were both too fast for a
// hand. Two codes that ran together, since two scanners fired at once, are two
// scans; what of the second code came before the first one's end waits for its
// rest. Keys that come slowly are typing, and end with a slow CR.
type Wedge struct {
	set   Timing
	valid func(string) bool
	keys  []stroke
	run   int       // index in keys of the first key of the run
	last  time.Time // of the last key
	ended time.Time // of the last end of a line
}

type stroke struct {
	r    rune
	at   time.Time
	fast bool // it came within Gap of the key before, or the key after it did
}

// Input is one line, and whether it came from a scanner.
type Input struct {
	Line    string
	Scanned bool
}

// NewWedge makes a sorter. valid says whether a text is a code of ours.
func NewWedge(set Timing, valid func(string) bool) *Wedge { return &Wedge{set: set, valid: valid} }

// Text is what was typed so far, with a burst that has not ended.
func (w *Wedge) Text() string { return textOf(w.keys) }

// Bursting reports whether a key at this time would belong to a burst.
func (w *Wedge) Bursting(at time.Time) bool {
	return len(w.keys) > w.run && at.Sub(w.last) <= w.set.Gap
}

// Key takes one character.
func (w *Wedge) Key(r rune, at time.Time) {
	if len(w.keys) >= maxKeys {
		w.Clear()
	}
	fast := w.Bursting(at)
	if fast {
		w.keys[len(w.keys)-1].fast = true
	} else {
		w.run = len(w.keys)
	}
	w.keys = append(w.keys, stroke{r, at, fast})
	w.last = at
}

// Back takes the last character back.
func (w *Wedge) Back() {
	if n := len(w.keys); n > 0 {
		w.keys = w.keys[:n-1]
		w.run = len(w.keys)
	}
}

// Clear drops what was typed.
func (w *Wedge) Clear() { w.keys, w.run = nil, 0 }

// Put writes a text on the line as if it had been typed.
func (w *Wedge) Put(text string) {
	w.Clear()
	for _, r := range text {
		w.keys = append(w.keys, stroke{r: r})
	}
	w.run = len(w.keys)
}

// End takes the end of a line and gives the lines that it ends. A typed Tab
// ends nothing.
func (w *Wedge) End(at time.Time, tab bool) []Input {
	second := at.Sub(w.ended) <= w.set.Gap && !w.Bursting(at)
	w.ended = at
	if second {
		return nil // LF after CR, or a scanner that ends twice
	}
	if in := w.burst(at); in != nil {
		return in
	}
	if tab {
		return nil
	}
	line := strings.TrimSpace(w.Text())
	w.Clear()
	if line == "" {
		return nil
	}
	return []Input{{Line: line}}
}

// burst is what the last keys are, if a scanner sent them.
func (w *Wedge) burst(at time.Time) []Input {
	switch {
	case len(w.keys) == w.run:
		return nil
	case !w.Bursting(at): // the end came late: a code that came fast is still a scan
		if tail := w.tail(codeLength); at.Sub(w.last) <= w.set.Join && w.valid(textOf(tail)) && allFast(tail) {
			return w.take(codeLength)
		}
		return nil
	}
	run := textOf(w.keys[w.run:])
	if n := len(run); n > codeLength && w.valid(run[:codeLength]) {
		return w.together(run)
	} else if n == codeLength && w.valid(run) {
		return w.take(n)
	}
	if w.valid(textOf(w.tail(codeLength))) && w.joined(codeLength) {
		return w.take(codeLength)
	}
	if n := w.halves(); n >= w.set.Min {
		return w.take(n)
	}
	return nil
}

// together takes codes that ran into each other. The beginning of one more
// waits for its rest.
func (w *Wedge) together(run string) []Input {
	var list []Input
	left := run
	for len(left) >= codeLength && w.valid(left[:codeLength]) {
		list = append(list, Input{left[:codeLength], true})
		left = left[codeLength:]
	}
	if len(left) >= codeLength {
		return w.take(len([]rune(run))) // no codes of ours after all: one line, for the screen to refuse
	}
	rest := w.keys[len(w.keys)-len([]rune(left)):]
	w.keys = append(w.keys[:w.run:w.run], rest...)
	return list
}

// tail is the last n keys; nil if there are fewer.
func (w *Wedge) tail(n int) []stroke {
	if len(w.keys) < n {
		return nil
	}
	return w.keys[len(w.keys)-n:]
}

// joined reports whether the last n keys came without a pause longer than Join.
func (w *Wedge) joined(n int) bool {
	tail := w.tail(n)
	for i := 1; i < len(tail); i++ {
		if tail[i].at.Sub(tail[i-1].at) > w.set.Join {
			return false
		}
	}
	return tail != nil
}

// halves is how many keys at the end came too fast for a hand, in one piece or
// in pieces that were cut apart.
func (w *Wedge) halves() int {
	n := len(w.keys) - w.run
	for i := w.run - 1; i >= 0; i-- {
		if !w.keys[i].fast || w.keys[i+1].at.Sub(w.keys[i].at) > w.set.Join {
			break
		}
		n++
	}
	return n
}

func allFast(list []stroke) bool {
	for _, k := range list {
		if !k.fast {
			return false
		}
	}
	return true
}

// take makes the last n keys one scan; what was typed before stays.
func (w *Wedge) take(n int) []Input {
	line := textOf(w.tail(n))
	w.keys = w.keys[:len(w.keys)-n]
	w.run = len(w.keys)
	return []Input{{line, true}}
}

func textOf(list []stroke) string {
	var b strings.Builder
	for _, k := range list {
		b.WriteRune(k.r)
	}
	return b.String()
}
