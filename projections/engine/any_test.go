package engine

import (
	"fmt"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// fingerprint writes down all of a state that anything reads.
func fingerprint(s *State) string {
	var b strings.Builder
	var accounts []string
	for a := 1; a <= s.book.Accounts(); a++ {
		for it, n := range s.book.At(ledger.AccountID(a)) {
			if n != 0 {
				accounts = append(accounts, fmt.Sprintf("%s %v %d", s.book.Path(ledger.AccountID(a)), s.book.ItemName(it), n))
			}
		}
	}
	sort.Strings(accounts)
	b.WriteString(strings.Join(accounts, "\n"))
	for k := 1; k <= s.book.Entries(); k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		fmt.Fprintf(&b, "\n%v %v %d/%d %s %v %d %d", s.ShortID(en.No), s.book.ItemName(en.Item), en.Open, en.Qty, s.book.Path(en.Place), en.Facts, en.After, en.Shown)
	}
	for k := 1; k <= s.book.Entries(); k++ {
		from, to := s.LostBetween(ledger.EntryNo(k))
		en := s.book.Entry(ledger.EntryNo(k))
		fmt.Fprintf(&b, "\n%d %d %v %v", from, to, s.handsOf(&en), s.couldBeIn(&en))
	}
	fmt.Fprintf(&b, "\n%v", s.witnesses)
	fmt.Fprintf(&b, "\n%v\n%v\n%v\n%v\n%v", s.seats, s.notes, s.uncounted, s.turns, s.looks)
	b.Write(s.now.AppendKey(nil))
	for _, p := range s.parts {
		fmt.Fprintf(&b, "%s %v %d %d;", s.book.Path(p.at), p.in, p.reused, p.condemned)
	}
	for _, c := range s.cases {
		fmt.Fprintf(&b, "\n%v", *c)
	}
	for _, g := range s.Bags() {
		fmt.Fprintf(&b, "\n%v", *g)
	}
	fmt.Fprintf(&b, "\n%v %v %v %v %v", s.holes, s.reassigns, s.learned, s.unknown, s.Ended == nil)
	b.WriteString(aheadPrint(s))
	return b.String()
}

var (
	anyJoint = []events.Joint{"front-cover", "oil-pan", "exhaust", "head", "cam-caps", "mount-bracket", "pulley", "sensors", "nowhere"}
	anyHole  = []events.Hole{"1", "2", "3", "18", "9", "I1a", "F2", "oil", "zz"}
	anyPart  = []events.Part{"front-cover", "oil-pan", "head", "buckets", "cam-intake", "locks", "mount-bracket", "head-gasket", "crank", "ghost"}
	anyPos   = []events.Hole{"1Ia", "2Ib", "4Eb", "1"}
	anyPlace = []events.Place{"", "bag/B2AAAAAA", "bag/B2BBBBBB", "bag/B2CCCCCC", "rack/R2AAAAAA", "rack/R2AAAAAA/1Ia", "place/shelf", "scrap", "kept", "stock/lot 1", "bench/b1/front-cover", "unexplained/1", "outside/owner", "joint/front-cover"}
	anyKind  = []events.Kind{"M6x1.0x20 8.8 flange", "M8x1.25x30 8.8 flange", "M8x1.25x45 8.8 flange", "M10x1.5x50 8.8 flange", "M12x1.25x65 8.8 flange", "buckets", "locks", "head-gasket", "M8x1.25 copper nut", "M8x1.25x45 8.8 stud", "thing"}
	anyCond  = []events.Condition{"", "", "", events.New, events.Used, events.Condemned, events.Sample, events.MeasuredGood}
	anyBag   = []events.Code{"B2AAAAAA", "B2BBBBBB", "B2CCCCCC"}
	anyCase  = []events.Code{"C2AAAAAA", "C2BBBBBB"}
	anyTerm  = []events.Terminal{"b1", "b2", "b3"}
)

type draw struct{ *rapid.T }

func pick[T any](d draw, list []T, label string) T { return rapid.SampledFrom(list).Draw(d.T, label) }
func (d draw) n(label string) int                  { return rapid.IntRange(0, 20).Draw(d.T, label) }
func (d draw) yes(label string) bool               { return rapid.Bool().Draw(d.T, label) }

func (d draw) lines() []events.Line {
	var ls []events.Line
	for range rapid.IntRange(0, 3).Draw(d.T, "lines") {
		l := events.Line{Kind: pick(d, anyKind, "kind"), Qty: d.n("qty"), Cond: pick(d, anyCond, "cond")}
		if l.Kind == "buckets" && d.yes("origin") {
			l.Origin = events.SeatOf("buckets", pick(d, anyPos, "pos"))
		}
		ls = append(ls, l)
	}
	return ls
}

func (d draw) holes() []events.Hole {
	var hs []events.Hole
	for range rapid.IntRange(0, 2).Draw(d.T, "holes") {
		hs = append(hs, pick(d, anyHole, "hole"))
	}
	return hs
}

func (d draw) short() events.ShortID {
	return events.ShortID{Terminal: pick(d, anyTerm, "t"), N: uint32(d.n("n")), K: 1}
}

func (d draw) fact() events.FactID {
	return events.FactID{Terminal: pick(d, anyTerm, "t"), N: uint32(d.n("n"))}
}

var makers = []func(d draw) events.Event{
	tightFact,
	func(d draw) events.Event {
		return events.PiecesOut{Joint: pick(d, anyJoint, "j"), Holes: d.holes(), To: pick(d, anyPlace, "to"), Lines: d.lines(), All: d.yes("all"), Left: d.holes()}
	},
	func(d draw) events.Event {
		return events.PiecesFitted{Joint: pick(d, anyJoint, "j"), Holes: d.holes(), From: pick(d, anyPlace, "from"), Lines: d.lines(), All: d.yes("all"), Trial: d.yes("trial")}
	},
	func(d draw) events.Event {
		return events.PiecesParked{Joint: pick(d, anyJoint, "j"), Holes: d.holes(), From: pick(d, anyPlace, "from")}
	},
	func(d draw) events.Event {
		return events.PiecesLoosened{Joint: pick(d, anyJoint, "j"), Holes: d.holes()}
	},
	func(d draw) events.Event {
		return events.StageRecorded{Joint: pick(d, anyJoint, "j"), Holes: d.holes(), Stage: d.n("stage"), Stages: 3, What: pick(d, []string{"torque 40 N.m", "angle 90 deg"}, "what")}
	},
	func(d draw) events.Event {
		return events.Counted{Place: pick(d, anyPlace, "place"), Lines: d.lines(), All: d.yes("all")}
	},
	func(d draw) events.Event {
		return events.PiecesMoved{From: pick(d, anyPlace, "from"), To: pick(d, anyPlace, "to"), Lines: d.lines()}
	},
	func(d draw) events.Event {
		return events.PartRemoved{Part: pick(d, anyPart, "p"), To: pick(d, anyPlace, "to"), Counted: d.n("c"), NoneCame: d.yes("none")}
	},
	func(d draw) events.Event {
		return events.PartRemoved{Part: pick(d, anyPart, "p"), Positions: []events.Hole{pick(d, anyPos, "pos")}, To: pick(d, anyPlace, "to")}
	},
	func(d draw) events.Event {
		return events.PartFitted{Part: pick(d, anyPart, "p"), From: pick(d, anyPlace, "from")}
	},
	func(d draw) events.Event {
		return events.PartFitted{Part: pick(d, anyPart, "p"), Positions: []events.Hole{pick(d, anyPos, "pos")}, From: pick(d, anyPlace, "from"), Counted: d.n("c")}
	},
	func(d draw) events.Event {
		return events.PartPlaced{Part: pick(d, anyPart, "p"), Position: pick(d, anyPos, "pos"), Rack: "rack/R2AAAAAA/" + events.Place(pick(d, anyPos, "at"))}
	},
	func(d draw) events.Event {
		return events.RackRead{Rack: "rack/R2AAAAAA", Part: pick(d, anyPart, "p"), Empty: d.holes()}
	},
	func(d draw) events.Event { return events.OrderLost{Rack: "rack/R2AAAAAA"} },
	func(d draw) events.Event {
		return events.Reassigned{Part: "buckets", From: pick(d, anyPos, "from"), To: pick(d, anyPos, "to"), Why: "clearance"}
	},
	func(d draw) events.Event {
		return events.BagLabelled{Bag: pick(d, anyBag, "bag"), Joint: pick(d, anyJoint, "j")}
	},
	func(d draw) events.Event { return events.BagClosed{Bag: pick(d, anyBag, "bag"), Lines: d.lines()} },
	func(d draw) events.Event {
		return events.BagsMerged{From: pick(d, anyBag, "from"), Into: pick(d, anyBag, "into")}
	},
	func(d draw) events.Event {
		return events.BagSplit{From: pick(d, anyBag, "from"), Into: pick(d, anyBag, "into"), Lines: d.lines()}
	},
	func(d draw) events.Event { return events.BagRetired{Bag: pick(d, anyBag, "bag")} },
	func(d draw) events.Event { return events.LabelReprinted{Code: pick(d, anyBag, "bag")} },
	func(d draw) events.Event {
		return events.PiecesScrapped{From: pick(d, anyPlace, "from"), Lines: d.lines()}
	},
	func(d draw) events.Event {
		return events.PiecesKept{From: pick(d, anyPlace, "from"), Lines: d.lines()}
	},
	func(d draw) events.Event {
		return events.ConditionChanged{Place: pick(d, anyPlace, "at"), Lines: d.lines(), Cond: pick(d, anyCond, "to")}
	},
	func(d draw) events.Event {
		trays := []events.Place{"place/tray-1", "place/tray-2", "bag/B2AAAAAA", "bench/b1", ""}
		return events.Carried{What: pick(d, trays, "what"), To: pick(d, trays, "to"), With: "Ole"}
	},
	func(d draw) events.Event {
		return events.BatchOpened{Batch: "w1", What: "paint", Parts: []events.Part{pick(d, anyPart, "p")}, Masks: d.lines()}
	},
	func(d draw) events.Event { return events.BatchClosed{Batch: "w1", Masks: d.lines(), Cure: d.n("cure")} },
	func(d draw) events.Event {
		return events.Preserved{Part: pick(d, anyPart, "p"), Place: pick(d, anyPlace, "at"), With: "oil"}
	},
	func(d draw) events.Event {
		return events.LotDated{Lot: "lot 1", Expires: pick(d, []events.Day{"2023-01-01", "2099-01-01", "never"}, "day")}
	},
	func(d draw) events.Event { return events.TrayIssued{Tray: "place/tray-1", Holds: d.n("holds")} },
	func(d draw) events.Event {
		return events.ToolTaken{Tool: pick(d, []events.Tool{"wrench", "rag"}, "tool")}
	},
	func(d draw) events.Event {
		return events.ToolBack{Tool: pick(d, []events.Tool{"wrench", "rag"}, "tool")}
	},
	func(d draw) events.Event { return events.BenchSwept{Bench: pick(d, anyTerm, "t")} },
	func(d draw) events.Event {
		e := events.TraySorted{From: pick(d, anyPlace, "from")}
		for range rapid.IntRange(0, 2).Draw(d.T, "piles") {
			e.Into = append(e.Into, events.Sorting{To: pick(d, anyPlace, "to"), Lines: d.lines()})
		}
		return e
	},
	func(d draw) events.Event {
		return events.HardwareReceived{From: "outside/supplier/north", To: pick(d, anyPlace, "to"), Lot: "lot 1", Lines: d.lines()}
	},
	func(d draw) events.Event {
		return events.LoanIn{Loan: pick(d, []events.Loan{"rag", "crank-pin", "thing"}, "loan"), Count: d.n("c")}
	},
	func(d draw) events.Event {
		return events.LoanOut{Loan: pick(d, []events.Loan{"rag", "crank-pin", "thing"}, "loan"), Count: d.n("c")}
	},
	func(d draw) events.Event {
		return events.LossReported{From: pick(d, anyPlace, "from"), Lines: d.lines()}
	},
	func(d draw) events.Event {
		return events.ShortEnded{Short: d.short(), With: d.short(), How: pick(d, []events.Ending{events.Found, events.Miscount, events.Paired, events.PlanWrong, events.NeverThere, events.StillIn, events.Borrowed, events.WrittenOff}, "how"), To: pick(d, anyPlace, "to"), Job: "j2",
			Holes: pick(d, [][]events.Hole{nil, nil, {"1"}, {"3", "18"}, {"zz", "2", "2"}}, "still")}
	},
	func(d draw) events.Event {
		return events.DisagreementSettled{Facts: []events.FactID{d.fact(), d.fact()}, Counts: []events.PlaceCount{{Place: pick(d, anyPlace, "at"), Lines: d.lines()}}}
	},
	func(d draw) events.Event {
		return events.HardwareLent{Ref: "1", To: "j2", From: pick(d, anyPlace, "from"), Lines: d.lines()}
	},
	func(d draw) events.Event {
		return events.FastenerBroken{Case: pick(d, anyCase, "case"), Joint: pick(d, anyJoint, "j"), Hole: pick(d, anyHole, "h"), OtherEnd: pick(d, []string{"", "in-hand", "not-found"}, "end")}
	},
	func(d draw) events.Event {
		return events.OtherEndTold{Case: pick(d, anyCase, "case"), InHand: d.yes("in")}
	},
	func(d draw) events.Event {
		return events.StudExtracted{Case: pick(d, anyCase, "case"), Hole: events.HoleInsert, DepthMm: 22}
	},
	func(d draw) events.Event {
		return events.SentOut{Slip: "S2AAAAAA", Parts: []events.Part{pick(d, anyPart, "p")}, Stays: d.lines()}
	},
	func(d draw) events.Event { return events.Returned{Slip: "S2AAAAAA", Lines: d.lines()} },
	func(d draw) events.Event {
		return events.Exchanged{Part: pick(d, anyPart, "p"), Old: "head 1", New: "head 2"}
	},
	func(d draw) events.Event {
		return events.MissingOnArrival{Joint: pick(d, anyJoint, "j"), Holes: d.holes(), Part: pick(d, anyPart, "p"), Lines: d.lines()}
	},
	func(d draw) events.Event { return events.CaughtUp{Deepest: pick(d, anyPart, "p")} },
	func(d draw) events.Event {
		return events.CavityLooked{Cavity: pick(d, []events.Cavity{"sump", "cam-box", "zz"}, "c"), Found: d.lines()}
	},
	func(d draw) events.Event {
		return events.MarkMade{Mark: pick(d, []events.Mark{"two-turns", "at-one", "zz"}, "m")}
	},
	func(d draw) events.Event { return events.ActDone{Act: events.Turning} },
	func(d draw) events.Event {
		return events.LayoutSeen{Variant: "tensioner-layout", Layout: pick(d, []string{"plug", "flange", "zz"}, "l")}
	},
	func(d draw) events.Event { return events.OptionSeen{Part: "compressor", Fitted: d.yes("fitted")} },
	func(d draw) events.Event {
		var instead events.Event
		if d.yes("instead") {
			instead = events.Counted{Place: pick(d, anyPlace, "place"), Lines: d.lines(), All: d.yes("all")}
		}
		return events.Corrected{Wrong: d.fact(), Instead: instead, Why: "slip"}
	},
	func(d draw) events.Event { return events.Unknown{Kind: "later-thing", Data: "{}"} },
}

// history draws facts from three terminals with clocks of their own; what each
// had seen is true: a prefix of the others' facts.
func history(d draw, planText string, size int) []events.Record {
	facts := []events.Record{{Shop: "hill", Job: "j1", Terminal: "b1", N: 1, Time: 1000, At: 1000,
		Event: events.JobOpened{Engine: "Sorrel", Plan: planText}}}
	n := map[events.Terminal]uint32{"b1": 1}
	saw := map[events.Terminal]map[events.Terminal]uint32{"b1": {"b1": 1}, "b2": {"b1": 1}, "b3": {"b1": 1}}
	last := map[events.Terminal]int64{}
	clock := int64(1000)
	for range rapid.IntRange(1, size).Draw(d.T, "facts") {
		t := pick(d, anyTerm, "terminal")
		if d.yes("connected") {
			for _, o := range anyTerm {
				saw[t][o] = max(saw[t][o], n[o])
			}
			last[t] = max(last[t], clock)
		}
		n[t]++
		at := last[t] + 1 + int64(rapid.IntRange(0, 50).Draw(d.T, "tick"))
		last[t] = at
		clock = max(clock, at)
		known := pick(d, []events.Known{events.Told, events.Claimed, events.CountedOpen, events.CountedBlind}, "known")
		r := events.Record{Shop: "hill", Job: "j1", Terminal: t, N: n[t], Time: at, At: at, Seen: events.SeenOf(saw[t]), Known: known,
			Event: makers[rapid.IntRange(0, len(makers)-1).Draw(d.T, "kind")](d)}
		if rapid.IntRange(0, 4).Draw(d.T, "any kind") == 0 {
			r.Event = anyOfCatalogue(d)
		}
		if rapid.IntRange(0, 3).Draw(d.T, "late") == 0 {
			r.To = max(1, at-int64(rapid.IntRange(0, 200).Draw(d.T, "till")))
			r.From = max(1, r.To-int64(rapid.IntRange(0, 200).Draw(d.T, "since")))
		}
		facts = append(facts, r)
		saw[t][t] = n[t]
	}
	return facts
}

// Rules R1, R2, R4: whatever is told, in whatever order it arrives and however
// often, the state is the same, nothing panics, and the ledger sums to zero.
func TestAnyOrderOfArrivalGivesOneState(t *testing.T) {
	whole := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		d, text := draw{rt}, whole
		if rapid.IntRange(0, 5).Draw(rt, "no plan") == 0 {
			text = ""
		}
		facts := history(d, text, 25)
		live := &Job{}
		for i := range facts {
			live.Apply(&facts[i])
			require.NoError(rt, live.State().Book().Verify())
			if d.yes("check prefix") {
				prefix := &Job{}
				prefix.Load(facts[:i+1])
				require.Equal(rt, fingerprint(prefix.State()), fingerprint(live.State()))
			}
		}
		other := &Job{}
		for _, i := range rapid.Permutation(indices(len(facts))).Draw(rt, "order") {
			other.Apply(&facts[i])
			if d.yes("again") {
				require.True(rt, other.Apply(&facts[i]).Repeated)
			}
		}
		require.Equal(rt, fingerprint(live.State()), fingerprint(other.State()))
		require.Equal(rt, len(facts), len(other.Facts()), "no fact is lost")
	})
}

func indices(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// The ledger knows joints, the fold knows holes: their sums agree while no
// fact moves pieces of a joint behind the holes' back.
func holesAgree(t require.TestingT, s *State) {
	sum := make(map[int32]map[int32]int32)
	for i := range s.lay.seats {
		sl := &s.lay.seats[i]
		for b, m := range sl.members {
			if s.planned(plan.SeatIndex(i))&(1<<b) != 0 {
				if sum[sl.group] == nil {
					sum[sl.group] = map[int32]int32{}
				}
				sum[sl.group][m.kind]++
			}
		}
		// a piece of another kind counts as what it is: a second stud where the nut belongs
		if k, ok := s.kindIndex(s.odd[plan.SeatIndex(i)]); ok && s.seats[i].oddKind && sum[sl.group] != nil {
			sum[sl.group][k]++
		}
	}
	for g, kinds := range sum {
		for k, n := range kinds {
			require.Equal(t, n, s.book.Balance(s.group[g], ledger.OfKind(s.kinds[k])), "%s %s", s.groupPath(g), s.lay.kinds[k])
		}
	}
	for i := range s.lay.seats {
		if s.seats[i].in == s.lay.seats[i].full && s.lay.seats[i].full != s.lay.seats[i].stay {
			require.Greater(t, s.now.Seat(plan.SeatIndex(i)), plan.SeatLoan, s.lay.plan.Seats[i].ID)
		}
	}
}

func TestHolesAndLedgerAgree(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := draw{rt}
		job := &Job{}
		for _, f := range history(d, text, 25) {
			job.Apply(&f)
			holesAgree(rt, job.State())
		}
	})
}
