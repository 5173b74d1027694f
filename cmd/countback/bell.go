package main

import (
	"io"
	"slices"

	"countback/kiosk"
)

// bell is the bell of a plain terminal: one stroke for what is stored, two with
// a gap for what is stored and wants a look. It is silent where there is no
// terminal.
type bell struct {
	out  io.Writer // nil: silent
	left int       // strokes that are still to come
	wait int       // ticks until the next one
}

// gapTicks is how many ticks lie between two strokes: a quarter to half a
// second.
const gapTicks = 2

// ring begins to ring for the sounds of one scan.
func (b *bell) ring(sounds []string) error {
	switch {
	case b.out == nil:
		return nil
	case slices.Contains(sounds, kiosk.StoredLook.String()):
		b.left, b.wait = 1, gapTicks
	case slices.Contains(sounds, kiosk.StoredWell.String()):
		b.left = 0
	default:
		return nil
	}
	_, err := io.WriteString(b.out, "\a")
	return err
}

// tick rings the stroke that is due.
func (b *bell) tick() error {
	if b.left == 0 {
		return nil
	}
	if b.wait--; b.wait > 0 {
		return nil
	}
	b.left, b.wait = b.left-1, gapTicks
	_, err := io.WriteString(b.out, "\a")
	return err
}
