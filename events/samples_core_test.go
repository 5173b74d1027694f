package events

var coreSamples = []sample{
	fact("core-agreed", 144, CoreAgreed{Part: "alternator", Supplier: "Fjord", Deposit: 12050, Currency: "EUR", Due: "2026-12-14", With: []Part{"alternator-pulley"}, Whole: true}),
	fact("core-sent", 145, CoreSent{Part: "alternator", Note: "fetched by their driver"}),
	fact("core-credited", 146, CoreCredited{Part: "alternator", Credit: 9550, Currency: "EUR", Off: []Deduction{{2000, "no pulley"}, {500, "dirty"}}}),
	fact("owner-brought", 147, OwnerBrought{To: "place/shelf", Lines: []Line{{Kind: "water-pump", Qty: 1}}, Sealed: SealOpen}),
	fact("owner-asked", 148, OwnerAsked{Part: "water-pump", Wish: WishShown}),
	fact("owner-shown", 149, OwnerShown{Part: "water-pump", Note: "agreed that it was worn"}),
	fact("owner-given", 150, OwnerGiven{Part: "water-pump", From: "place/shelf", Lines: []Line{{Kind: "water-pump", Qty: 1}}}),
}
