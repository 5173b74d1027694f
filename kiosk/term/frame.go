package term

import (
	"time"

	"countback/kiosk"
	"countback/kiosk/panel"
)

// Frame is all that a screen shows, as plain values.
type Frame struct {
	View     kiosk.View
	Next     []string // the next thing to do, for the largest letters
	Panel    panel.Panel
	Turned   int // how often MORE was scanned since the panel came up
	Log      []panel.Line
	Training bool
	Clock    int64  // microseconds since 1970
	Kept     int    // facts on this terminal's own disk that still have to be sent
	Falls    int    // seconds until a count that is not gone on with is dropped; 0: not soon
	Fresh    bool   // something was stored a moment ago: UNDO is offered
	Stopped  string // why nothing can be stored; empty: it can
	NotTaken string // the last scan that was not taken while stopped or unclear
	Notices  []string
}

// clockText is the time in the bar, in UTC as all times of facts.
func clockText(at int64) string { return time.UnixMicro(at).UTC().Format("2 Jan 15:04") }

// headline is the next thing to do: what the sentence or question on the
// screen waits for, and where it waits for nothing in particular, a scan.
func (f *Frame) headline() []string {
	switch {
	case f.Stopped != "":
		return []string{"STOP: OK?", "STOP"}
	case len(f.Next) > 0:
		return f.Next
	}
	return []string{"SCAN NEXT", "SCAN"}
}
