package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"countback/events"
	"countback/kiosk"
)

// turn is what one scan did: what the screen shows after it, and what was
// stored. Its JSON form is one line of "countback scan --json".
type turn struct {
	Line    string   `json:"line"`   // as it was scanned
	Sounds  []string `json:"sounds"` // heard, stored, "stored, look", refused, misread, chime
	Sign    string   `json:"sign"`   // OK, LOOK, STOP, WAIT, OTHER JOB, or nothing
	Refused bool     `json:"refused"`
	Stored  []string `json:"stored"` // ids of the facts that are on disk now
	Kinds   []string `json:"kinds"`  // their stored names
	Text    []string `json:"text"`   // what happened, in words
	List    []string `json:"list"`   // the answer to a question, one page of it
	Ask     string   `json:"ask"`    // what is expected next
	Bar     string   `json:"bar"`    // bench, person, job
}

// newTurn collects what a terminal has to say after a scan.
func newTurn(line string, v kiosk.View, sounds []kiosk.Sound, told []events.Record) turn {
	t := turn{Line: line, Sign: v.Sign.String(), Sounds: []string{}, Stored: []string{}, Kinds: []string{},
		Text: append([]string{}, v.Lines...), List: append([]string{}, v.List...), Ask: v.Ask, Bar: v.Bar}
	for _, s := range sounds {
		t.Sounds = append(t.Sounds, s.String())
		t.Refused = t.Refused || s == kiosk.Refusing || s == kiosk.Misreading
	}
	t.Refused = t.Refused || v.Dropped
	for i := range told {
		t.Stored = append(t.Stored, factID(told[i].ID()))
		t.Kinds = append(t.Kinds, events.NameOf(told[i].Event))
	}
	return t
}

// matters reports whether there is more to show than that a noun or a number
// was heard.
func (t turn) matters() bool {
	return len(t.Stored) > 0 || t.Refused || len(t.List) > 0 || t.Sign != "" ||
		slices.Contains(t.Sounds, kiosk.Chime.String()) || slices.Contains(t.Sounds, kiosk.Alert.String())
}

// write shows a turn: the sign, the sentence, then the list, then what is
// expected next.
func (t turn) write(w io.Writer) error {
	var b strings.Builder
	sign := t.Sign
	for _, l := range t.lines() {
		fmt.Fprintf(&b, "%-10s %s\n", sign, l)
		sign = ""
	}
	if t.Ask != "" {
		fmt.Fprintf(&b, "%-10s > %s\n", sign, t.Ask)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// lines is the text and then the list. What the list says with its way out is
// not said before it without one.
func (t turn) lines() []string {
	var lines []string
	for i, l := range t.Text {
		told := func(row string) bool { return strings.HasPrefix(row, l) }
		if i == 0 || !slices.ContainsFunc(t.List, told) {
			lines = append(lines, l)
		}
	}
	return append(lines, t.List...)
}

func (t turn) writeJSON(w io.Writer) error { return json.NewEncoder(w).Encode(t) }
