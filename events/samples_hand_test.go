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
}
