package engine

import (
	"fmt"
	"strings"

	"countback/events"
)

var (
	anyOrder = []string{"o1", "o2", ""}
	anyDay   = []events.Day{"2026-12-01", "2025-01-02", "2026-02-30", "soon", ""}
)

// Facts about the time to come are among those that any history may have.
func init() {
	makers = append(makers,
		func(d draw) events.Event {
			return events.Ordered{Order: pick(d, anyOrder, "o"), Supplier: "north", Lines: append(d.lines(), events.Line{Kind: "kit gasket-set", Qty: d.n("kits")}), Promised: pick(d, anyDay, "day")}
		},
		func(d draw) events.Event {
			return events.Promised{On: pick(d, []string{"order o1", "slip S2AAAAAA", "part head", "hold h1", "x", ""}, "on"), Kind: pick(d, []events.Kind{"", "head-gasket"}, "kind"), Day: pick(d, anyDay, "day")}
		},
		func(d draw) events.Event {
			return events.StepPlanned{Step: pick(d, []events.Step{"head-on", "cover-on", "zz"}, "step"), Day: pick(d, anyDay, "day")}
		},
		func(d draw) events.Event {
			return events.LeadTimeSet{Supplier: pick(d, []string{"north", "south"}, "s"), Kind: pick(d, []events.Kind{"", "head-gasket"}, "kind"), Days: d.n("days")}
		},
		func(d draw) events.Event {
			return events.SealantApplied{Step: pick(d, []events.Step{"cover-on", "zz", ""}, "step"), Joint: pick(d, anyJoint, "j"), Part: pick(d, anyPart, "p")}
		},
		func(d draw) events.Event {
			return events.HardwareSentBack{From: pick(d, anyPlace, "from"), Supplier: "north", Order: pick(d, anyOrder, "o"), Lines: d.lines()}
		},
		func(d draw) events.Event { return events.OrderClosed{Order: pick(d, anyOrder, "o")} },
		func(d draw) events.Event {
			return events.HardwareReceived{From: "outside/supplier/north", To: pick(d, anyPlace, "to"), Order: pick(d, anyOrder, "o"), Lines: append(d.lines(), events.Line{Kind: "kit gasket-set", Qty: 1})}
		},
		func(d draw) events.Event {
			return events.KitOpened{Kit: pick(d, []string{"gasket-set", "other"}, "kit"), Lot: "l1", To: pick(d, anyPlace, "to"), Order: pick(d, anyOrder, "o"), Lines: d.lines()}
		})
}

// aheadPrint writes down what is to come.
func aheadPrint(s *State) string {
	var b strings.Builder
	for _, o := range s.ahead.orders {
		fmt.Fprintf(&b, "\n%v", *o)
	}
	for _, k := range s.ahead.kits {
		fmt.Fprintf(&b, "\n%v", *k)
	}
	for _, bead := range s.ahead.beads {
		fmt.Fprintf(&b, "\n%v", *bead)
	}
	fmt.Fprintf(&b, "\n%v\n%v\n%v\n%v\n%d", s.ahead.promises, s.ahead.planned, s.ahead.leads, s.ahead.held, s.ahead.running)
	return b.String()
}
