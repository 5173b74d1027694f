package events

// Samples of what is sorted, carried about, lent out and kept.
var handSamples = []sample{
	fact("tray-sorted", 901, TraySorted{
		From: "place/dish-2",
		Into: []Sorting{
			{To: "bag/B2KCZ6EE", Lines: []Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 8}, {Kind: "M10x1.5x50 8.8 flange", Qty: 5}}},
			{To: "stock/kit-7", Lines: []Line{{Kind: "M10x1.5x150 10.9", Qty: 10, Cond: New, Lot: "kit-7"}}},
		},
	}),
	fact("tool-issued", 902, ToolIssued{Tool: "wrench-40-200", Code: "T2KCZ6EE", Name: "Large torque wrench", Kind: "wrench", MinNm: 40, MaxNm: 200, Due: "2026-05-01"}, fromOffice),
	fact("tool-taken", 903, ToolTaken{Tool: "wrench-40-200", Step: "head-on"}),
	fact("tool-back", 904, ToolBack{Tool: "wrench-40-200"}),
	fact("carried", 905, Carried{What: "place/tray-7", To: "bench/b2"}),
	fact("carried.2", 906, Carried{What: "bag/B2KCZ6EE", With: "Ole"}),
	fact("tray-issued", 907, TrayIssued{Tray: "place/tray-7", Holds: 60}),
	fact("batch-opened", 908, BatchOpened{Batch: "paint-3", What: "paint", Parts: []Part{"front-cover", "oil-pan"}, Masks: []Line{{Kind: "masking plug", Qty: 14}}}),
	fact("batch-closed", 909, BatchClosed{Batch: "paint-3", Masks: []Line{{Kind: "masking plug", Qty: 13}}, Cure: 1440}, known(CountedBlind)),
	fact("preserved", 910, Preserved{Part: "crankshaft", With: "oil"}),
	fact("preserved.2", 911, Preserved{Place: "place/shelf-3", With: "bag and desiccant"}),
	fact("lot-dated", 912, LotDated{Lot: "blue-5", Expires: "2026-05-01"}),
	fact("tool-issued.2", 990, ToolIssued{Tool: "click-100", Code: "T2KCZ6EE", Name: "Foot-pound wrench", MinNm: 13.558179483314004, MaxNm: 135.58179483314004, Unit: "lbf.ft"}, fromOffice),
}
