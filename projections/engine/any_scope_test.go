package engine

import "countback/events"

var anyGoal = []string{"part head", "part cam-intake", "step cover-off", "hole oil-pan:3", "joint coils", "part ghost", "mark zz", ""}

// Decisions, slips and what is looked over are among the facts that any history
// may have.
func init() {
	makers = append(makers,
		func(d draw) events.Event {
			return events.ScopeDecided{Goals: []string{pick(d, anyGoal, "goal")}, Steps: []events.Step{"cover-off"}, After: []events.Step{"zz"}, Beside: []string{pick(d, anyGoal, "beside")}, Why: "x"}
		},
		func(d draw) events.Event {
			return events.SentOut{Slip: pick(d, []events.Code{"S2AAAAAA", "S2BBBBBB"}, "slip"), Parts: []events.Part{pick(d, anyPart, "p"), pick(d, anyPart, "p")}}
		},
		func(d draw) events.Event {
			return events.Returned{Slip: pick(d, []events.Code{"S2AAAAAA", "S2BBBBBB"}, "slip"), Parts: []events.Part{pick(d, anyPart, "p")}}
		},
		func(d draw) events.Event {
			return events.WorkAsked{Slip: pick(d, []events.Code{"S2AAAAAA", "zz"}, "slip"), Work: "skim"}
		},
		func(d draw) events.Event {
			return events.CoreAgreed{Part: pick(d, anyPart, "p"), Supplier: pick(d, []string{"", "fjord"}, "s"), Deposit: 12050, Due: pick(d, []events.Day{"2025-06-02", "soon", ""}, "day"),
				With: []events.Part{pick(d, anyPart, "with")}, Whole: d.yes("whole")}
		},
		func(d draw) events.Event { return events.CoreSent{Part: pick(d, anyPart, "p")} },
		func(d draw) events.Event { return events.CoreCredited{Part: pick(d, anyPart, "p"), Credit: 12000} },
		func(d draw) events.Event {
			return events.OwnerBrought{To: pick(d, anyPlace, "place"), Lines: d.lines(), Sealed: events.SealOpen}
		},
		func(d draw) events.Event {
			return events.OwnerAsked{Part: pick(d, anyPart, "p"), Wish: pick(d, []events.OwnerWish{"", events.WishShown, events.WishBack, "zz"}, "wish")}
		},
		func(d draw) events.Event { return events.OwnerShown{Part: pick(d, anyPart, "p")} },
		func(d draw) events.Event {
			return events.OwnerGiven{Part: pick(d, anyPart, "p"), From: pick(d, anyPlace, "place"), Lines: d.lines()}
		},
		func(d draw) events.Event { return events.LookedOver{Parts: []events.Part{pick(d, anyPart, "p")}} },
	)
}
