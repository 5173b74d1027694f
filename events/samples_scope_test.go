package events

import "slices"

var scopeSamples = slices.Concat(decidedSamples, slipSamples, coreSamples)

var decidedSamples = []sample{
	fact("scope-decided", 140, ScopeDecided{
		Goals: []string{"part cam-intake", "part cam-exhaust"}, Steps: []Step{"coils-off", "cam-cover-off", "cams-off"}, After: []Step{"cover-on"},
		Against: []string{"now: 9 steps, 8 single-use pieces", "by the front cover: 18 steps, 31 single-use pieces"},
		Verdict: "proved least", Why: "lobe 3 is scored",
	}),
	fact("scope-decided.2", 141, ScopeDecided{Goals: []string{"part head"}, Why: "the owner takes the risk"}),
	fact("scope-decided.3", 142, ScopeDecided{Goals: []string{"part head"}, Steps: []Step{"coils-off", "head-off"},
		Against: []string{"Cam intake, now: 10 steps there, 12 back, 8 single-use pieces"}, Beside: []string{"part cam-intake"}, Verdict: "proved least", Why: "the valves are to be seen"}),
}
