package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// rackPart is the part that was put into a rack last.
func rackPart(job *engine.Job, rack events.Place) events.Part {
	facts := job.Facts()
	for i := len(facts) - 1; i >= 0; i-- {
		switch e := facts[i].Event.(type) {
		case events.PartRemoved:
			if e.To == rack {
				return e.Part
			}
		case events.PartPlaced:
			if strings.HasPrefix(string(e.Rack), string(rack)+"/") {
				return e.Part
			}
		case events.RackRead:
			if e.Rack == rack && e.Part != "" {
				return e.Part
			}
		}
	}
	return ""
}

// BagOf says what a bag is for: by its label, or else by what went into it
// last when something came off the engine.
func BagOf(job *engine.Job, c events.Code) (joint events.Joint, part events.Part) {
	b, ok := job.State().Bag(c)
	if !ok {
		return "", ""
	}
	if b.Joint != "" || b.Part != "" {
		return b.Joint, b.Part
	}
	place := b.Place()
	facts := job.Facts()
	for i := len(facts) - 1; i >= 0; i-- {
		switch e := facts[i].Event.(type) {
		case events.PiecesOut:
			if e.To == place {
				return e.Joint, ""
			}
		case events.PartRemoved:
			if e.To == place {
				return "", e.Part
			}
		}
	}
	return "", ""
}
