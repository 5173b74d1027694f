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
}
