package panel

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/kiosk"
	"countback/kiosk/scan"
)

func TestFollow(t *testing.T) {
	joint, hole, bag := scan.Noun{Type: scan.Joint, ID: "oil-pan"}, scan.Noun{Type: scan.Hole, ID: "3"}, scan.Noun{Type: scan.Bag, ID: "B1"}
	saw := func(nouns ...scan.Noun) Heard {
		return Heard{Token: scan.Token{Kind: scan.Saw, Noun: nouns[len(nouns)-1]}, After: nouns}
	}
	word := func(w scan.Word, before ...scan.Noun) Heard {
		return Heard{Token: scan.Token{Kind: scan.Said1, Word: w}, Before: before}
	}
	refused := word(scan.Missing, joint)
	refused.View.Sign = kiosk.Stop
	stored := func(e events.Event) Heard {
		return Heard{Stored: []events.Record{{Terminal: "b1", N: 7, Event: e}}}
	}
	just := events.FactID{Terminal: "b1", N: 7}
	oil := Topic{Kind: Joint, ID: "oil-pan"}
	for _, row := range []struct {
		name string
		from Topic
		h    Heard
		want Topic
	}{
		{"a joint", Topic{}, saw(joint), oil},
		{"its hole", oil, saw(joint, hole), Topic{Kind: Joint, ID: "oil-pan", Ask: []events.Hole{"3"}}},
		{"a hole by its whole name", Topic{}, saw(joint, scan.Noun{Type: scan.Hole, ID: "oil-pan:3"}), Topic{Kind: Joint, ID: "oil-pan", Ask: []events.Hole{"3"}}},
		{"a joint, then its bag: counted blind", oil, saw(joint, bag), Topic{Kind: Joint, ID: "oil-pan", Blind: true}},
		{"a bag, then the joint: going in", Topic{}, saw(bag, joint), oil},
		{"a joint, then a part: the part", oil, saw(joint, scan.Noun{Type: scan.Part, ID: "head"}), Topic{Kind: Where, ID: "part head"}},
		{"a joint, then a loan: the loan", oil, saw(joint, scan.Noun{Type: scan.Loan, ID: "rag"}), Topic{Kind: Where, ID: "loan rag"}},
		{"a joint, then a size: the joint stays", oil, saw(joint, scan.Noun{Type: scan.Size, ID: "M6"}), oil},
		{"a part, then a rack: the rack", oil, saw(scan.Noun{Type: scan.Part, ID: "buckets"}, scan.Noun{Type: scan.Rack, ID: "R1"}), Topic{Kind: Rack, ID: "R1"}},
		{"a rack, then a part: the part", oil, saw(scan.Noun{Type: scan.Rack, ID: "R1"}, scan.Noun{Type: scan.Part, ID: "buckets"}), Topic{Kind: Where, ID: "part buckets"}},
		{"a part, its rack, a position: the rack", oil, saw(scan.Noun{Type: scan.Part, ID: "buckets"}, scan.Noun{Type: scan.Rack, ID: "R1"}, scan.Noun{Type: scan.Position, ID: "2Ia"}),
			Topic{Kind: Rack, ID: "R1", Ask: []events.Hole{"2Ia"}}},
		{"a bag, then a bag: the last", oil, saw(bag, scan.Noun{Type: scan.Bag, ID: "B2"}), Topic{Kind: Bag, ID: "B2"}},
		{"a bag", oil, saw(bag), Topic{Kind: Bag, ID: "B1"}},
		{"a part", oil, saw(scan.Noun{Type: scan.Part, ID: "head"}), Topic{Kind: Where, ID: "part head"}},
		{"a job", oil, Heard{Token: scan.Token{Kind: scan.Saw, Noun: scan.Noun{Type: scan.JobNoun}}}, Topic{}},
		{"a size asks for no panel", oil, saw(scan.Noun{Type: scan.Size, ID: "M6"}), Topic{}},
		{"a number changes nothing", oil, Heard{Token: scan.Token{Kind: scan.Number}}, oil},
		{"WHAT NOW", oil, word(scan.WhatNow), Topic{Kind: Steps}},
		{"MISSING", oil, word(scan.Missing), Topic{Kind: Missing}},
		{"MISSING that was refused", oil, refused, oil},
		{"AUDIT of a point", oil, word(scan.AuditWord, scan.Noun{Type: scan.Audit, ID: "released"}), Topic{Kind: Audit, ID: "released"}},
		{"WHERE IS a hole", oil, word(scan.WhereIs, joint, hole), Topic{Kind: Where, ID: "hole oil-pan:3"}},
		{"WHERE IS a size", oil, word(scan.WhereIs, scan.Noun{Type: scan.Size, ID: "M6x1.0x25"}), Topic{Kind: Where, ID: "kind M6x1.0x25"}},
		{"WHERE IS nothing", oil, word(scan.WhereIs), oil},
		{"CAN I? of a case", oil, word(scan.CanI, scan.Noun{Type: scan.Case, ID: "C1"}), Topic{Kind: Case, ID: "C1"}},
		{"CANCEL", oil, word(scan.Cancel), Topic{}},
		{"another word", oil, word(scan.AllOut, joint), oil},
		{"stored: the joint stays", oil, stored(events.PiecesOut{Joint: "oil-pan"}), Topic{Kind: Joint, ID: "oil-pan", Just: just}},
		{"stored: a bag was counted", oil, stored(events.Counted{Place: "bag/B1"}), Topic{Kind: Bag, ID: "B1", Just: just}},
		{"stored: a rack was read", oil, stored(events.RackRead{Rack: "rack/R1"}), Topic{Kind: Rack, ID: "R1", Just: just}},
		{"stored: a piece into a rack", oil, stored(events.PartPlaced{Rack: "rack/R1/2Ia"}), Topic{Kind: Rack, ID: "R1", Just: just}},
		{"stored: it broke", oil, stored(events.FastenerBroken{Case: "C1"}), Topic{Kind: Case, ID: "C1", Just: just}},
		{"stored: a job was opened", oil, stored(events.JobOpened{}), Topic{Just: just}},
		{"stored: a list is over", Topic{Kind: List}, stored(events.MarkMade{}), Topic{Just: just}},
	} {
		require.Equal(t, row.want, row.from.Follow(row.h), row.name)
	}
}
