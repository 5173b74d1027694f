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
	Clocks   []panel.Clock // that run: sealant that is open
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
		return []string{"STOPPED", "STOP"}
	case len(f.Next) > 0:
		return f.Next
	}
	return []string{"SCAN NEXT", "SCAN"}
}

// ownWords are the panels that say all of what the kiosk's lines say: the first
// line is enough above them.
var ownWords = map[string]bool{"where": true, "audit": true, "steps": true, "missing": true, "list": true, "catch-up": true,
	"buy": true, "orders": true, "turning": true}

// lines are what happened or is so, above the panel.
func (f *Frame) lines() []string {
	lines := f.View.Lines
	if f.Stopped != "" {
		lines = nil
	}
	if ownWords[f.Panel.Name] && len(lines) > 1 {
		lines = lines[:1]
	}
	if f.NotTaken != "" {
		lines = append([]string{"NOT TAKEN: " + f.NotTaken}, lines...)
	}
	return lines
}

// stopPanel is what stands in the place of the panel while nothing can be
// stored.
func stopPanel(why string) panel.Panel {
	g := panel.Group{Rows: []panel.Row{
		{Mark: panel.Stop, Text: why},
		{Mark: panel.Done, Text: "What was confirmed with a sentence and the bell is stored."},
		{Mark: panel.Look, Text: "What was scanned last is not. Say it again once the store can be written."},
		{Mark: panel.Now, Text: "Clear the reason, then scan OK: the store is looked at again."},
	}}
	return panel.Panel{Name: "stopped", Title: "Nothing can be stored", Groups: []panel.Group{g}}
}
