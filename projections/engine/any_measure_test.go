package engine

import "countback/events"

// Facts about readings and findings, for histories in any order.
func init() {
	ids := []string{"f1", "f2", "zz"}
	makers = append(makers,
		func(d draw) events.Event {
			return events.Measured{Measurement: pick(d, []string{"main-journal", "bore", "clearance-intake", "zz"}, "m"), At: pick(d, anyPos, "at"),
				Value: float64(d.n("v")) * 5.2, Unit: pick(d, []string{"mm", "in", "zz"}, "unit"), Sure: d.yes("sure")}
		},
		func(d draw) events.Event {
			return events.FindingRaised{Finding: pick(d, ids, "f"), On: pick(d, []string{"part head", "measurement main-journal:2", "hole oil-pan:3", "zz"}, "on"), What: "worn"}
		},
		func(d draw) events.Event {
			return events.FindingDecided{Finding: pick(d, ids, "f"), Decision: pick(d, []string{"use", "repair", "replace", "send-out", "ask-owner", "zz"}, "d"), Lines: d.lines(), Cost: d.n("cost")}
		},
		func(d draw) events.Event {
			return events.OwnerAnswered{Finding: pick(d, ids, "f"), Yes: d.yes("yes")}
		},
		func(d draw) events.Event { return events.FindingDone{Finding: pick(d, ids, "f")} },
	)
}
