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
}
