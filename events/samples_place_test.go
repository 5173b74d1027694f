package events

var placeSamples = []sample{
	fact("bag-labelled", 50, BagLabelled{Bag: "B2KCZ6EE", Joint: "front-cover"}),
	fact("bag-labelled.2", 51, BagLabelled{Bag: "B2KW7RDN", Part: "locks"}),
	fact("bag-opened", 52, BagOpened{Bag: "B2KCZ6EE"}),
	fact("bag-closed", 53, BagClosed{
		Bag: "B2KP34V5", Lines: []Line{{Kind: "M12x1.25x65 8.8 flange", Qty: 4}},
	}, known(CountedBlind)),
	fact("counted", 54, Counted{
		Place: "bag/B2KCZ6EE", All: true,
		Lines: []Line{
			{Kind: "M6x1.0x25 8.8 flange", Qty: 1}, {Kind: "M8x1.25x30 8.8 flange", Qty: 8},
			{Kind: "M8x1.25x45 8.8 flange", Qty: 4}, {Kind: "M10x1.5x50 8.8 flange", Qty: 5},
		},
	}, known(CountedBlind), by("Ole")),
	fact("counted.2", 55, Counted{Place: "bag/B2KP34V5", All: true}, by("")), // it is empty, and nobody had a badge on
	fact("bags-merged", 56, BagsMerged{From: "B2KW7RDN", Into: "B3MT5XAJ"}),
	fact("bag-split", 57, BagSplit{
		From: "B2KCZ6EE", Into: "B3MT5XAJ", Lines: []Line{{Kind: "M8x1.25x45 8.8 flange", Qty: 2}},
	}),
	fact("bag-retired", 58, BagRetired{Bag: "B2KP34V5", Why: "all four are in the bracket"}),
	fact("label-reprinted", 66, LabelReprinted{Code: "B2KCZ6EE", Why: "torn"}),
	fact("pieces-moved", 59, PiecesMoved{
		From: "bench/b2/exhaust", To: "bag/B3MT5XAJ",
		Lines: []Line{{Kind: `R1/8" plug`, Qty: 1, Cond: MeasuredGood}},
	}, known(Reconstructed), happened(180, 45)),
	fact("pieces-scrapped", 60, PiecesScrapped{
		From: "bag/B3MT5XAJ", Lines: []Line{{Kind: "M8x1.25 copper nut", Qty: 9, Cond: Condemned}}, Why: "single use",
	}),
	fact("pieces-kept", 61, PiecesKept{
		From: "bag/B3MT5XAJ", Lines: []Line{{Kind: "M12x1.25x45 10.9 12pt hollow", Qty: 1, Cond: Sample}},
	}),
	fact("condition-changed", 62, ConditionChanged{
		Place: "bag/B3MT5XAJ", Lines: []Line{{Kind: "M10x1.5x150 10.9 12pt", Qty: 2}}, Cond: Condemned,
		Why: "0.18 mm thinner under the head",
	}, known(CountedOpen)),
	fact("bench-swept", 63, BenchSwept{Bench: "b2", Joint: "front-cover"}),
	fact("hardware-received", 64, HardwareReceived{
		From: "outside/supplier/Fjord Fasteners", To: "stock/kit 7", Lot: "7-2218",
		Lines: []Line{{Kind: "M10x1.5x150 10.9 12pt", Qty: 10, Cond: New, Lot: "7-2218"}},
	}, known(CountedBlind)),
	fact("hardware-received.2", 66, HardwareReceived{
		From: "outside/owner", To: "bag/B2KCZ6EE", AsFound: true, Lines: []Line{{Kind: "M8x1.25x45 8.8 flange", Qty: 2}},
	}, known(CountedOpen)),
	fact("kit-opened", 65, KitOpened{
		Kit: "head set", Lot: "HS-0417", To: "stock/head set",
		Lines: []Line{{Kind: "head-gasket", Qty: 1, Cond: New}, {Kind: "stem-seals-intake", Qty: 8, Cond: New}},
	}, known(CountedOpen)),
}

var partSamples = []sample{
	fact("part-removed", 70, PartRemoved{
		Part: "locks", Positions: []Hole{"1Ia", "1Ib"}, To: "rack/R2KHQ7NU", Counted: 4,
	}, known(CountedOpen)),
	fact("part-removed.2", 71, PartRemoved{Part: "friction-washer", NoneCame: true}, known(CountedOpen)),
	fact("part-placed", 72, PartPlaced{Part: "buckets", Position: "2Ia", Rack: "rack/R2KHQ7NU/3"}),
	fact("rack-read", 73, RackRead{Rack: "rack/R2KHQ7NU", Empty: []Hole{"4Ea", "4Eb"}, Part: "buckets"}, known(CountedBlind)),
	fact("rack-read.2", 74, RackRead{Rack: "rack/R7QW3MNX", Joint: "cam-caps"}, known(CountedBlind)),
	fact("order-lost", 75, OrderLost{Rack: "rack/R2KHQ7NU", Part: "buckets"}),
	fact("reassigned", 76, Reassigned{Part: "buckets", From: "2Ia", To: "3Eb", Why: "0.34 mm clearance"}),
	fact("part-fitted", 77, PartFitted{
		Part: "cam-caps-intake", Positions: []Hole{"I1", "I2"}, From: "rack/R2KHQ7NU", Counted: 2, WayRound: true,
	}, known(Claimed)),
}
