package events

var measureSamples = []sample{
	fact("measured.2", 400, Measured{Measurement: "main-journal", At: "2", Value: 51.98, Unit: "mm", Gauge: "mic 50-75",
		Text: "51.980", Sure: true, Celsius: 21}),
	fact("measured.3", 401, Measured{Measurement: "bore", At: "1", Value: 86.01, Unit: "mm", Text: "86.010", Points: []PointRead{
		{Point: "A1", Value: 86.01, Text: "86.010"}, {Point: "B1", Value: 3.3863, Text: "3.3863", Unit: "in", Sure: true}}}),
	fact("finding-decided.2", 402, FindingDecided{Finding: "f1", Decision: "send-out", Why: "weld it", Shop: "Bakke Heads", Cost: 180,
		Lines: []Line{{Kind: "head-gasket", Qty: 1}}}),
	fact("owner-answered", 405, OwnerAnswered{Finding: "f1", Yes: true, Why: "on the telephone"}),
	fact("finding-done", 406, FindingDone{Finding: "f1", Why: "lapped and leak tested"}),
	fact("engine-started", 407, EngineStarted{Note: "on the stand"}),
	fact("run-read", 408, RunRead{Reading: "oil-pressure", Value: 3.4, Text: "3.40", Unit: "bar", RPM: 2000, After: 8, Gauge: "gauge 2", Sure: true}),
	fact("output-read", 409, OutputRead{RPM: 5700, Power: 434, Torque: 400, Units: "hp lbf.ft", Sure: true}),
	fact("engine-stopped", 410, EngineStopped{Warm: true, Why: "twenty minutes are over"}),
	fact("engine-cooled", 411, EngineCooled{}),
	fact("distance-read", 412, DistanceRead{Km: 812.5}),
	fact("obligation-met", 413, ObligationMet{Obligation: "cold-torque", Why: "head bolts, all held"}),
	fact("handed-over.2", 403, HandedOver{To: "Ole", Open: []string{"tensioner pin is in"}, Left: []string{"short 1: 1 M10x1.5x50"}}),
	fact("fasteners-measured", 404, FastenersMeasured{Measurement: "head-bolt-thinning", Place: "bag/B2KCZ6EE", Kind: "M10x1.5x150",
		Reads: []PointRead{{Value: 0.02, Text: "0.02"}, {Value: 0.17, Text: "0.17", Sure: true}}, Unit: "mm", Gauge: "caliper 3"}),
}
