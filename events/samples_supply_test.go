package events

var supplySamples = []sample{
	fact("ordered", 200, Ordered{
		Order: "o200-b2", Supplier: "Fjord Fasteners", Promised: "2025-12-08",
		Lines: []Line{{Kind: "M10x1.5x150 10.9 12pt", Qty: 10}, {Kind: "kit gasket-set", Qty: 1}},
	}),
	fact("promised", 201, Promised{On: "order o200-b2", Kind: "M10x1.5x150 10.9 12pt", Day: "2025-12-11", By: "Fjord Fasteners"}),
	fact("promised.2", 202, Promised{On: "slip S2KHQ7NU"}), // taken back: nobody knows when
	fact("step-planned", 203, StepPlanned{Step: "head-on", Day: "2025-12-15"}),
	fact("lead-time-set", 204, LeadTimeSet{Supplier: "Fjord Fasteners", Kind: "head-gasket", Days: 6}),
	fact("sealant-applied", 205, SealantApplied{Step: "cover-on", Lot: "RTV 2231"}),
	fact("sealant-applied.2", 206, SealantApplied{Joint: "oil-pan"}),
	fact("sealant-applied.3", 207, SealantApplied{Part: "oil-pan"}),
	fact("hardware-sent-back", 208, HardwareSentBack{
		From: "stock/kit 7", Supplier: "Fjord Fasteners", Order: "o200-b2",
		Lines: []Line{{Kind: "M10x1.5x150 10.9 12pt", Qty: 2, Cond: New}}, Why: "nicked threads",
	}, known(CountedOpen)),
	fact("order-closed", 209, OrderClosed{Order: "o200-b2", Why: "the rest is out of make"}),
	fact("hardware-received.3", 210, HardwareReceived{
		From: "outside/supplier/Fjord Fasteners", To: "stock/kit 7", Order: "o200-b2",
		Lines: []Line{{Kind: "M10x1.5x150 10.9 12pt", Qty: 8}},
	}, known(CountedOpen)),
	fact("kit-opened.2", 211, KitOpened{
		Kit: "head set", Lot: "HS-0418", To: "stock/head set", Order: "o200-b2",
		Lines: []Line{{Kind: "head-gasket", Qty: 1, Cond: New}},
	}, known(CountedOpen)),
	fact("hardware-received.4", 290, HardwareReceived{
		From: "outside/supplier/Fjord Fasteners", To: "stock/kit 7", Order: "o200-b2",
		Lines: []Line{{Kind: "M10x1.5x150 10.9 12pt", Qty: 8}}, Short: []Line{{Kind: "M10x1.5x150 10.9 12pt", Qty: 2}},
	}, known(CountedOpen)),
}
