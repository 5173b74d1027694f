package events

var jointSamples = []sample{
	fact("pieces-out", 30, PiecesOut{
		Joint: "front-cover", To: "bag/B2KCZ6EE", All: true, Left: []Hole{"2", "4", "8", "11"},
		Lines: []Line{
			{Kind: "M6x1.0x25 8.8 flange", Qty: 1, Expected: 1}, {Kind: "M8x1.25x30 8.8 flange", Qty: 8, Expected: 8},
			{Kind: "M8x1.25x45 8.8 flange", Qty: 4, Expected: 4}, {Kind: "M10x1.5x50 8.8 flange", Qty: 4, Expected: 5},
		},
	}, known(CountedBlind)),
	fact("pieces-out.2", 31, PiecesOut{
		Joint: "cam-caps", Holes: []Hole{"I1a", "I1b"}, To: "rack/R2KHQ7NU/1",
		Lines: []Line{{Kind: "M6x1.0x40 8.8 flange", Qty: 2, Cond: Used, Lot: "kit 3", Origin: "cam-caps:I1a"}},
	}, known(CountedOpen)),
	fact("pieces-parked", 32, PiecesParked{Joint: "drain", Holes: []Hole{"1"}, From: "bench/b2/drain"}),
	fact("pieces-fitted", 33, PiecesFitted{
		Joint: "front-cover", Holes: []Hole{"18", "19", "20", "22"}, From: "bag/B2KCZ6EE",
		Lines: []Line{{Kind: "M8x1.25x45 8.8 flange", Qty: 4}}, All: true, Trial: true,
	}, known(CountedOpen)),
	fact("pieces-loosened", 34, PiecesLoosened{Joint: "cam-caps", Holes: []Hole{"F1", "F2", "F3"}}),
	fact("stage-recorded", 35, StageRecorded{
		Joint: "head", Holes: []Hole{"1", "2", "3", "4", "5", "6", "7", "8", "9", "10"},
		Order: "head", Stage: 3, Stages: 4, What: "angle 90 deg", Tool: "angle gauge 2",
	}),
	fact("fastener-broken", 36, FastenerBroken{
		Case: "C2KR4MBN", Joint: "exhaust", Hole: "9", Stub: Below, StubMm: -1.5, When: "removal", OtherEnd: "not-found",
	}),
	fact("other-end-told", 37, OtherEndTold{Case: "C2KR4MBN", InHand: true, Where: "bench/b2"}),
	fact("hot-work-confirmed", 38, HotWorkConfirmed{
		Case: "C2KR4MBN", Cautions: []string{"fuel rail is off", "extinguisher is at hand", "head is off and clean"},
	}),
	fact("extraction-tried", 39, ExtractionTried{
		Case: "C2KR4MBN", Method: "left-hand drill", Minutes: 25, Moved: true, ToolBroken: true,
	}),
	fact("stud-extracted", 40, StudExtracted{
		Case: "C2KR4MBN", Hole: HoleInsert, DepthMm: 22, Takes: "M8x1.25x45 stud", Sealed: true,
	}),
	fact("hole-changed", 41, HoleChanged{
		Joint: "oil-pan", Hole: "3", State: HoleOversize, DepthMm: 14.5, Takes: "M7x1.0x20 8.8 flange",
	}),
}
