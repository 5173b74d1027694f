// Package term is the full-screen terminal of a bench: it draws what a bench
// terminal shows and takes what its scanner and its keyboard say. It is the
// only package that knows tview and tcell.
//
// Two goroutines share the work. The hand owns the bench terminal: it takes
// one line after the other, waits until the journal has answered, and makes a
// Frame, which is all that a screen shows, as plain values. The loop owns the
// screen: it draws the last frame and sorts keys into scans and typing. Nothing
// of the job is read while it is drawn.
//
// The bell sounds for a frame whose fact is on disk: once for stored, twice for
// stored, and now look. Nothing else rings it.
//
// A scanner is a keyboard. Its burst is told from typing by the time between
// two keys, wherever the focus is; there is no button that Enter could press.
// See Wedge for how keys become lines.
//
// Status is never colour alone: every mark has a word and a shape, and no pair
// of colours is red against green. Letters of the next thing to do are drawn
// with half blocks, or with plain characters where the terminal has none.
package term
