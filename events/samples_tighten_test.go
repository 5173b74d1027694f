package events

var tightenSamples = []sample{
	fact("stage-recorded.2", 140, StageRecorded{
		Joint: "rod-1-cap", Holes: []Hole{"2"}, Order: "rod-caps", Stage: 2, Stages: 2, What: "stretch 0.14 to 0.16 mm",
		Tool: "micrometer 1", Value: 0.0059, Unit: "in", Read: true, Edition: "3",
	}),
	fact("stage-restarted", 141, StageRestarted{Joint: "head", Holes: []Hole{"1"}, Order: "head", Stage: 3, Why: "called away"}),
	fact("stage-accepted", 142, StageAccepted{Joint: "head", Holes: []Hole{"9", "10"}, Order: "head", Stage: 4, Why: "scribe marks seen"}, by("Ole")),
	fact("edition-chosen", 143, EditionChosen{
		Order: "head", Choice: 2, Edition: "3", Source: "sheet 11 revised", Signed: "Marit", Why: "the newer one",
	}),
	fact("torque-chosen", 144, TorqueChosen{
		Joint: "mount-bracket", Holes: []Hole{"1", "2"}, Value: 54.5, Unit: "N.m", Method: "T = K d F", Lubricant: "oil",
		Friction: "K 0.15 to 0.20", Source: "mechconcepts.tech, citing Shigley and Machinery's Handbook", Signed: "Marit", Why: "the plan has none",
	}),
	fact("source-confirmed", 145, SourceConfirmed{Source: Battery}),
	fact("source-confirmed.2", 146, SourceConfirmed{Source: Fuel, On: true}, by("Ole")),
	fact("part-pressed", 147, PartPressed{
		Part: "core-plugs", Positions: []Hole{"2"}, Order: "core-plugs", Stage: 1, What: "press-depth 1 to 1.5 mm", Value: 0.045, Unit: "in", Read: true, Tool: "depth gauge 1",
	}),
	fact("depth-accepted", 148, DepthAccepted{Part: "front-seal", Positions: []Hole{"1"}, Stage: 1, Why: "flush with the chamfer"}, by("Ole")),
	fact("pieces-loosened.2", 149, PiecesLoosened{Joint: "head", Holes: []Hole{"5", "6"}, OutOfTurn: true, Warm: true}),
	fact("pieces-out.3", 150, PiecesOut{Joint: "head", Holes: []Hole{"5"}, OutOfTurn: true, Warm: true}),
}
