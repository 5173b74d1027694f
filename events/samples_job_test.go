package events

const planText = `plan: {id: sorrel-i4-20, family: Sorrel I4-20, edition: 3, units: {length: mm, torque: N.m}}
parts:
  - {id: block, name: "Cylinder block (aluminium, iron liners)", host: true, root: true}	# on the stand
`

var jobSamples = []sample{
	fact("job-opened", 1, JobOpened{
		Engine: "Sorrel I4-20 out of the green van, 182,000 km", Family: "Sorrel I4-20", Owner: "Ødegård",
		PlanHash: "8340bd8d96d6b86db44b46651654573b765c1582f8cc47d320cc611ae394d4ee", Plan: planText,
	}),
	fact("tags-issued", 2, TagsIssued{Tags: []Tag{
		{Code: "J2KAA4FR", Noun: "joint front-cover"}, {Code: "P2K9CTRA", Noun: "part head"},
		{Code: "N2K77XET", Noun: "loan tensioner-pin"},
	}}),
	fact("range-reserved", 3, RangeReserved{Range: "2K", For: "b2"}, fromOffice),
	fact("tag-voided", 4, TagVoided{Code: "B2KW7RDN", Why: "torn", By: "B3MT5XAJ"}),
	fact("badge-issued", 5, BadgeIssued{Code: "A3M4DWKZ", Badge: "Márit Ås", Initials: "MÅ"}, fromOffice),
	fact("plan-amended", 6, PlanAmended{
		Op: "add", Section: "joints", ID: "harness-clip",
		Text: "id: harness-clip\nholes:\n  - {at: 1, in: head, fastener: M6x1.0x12 8.8 flange}\n",
		Why:  "this one has a clip that the plan does not know",
	}),
	fact("layout-seen", 7, LayoutSeen{Variant: "tensioner-layout", Layout: "plug"}),
	fact("option-seen", 8, OptionSeen{Part: "compressor", Fitted: true}),
	fact("joint-tagged", 9, JointTagged{Joint: "J3MF8ACN", Name: "bracket behind the pump", Host: "block"}),
	fact("missing-on-arrival", 10, MissingOnArrival{
		Joint: "oil-pan", Holes: []Hole{"7", "8"},
		Lines: []Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 2, Expected: 2}}, Whose: "seller",
	}, known(CountedOpen)),
	fact("missing-on-arrival.2", 11, MissingOnArrival{Part: "heat-shield", Whose: "unknown"}),
	fact("damaged-on-arrival", 12, DamagedOnArrival{
		Joint: "exhaust", Hole: "4", What: "stud bent", Whose: "owner",
	}),
	fact("damaged-on-arrival.2", 13, DamagedOnArrival{Part: "cam-cover", What: "cracked at hole 6"}),
	fact("caught-up", 14, CaughtUp{Deepest: "cam-cover", Arrived: true}, known(Presumed)),
	fact("handed-over", 15, HandedOver{
		To: "Ole", Open: []string{"short b2-42/1: 1 M10x1.5x50", "tensioner pin is in"},
		Note: "ask before you turn it",
	}),
	fact("audit-signed", 16, AuditSigned{
		Point: "ready-to-start", Hash: "09ca7e4eaa6e8ae9c7d261167129184883644d07dfba7cbfbc4c8a2e08360d5b",
		Second: "Ole", Red: []string{"short b2-42/1: 1 M10x1.5x50 is not found"},
	}),
	fact("job-ended", 17, JobEnded{How: HandedBack, Why: "owner takes it as it is"}),
	fact("job-resumed", 18, JobResumed{Why: "owner brought it back"}),
}
