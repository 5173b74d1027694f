package engine

import "countback/events"

var anyGoal = []string{"part head", "part cam-intake", "step cover-off", "hole oil-pan:3", "joint coils", "part ghost", "mark zz", ""}

// Decisions, slips and what is looked over are among the facts that any history
// may have.
func init() {
	makers = append(makers,
		func(d draw) events.Event {
			return events.ScopeDecided{Goals: []string{pick(d, anyGoal, "goal")}, Steps: []events.Step{"cover-off"}, After: []events.Step{"zz"}, Why: "x"}
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
		func(d draw) events.Event { return events.LookedOver{Parts: []events.Part{pick(d, anyPart, "p")}} },
	)
}
