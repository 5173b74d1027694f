package events

var lossSamples = []sample{
	fact("loss-reported", 90, LossReported{
		From: "bench/b2/front-cover", Lines: []Line{{Kind: "M10x1.5x50 8.8 flange", Qty: 1}}, Cavity: "timing-case",
	}),
	fact("short-ended", 91, ShortEnded{
		Short: ShortID{Terminal: "b2", N: 30, K: 1}, How: Found, Qty: 1, To: "bag/B2KCZ6EE",
	}),
	fact("short-ended.2", 92, ShortEnded{
		Short: ShortID{Terminal: "b2", N: 54, K: 2}, How: Paired, With: ShortID{Terminal: "b1", N: 803, K: 1}, Why: "swapped",
	}),
	fact("short-ended.3", 93, ShortEnded{Short: ShortID{Terminal: "b2", N: 54, K: 3}, How: Borrowed, Job: "4K9"}),
	fact("short-ended.4", 94, ShortEnded{
		Short: ShortID{Terminal: "b2", N: 54, K: 4}, How: WrittenOff, Second: "Ole", Why: "every cavity is clear",
	}),
	fact("short-ended.5", 291, ShortEnded{Short: ShortID{Terminal: "b2", N: 54, K: 1}, How: StillIn, Holes: []Hole{"7", "15"}}),
	fact("disagreement-settled", 95, DisagreementSettled{
		Facts: []FactID{{Terminal: "b1", N: 803}, {Terminal: "b2", N: 55}}, Falls: FactID{Terminal: "b2", N: 55},
		Counts: []PlaceCount{
			{Place: "bag/B2KP34V5"},
			{Place: "fitted/block/front-cover", Lines: []Line{{Kind: "M12x1.25x65 8.8 flange", Qty: 4}}},
		},
		Why: "counted the wrong bag",
	}, known(CountedBlind)),
	fact("hardware-lent", 96, HardwareLent{
		Ref: "b2-96", To: "4K9", From: "bag/B2KCZ6EE", Lines: []Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 1}},
	}),
	fact("hardware-borrowed", 97, HardwareBorrowed{
		Ref: "b2-96", From: "4K7", To: "bench/b2/front-cover", Lines: []Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 1}},
	}, func(r *Record) { r.Job = "4K9" }),
	fact("loan-in", 98, LoanIn{Loan: "stand-bolt", Count: 4, Where: "bellhousing:1", Lot: "stand 2"}),
	fact("loan-out", 99, LoanOut{Loan: "stand-bolt", Count: 4}),
	fact("cavity-opened", 100, CavityOpened{Cavity: "timing-case"}),
	fact("cavity-looked", 101, CavityLooked{
		Cavity: "sump", Found: []Line{{Kind: "M10x1.5x50 8.8 flange", Qty: 1}},
	}),
	fact("cavity-closed", 102, CavityClosed{Cavity: "timing-case"}),
	fact("fluid-changed", 103, FluidChanged{Cavity: "sump", State: Filled, What: "running-in oil", Litres: 4.2}),
}

var stateSamples = []sample{
	fact("mark-made", 110, MarkMade{Mark: "two-turns"}),
	fact("act-done", 111, ActDone{Act: Turning}),
	fact("second-checked", 112, SecondChecked{
		Step: "cover-on", Second: "Ole", Lines: []Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 8}}, Agreed: true,
	}, known(CountedBlind)),
	fact("second-checked.2", 113, SecondChecked{Step: "bedplate-on", Second: "Marit", Total: 20, Alone: true}, known(CountedBlind)),
	fact("second-checked.3", 310, SecondChecked{Step: "bedplate-on", Second: "Marit", Total: 20, Agreed: true, First: true}, known(CountedBlind)),
	fact("second-checked.4", 311, SecondChecked{Step: "bedplate-on", Second: "Ole", Total: 20, Early: true}, known(CountedBlind)),
	fact("sent-out", 114, SentOut{
		Slip: "S2KV6TNU", Parts: []Part{"head", "cam-intake"}, Shop: "Bakke Heads", Scope: "pressure test, skim 0.1 mm",
		Stays: []Line{{Kind: "locks", Qty: 32}},
	}),
	fact("returned", 115, Returned{
		Slip: "S2KV6TNU", Parts: []Part{"head"}, Lines: []Line{{Kind: "M14x1.5 plug", Qty: 0, Expected: 1}}, To: "shelf/3",
	}, known(CountedOpen)),
	fact("exchanged", 116, Exchanged{Part: "head", Old: "head 1", New: "head 2", Why: "cracked between the seats"}),
	fact("hold-set", 117, HoldSet{Hold: "h1", On: "step cover-on", Why: "seal is on order"}),
	fact("hold-released", 118, HoldReleased{Hold: "h1", Why: "seal is here"}),
	fact("overridden", 119, Overridden{
		Ask: "step cover-on", Second: "Ole", Why: "bracket comes off again tomorrow",
		Unmet: []string{"tensioner-pin is in", "mark two-turns is not made"},
	}),
	fact("measured", 120, Measured{
		Measurement: "main-clearance", At: "3", Value: 0.031, Unit: "mm", Gauge: "bore gauge 1",
	}),
	fact("finding-raised", 121, FindingRaised{Finding: "f1", On: "part head", What: "crack between seats of cylinder 3"}),
	fact("finding-decided", 122, FindingDecided{Finding: "f1", Decision: "replace", Why: "a used one costs less"}),
	fact("corrected", 123, Corrected{
		Wrong: FactID{Terminal: "b2", N: 54}, Why: "counted another bag",
		Instead: Counted{Place: "bag/B3MT5XAJ", Lines: []Line{{Kind: "M8x1.25x45 8.8 flange", Qty: 2}}, All: true},
	}),
	fact("corrected.2", 124, Corrected{Wrong: FactID{Terminal: "b1", N: 803}, Why: "it did not happen"}),
	fact("corrected.3", 125, Corrected{
		Wrong: FactID{Terminal: "b2", N: 123}, Why: "it was three",
		Instead: Corrected{
			Wrong: FactID{Terminal: "b2", N: 54}, Why: "counted another bag",
			Instead: Counted{Place: "bag/B3MT5XAJ", Lines: []Line{{Kind: "M8x1.25x45 8.8 flange", Qty: 3}}, All: true},
		},
	}),
}
