package kiosk

import (
	"slices"

	"countback/events"
	"countback/projections/fastener/stage"
)

// pressedShort is what is left to do about a depth that was told: read it again,
// press it further.
func (t *Telling) pressedShort() []string {
	e, ok := t.Record.Event.(events.PartPressed)
	if !ok {
		return nil
	}
	v, _ := t.Job.Pressed(e.Part)
	var lines []string
	for _, row := range v.Rows {
		for i, c := range row.Cells {
			if row.Number == e.Stage && c.State == stage.Part && slices.Contains(e.Positions, v.Spots[i].Hole) {
				lines = append(lines, capital(c.Why))
			}
		}
	}
	return lines
}
