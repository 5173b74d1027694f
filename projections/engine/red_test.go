package engine

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func hasCode(j *Job, code string) bool { return contains(codes(j.Red()), code) }

func redSays(t *testing.T, j *Job, code, text string) bool {
	for _, l := range j.Red() {
		require.NotEmpty(t, l.Text)
		require.NotEmpty(t, l.Scan)
		if l.Code == code && strings.Contains(l.Text, text) {
			return true
		}
	}
	return false
}

// Every kind of red line comes up by what somebody told, and goes by the scan
// that it asks for.
func TestEveryRedLineComesAndGoes(t *testing.T) {
	line := func(k events.Kind, n int, cond events.Condition) []events.Line {
		return []events.Line{{Kind: k, Qty: n, Cond: cond}}
	}
	for _, row := range []struct {
		code       string
		text       string
		make, mend func(c *crew)
	}{
		{RedUncounted, "18 pieces of Oil pan never counted: Oil pan is off, so it was out",
			func(c *crew) { c.told(events.PartRemoved{Part: "oil-pan"}) },
			func(c *crew) {
				c.counted(events.PiecesOut{Joint: "oil-pan", To: "bag/B9AAAAAA", All: true, Lines: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 14}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}})
			}},
		{RedOddKind, "Front cover to block 3: holds a kind that it does not want",
			func(c *crew) {
				c.told(events.PiecesOut{Joint: "front-cover", Holes: []events.Hole{"3"}})
				c.told(events.PiecesFitted{Joint: "front-cover", Holes: []events.Hole{"3"}, Lines: line("M8x1.25x45 8.8 flange", 1, "")})
			},
			func(c *crew) { c.told(events.PiecesOut{Joint: "front-cover", Holes: []events.Hole{"3"}}) }},
		{RedReused, "Crank pulley bolt 1: single-use, and not a new piece",
			func(c *crew) {
				c.told(events.PiecesOut{Joint: "pulley", All: true})
				c.told(events.PiecesFitted{Joint: "pulley", All: true})
			},
			func(c *crew) { c.told(events.PiecesOut{Joint: "pulley", All: true}) }},
		{RedCondemned, "Oil drain plug 1: a condemned piece or a sample is in it",
			func(c *crew) {
				c.told(events.PiecesOut{Joint: "drain", All: true, To: "place/shelf"})
				c.told(events.ConditionChanged{Place: "place/shelf", Lines: line("M14x1.5 plug (magnet)", 1, ""), Cond: events.Condemned})
				c.told(events.PiecesFitted{Joint: "drain", From: "place/shelf", All: true})
			},
			func(c *crew) { c.told(events.PiecesOut{Joint: "drain", All: true, To: "place/shelf"}) }},
		{RedTrial, "Bedplate 1, 2: in as a trial",
			func(c *crew) {
				c.told(events.PiecesOut{Joint: "bedplate", Holes: []events.Hole{"1", "2"}})
				c.told(events.PiecesFitted{Joint: "bedplate", Holes: []events.Hole{"1", "2"}, Trial: true, All: true})
			},
			func(c *crew) { c.told(events.PiecesOut{Joint: "bedplate", Holes: []events.Hole{"1", "2"}}) }},
		{RedParked, "Oil drain plug 1: in finger-tight only, looks finished and is not",
			func(c *crew) { c.do("check-in"); c.do("drain") },
			func(c *crew) {
				c.told(events.StageRecorded{Joint: "drain", Stage: 1, Stages: 1, What: "torque 35 N.m"})
			}},
		{RedLeftOver, "Bag B2AAAAAA holds 1 M6x1.0x25 too many: what they belong to is complete",
			func(c *crew) {
				c.told(events.BagLabelled{Bag: "B2AAAAAA", Joint: "coils"})
				c.counted(events.Counted{Place: "bag/B2AAAAAA", Lines: line("M6x1.0x25 8.8 flange", 1, ""), All: true})
				c.told(events.ShortEnded{Short: c.s().ShortID(1), How: events.PlanWrong})
			},
			func(c *crew) {
				c.told(events.PiecesScrapped{From: "bag/B2AAAAAA", Lines: line("M6x1.0x25 8.8 flange", 1, "")})
			}},
		{RedOld, "Shelf holds old single-use pieces: 1 Oil filter",
			func(c *crew) {
				c.told(events.PartRemoved{Part: "oil-filter", To: "place/shelf"})
				c.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "stock/box", Lines: line("oil-filter", 1, "")})
				c.told(events.PartFitted{Part: "oil-filter", From: "stock/box"})
			},
			func(c *crew) { c.told(events.PiecesScrapped{From: "place/shelf", Lines: line("oil-filter", 1, "")}) }},
		{RedOrderLost, "Rack RTRAY: which Graded buckets is which is not known since 11 May",
			func(c *crew) {
				c.told(events.PartRemoved{Part: "buckets", To: "rack/RTRAY"})
				c.told(events.OrderLost{Rack: "rack/RTRAY", Part: "buckets"})
			},
			func(c *crew) { c.told(events.PiecesScrapped{From: "rack/RTRAY", Lines: line("buckets", 16, "")}) }},
		{RedMixed, "Bag B2AAAAAA holds new and old M6x1.0x25",
			func(c *crew) {
				c.told(events.BagLabelled{Bag: "B2AAAAAA", Joint: "coils"})
				c.told(events.PiecesOut{Joint: "coils", To: "bag/B2AAAAAA", All: true})
				c.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "bag/B2AAAAAA", Lines: line("M6x1.0x25 8.8 flange", 2, "")})
			},
			func(c *crew) {
				c.told(events.PiecesMoved{From: "bag/B2AAAAAA", To: "stock/box", Lines: line("M6x1.0x25 8.8 flange", 2, events.New)})
			}},
		{RedLoan, "Rags, 3 in since 11 May (valley)",
			func(c *crew) { c.told(events.LoanIn{Loan: "rag", Count: 3, Where: "valley"}) },
			func(c *crew) { c.told(events.LoanOut{Loan: "rag", Count: 3}) }},
		{RedLoan, "magnet in since 11 May",
			func(c *crew) { c.told(events.LoanIn{Loan: "magnet", Count: 1}) },
			func(c *crew) { c.told(events.LoanOut{Loan: "magnet", Count: 1}) }},
		{RedCase, "Case C2AAAAAA, Exhaust manifold to head 9: a stub is in it since 11 May",
			func(c *crew) {
				c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", Stub: events.Below, OtherEnd: "in-hand"})
			},
			func(c *crew) { c.told(c.ask(ExtractStud{Case: "C2AAAAAA", Hole: events.HoleInsert, DepthMm: 22})) }},
		{RedOtherEnd, "Case C2AAAAAA, Exhaust manifold to head 9: where the other end is was not said",
			func(c *crew) {
				c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", Stub: events.Below})
			},
			func(c *crew) { c.told(events.OtherEndTold{Case: "C2AAAAAA", InHand: true}) }},
		{RedPastStop, "Case C2AAAAAA: 1 attempt after this shop's limit, 3 methods failed",
			func(c *crew) {
				c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", Stub: events.Below, OtherEnd: "in-hand"})
				for _, m := range []string{Soak, DrillLeft, DrillOut} {
					c.told(events.ExtractionTried{Case: "C2AAAAAA", Method: m, Minutes: 5})
				}
			},
			func(c *crew) {
				c.told(c.ask(Override{Ask: "case C2AAAAAA", Operator: "Marit", Second: "Ole", Why: "the shop is far"}))
			}},
		{RedHold, "Hold on Head since 11 May, ask the owner",
			func(c *crew) { c.told(events.HoldSet{Hold: "h1", On: "part head", Why: "ask the owner"}) },
			func(c *crew) { c.told(c.ask(ReleaseHold{Hold: "h1"})) }},
		{RedFinding, "Finding on Crankshaft is not decided, scored",
			func(c *crew) { c.told(events.FindingRaised{Finding: "f1", On: "part crank", What: "scored"}) },
			func(c *crew) { c.told(events.FindingDecided{Finding: "f1", Decision: "send-out"}) }},
		{RedSlip, "Slip S2AAAAAA: Oil pan away since 11 May to the welder",
			func(c *crew) {
				c.told(events.SentOut{Slip: "S2AAAAAA", Parts: []events.Part{"oil-pan"}, Shop: "the welder"})
			},
			func(c *crew) { c.told(events.Returned{Slip: "S2AAAAAA"}) }},
		{RedUnlooked, "Oil pan came back from the welder and nobody has looked it over",
			func(c *crew) {
				c.told(events.SentOut{Slip: "S2BBBBBB", Parts: []events.Part{"oil-pan"}, Shop: "the welder"})
				c.told(events.Returned{Slip: "S2BBBBBB"})
			},
			func(c *crew) { c.told(events.LookedOver{Parts: []events.Part{"oil-pan"}}) }},
		{RedTurned, "With Crank timing pin in by the book",
			func(c *crew) {
				c.told(events.LoanIn{Loan: "crank-pin", Count: 1})
				c.told(events.ActDone{Act: events.Turning})
			},
			func(c *crew) {
				c.told(c.ask(Override{Ask: "loan crank-pin", Operator: "Marit", Second: "Ole", Why: "it was in a drawer"}))
			}},
		{RedFoundOdd, "Oil pan: 2 M6x1.0x20 8.8 flange more than the plan",
			func(c *crew) {
				c.counted(events.PiecesOut{Joint: "oil-pan", To: "place/shelf", All: true, Lines: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 16}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}})
			},
			func(c *crew) {
				c.told(c.ask(Override{Ask: "joint oil-pan", Operator: "Marit", Second: "Ole", Why: "somebody had two too many in it"}))
			}},
		{RedNoSuch, "This job has no part ghost",
			func(c *crew) { c.told(events.CaughtUp{Deepest: "ghost"}) },
			func(c *crew) {
				c.told(c.ask(Correct{Wrong: events.FactID{Terminal: "b2", N: c.n}, Why: "test"}))
			}},
		{RedUnknown, "is of the kind tool-calibrated, which this program does not know",
			func(c *crew) { c.told(events.Unknown{Kind: "tool-calibrated", Data: "{}"}) }, nil},
	} {
		t.Run(row.code, func(t *testing.T) {
			c := newCrew(t)
			require.Empty(t, c.job.Red())
			row.make(c)
			require.True(t, redSays(t, c.job, row.code, row.text), "%v", c.job.Red())
			if row.mend != nil {
				row.mend(c)
				require.False(t, redSays(t, c.job, row.code, row.text), "%v", c.job.Red())
			}
			require.NoError(t, c.s().Book().Verify())
		})
	}
}

func TestAGapShows(t *testing.T) {
	c := newCrew(t)
	r := events.Record{Shop: "hill", Job: "4K7", Terminal: "b3", N: 7, Time: c.at + 5, At: c.at + 5, Seen: "b1:12 b2:1", Event: events.MarkMade{Mark: "checked-in"}}
	c.job.Apply(&r)
	require.Equal(t, []events.FactID{{Terminal: "b1", N: 12}}, c.job.Gaps())
	require.True(t, hasCode(c.job, RedGap))
	late := events.Record{Shop: "hill", Job: "4K7", Terminal: "b1", N: 12, Time: c.at + 2, At: c.at + 2, Seen: "b2:1", Event: events.LoanIn{Loan: "rag", Count: 1}}
	c.job.Apply(&late)
	require.Empty(t, c.job.Gaps())
}

// The order of buckets: a row put in end for end, one shifted by one, two of
// them swapped, one alone in the wrong place.
func TestPositionMap(t *testing.T) {
	n := 16
	turned := func(at func(i int) int) []int {
		list := make([]int, n)
		for i := range list {
			list[i] = at(i)
		}
		return list
	}
	for _, row := range []struct {
		name string
		at   []int // which bucket goes into position i
		want []string
	}{
		{"all their own", turned(func(i int) int { return i }), nil},
		{"end for end", turned(func(i int) int { return n - 1 - i }), []string{"Graded buckets: the whole row is reversed end for end"}},
		{"shifted", turned(func(i int) int { return (i + n - 1) % n }), []string{"Graded buckets: all sit 1 place too far towards the end"}},
		{"shifted back", turned(func(i int) int { return (i + 2) % n }), []string{"Graded buckets: all sit 2 places too far towards the start"}},
		{"two swapped", turned(func(i int) int {
			if i == 3 || i == 7 {
				return 10 - i
			}
			return i
		}), []string{"Graded buckets: 1Eb and 2Eb are swapped"}},
		{"three in a ring", turned(func(i int) int { return [...]int{1, 2, 0, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}[i] }),
			[]string{"Graded buckets: 1Ia holds the piece of 1Ib", "Graded buckets: 1Ib holds the piece of 1Ea", "Graded buckets: 1Ea holds the piece of 1Ia"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := newCrew(t)
			c.counted(events.PartRemoved{Part: "buckets", To: "rack/RTRAY", Counted: 16})
			b, _ := c.plan().Part("buckets")
			pos := c.plan().Parts[b].Positions
			for i, k := range row.at {
				c.told(events.PartFitted{Part: "buckets", Positions: []events.Hole{pos[i].Name}, From: events.Place("rack/RTRAY/" + string(pos[k].Name))})
			}
			require.Equal(t, row.want, c.s().misplaced(b))
			require.Equal(t, len(row.want) > 0, hasCode(c.job, RedSwapped))
			rows := c.s().PositionMap("buckets")
			require.Len(t, rows, 16)
			require.Equal(t, row.at[0] == 0, rows[0].Own)
			// reassigned on purpose, each sits in its own seat again
			for i, k := range row.at {
				if i != k {
					c.told(events.Reassigned{Part: "buckets", From: pos[k].Name, To: pos[i].Name, Why: "measured"})
				}
			}
			require.False(t, hasCode(c.job, RedSwapped))
		})
	}
}
