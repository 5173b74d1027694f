package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
)

// changes says what a correction would change.
func (t *turn) changes(c events.Corrected) []string {
	_ = c
	return nil
}

// audit lists the red lines of an audit point.
func (t *turn) audit(said *scan.Said) {
	_ = said
}
