package kiosk

import (
	"countback/events"
	"countback/projections/plan"
)

func finished(s plan.SeatState) bool { return s == plan.SeatFinished }

// parts tells what happened to parts and racks.
func (t *Telling) parts(ev events.Event) string {
	switch e := ev.(type) {
	case events.PartRemoved:
		text := t.positions(e.Part, e.Positions) + " off"
		switch {
		case e.NoneCame:
			text = t.positions(e.Part, e.Positions) + ": none came"
		case e.Counted > 0:
			text += ", " + itoa(e.Counted) + " counted" + t.partBook(e)
		}
		if e.To != "" {
			text += ", in " + t.place(e.To)
		}
		return text
	case events.PartPlaced:
		return t.part(e.Part) + " " + string(e.Position) + " in " + t.place(e.Rack)
	case events.RackRead:
		if len(e.Empty) == 0 {
			return capital(t.place(e.Rack)) + " is full"
		}
		return capital(t.place(e.Rack)) + ": empty " + t.holeList(e.Empty) + ", all others full"
	case events.OrderLost:
		return capital(t.place(e.Rack)) + " was tipped: its pieces are there, and which is which is not known any more. Measure each, or replace the set"
	case events.Reassigned:
		return t.part(e.Part) + ": the piece of " + string(e.From) + " belongs in " + string(e.To) + " from now on, " + e.Why
	case events.PartFitted:
		text := t.positions(e.Part, e.Positions) + " on"
		if e.Counted > 0 {
			text += ", " + itoa(e.Counted) + " counted"
		}
		if e.From != "" {
			text += ", from " + t.place(e.From)
		}
		if e.WayRound {
			if p, ok := t.p.Part(e.Part); ok {
				text += ", " + t.p.Parts[p].WayRound
			}
		}
		return text
	case events.CaughtUp:
		how := "was the deepest part off"
		if e.Arrived {
			how = "was the deepest part off when the engine came"
		}
		return t.part(e.Deepest) + " " + how + ": what comes before it is presumed"
	case events.MissingOnArrival:
		if e.Part != "" {
			return t.part(e.Part) + " was not there when the engine came" + whoseText(e.Whose)
		}
		return t.holes(e.Joint, e.Holes) + ": not there when the engine came" + whoseText(e.Whose)
	case events.DamagedOnArrival:
		what := t.part(e.Part)
		if e.Joint != "" && e.Hole != "" {
			what = t.holes(e.Joint, []events.Hole{e.Hole})
		} else if e.Joint != "" {
			what = t.joint(e.Joint)
		}
		return what + " came damaged: " + e.What + whoseText(e.Whose)
	case events.OptionSeen:
		if e.Fitted {
			return "This engine has " + lower(t.part(e.Part))
		}
		return "This engine has no " + lower(t.part(e.Part))
	case events.LayoutSeen:
		return "This engine has the " + e.Layout + " layout of " + e.Variant
	}
	return ""
}

func whoseText(who string) string {
	if who == "" {
		return ""
	}
	return ", " + map[string]string{"owner": "the owner's", "seller": "the seller's", "unknown": "not known whose"}[who]
}

func (t *Telling) positions(id events.Part, list []events.Hole) string {
	if len(list) == 0 {
		return t.part(id)
	}
	return t.part(id) + " " + t.holeList(list)
}

func (t *Telling) partBook(e events.PartRemoved) string {
	n := e.Counted
	for _, en := range t.Opened {
		n -= int(en.Qty) * int(en.Sign)
	}
	if n == e.Counted {
		return ""
	}
	return ", book says " + itoa(n)
}
