package events

var slipSamples = []sample{
	fact("work-asked", 142, WorkAsked{Slip: "S2KV6TNU", Work: "pressure test, skim", Limits: "no more than 0.2 mm off; not the cam bore"}),
	fact("looked-over", 143, LookedOver{Parts: []Part{"head", "cam-intake"}, Note: "face clean, threads by thumb"}),
}
