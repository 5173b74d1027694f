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
			if row.Number == e.Stage && c.State == stage.Over && slices.Contains(e.Positions, v.Spots[i].Hole) && !t.nowRed() {
				lines = append(lines, "Still "+c.Why+": scan part "+string(e.Part)+", OFF; or, if that was misread, CORRECT and its number takes it back")
			}
		}
	}
	return lines
}

// nowRed: the fact made a line red, which is told with it.
func (t *Telling) nowRed() bool { return t.was == nil || len(t.was.alarms(t.Job)) > 0 }
