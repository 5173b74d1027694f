package projections

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/engine"
)

func sorrel(t testing.TB) string {
	t.Helper()
	b, err := os.ReadFile("../testdata/plans/sorrel-i4-20.yaml")
	require.NoError(t, err)
	return string(b)
}

// shop writes facts of several jobs as the terminals of one shop would.
type shop struct {
	t    testing.TB
	r    Runner
	at   int64
	n    map[events.Terminal]uint32
	recs []events.Record
}

func newShop(t testing.TB) *shop {
	return &shop{t: t, at: 1_747_000_000_000_000, n: map[events.Terminal]uint32{}}
}

const hour = int64(3_600_000_000)

func (s *shop) tell(job events.Job, term events.Terminal, known events.Known, ev events.Event) Applied {
	s.n[term]++
	s.at += hour
	seen := events.Seen("")
	if j, ok := s.r.Job(job); ok {
		seen = j.Seen()
	}
	rec := events.Record{Shop: "hill", Job: job, Terminal: term, N: s.n[term], Time: s.at, At: s.at, Seen: seen, Operator: "Marit Berg", Known: known, Event: ev}
	s.recs = append(s.recs, rec)
	return s.r.Apply(Cursor(len(s.recs)), &rec)
}

func (s *shop) open(job events.Job) {
	ev, err := (&engine.Job{}).Decide(engine.OpenJob{Engine: "Sorrel I4-20 " + string(job), Plan: sorrel(s.t)})
	require.NoError(s.t, err)
	s.tell(job, "b1", events.Told, ev)
}

func (s *shop) counted(job events.Job, ev events.Event) Applied {
	return s.tell(job, "b1", events.CountedBlind, ev)
}

// flywheelShort loses one of the eight flywheel bolts at removal.
func (s *shop) flywheelShort(job events.Job) {
	s.counted(job, events.PiecesOut{Joint: "flywheel", To: "bag/B2AAAAAA", All: true, Lines: []events.Line{{Kind: "M10x1.0x22 10.9 12pt", Qty: 7}}})
}

func TestCursor(t *testing.T) {
	s := newShop(t)
	s.open("j1")
	s.open("j2")
	require.EqualValues(t, 2, s.r.At())
	require.Equal(t, []events.Job{"j1", "j2"}, s.r.Jobs())
	again := s.r.Apply(1, &s.recs[0])
	require.True(t, again.Passed)
	j, _ := s.r.Job("j1")
	require.Len(t, j.Facts(), 1)
	_, ok := s.r.Job("j3")
	require.False(t, ok)

	// a reader that starts anew, and one that starts in the middle, come to the same
	var fresh Runner
	fresh.Load(s.recs, s.r.At())
	require.Equal(t, s.r.Jobs(), fresh.Jobs())
	require.Equal(t, s.r.At(), fresh.At())
	for i := range s.recs {
		require.True(t, fresh.Apply(Cursor(i+1), &s.recs[i]).Passed)
	}
	s.r.Forget("j1")
	require.Equal(t, []events.Job{"j2"}, s.r.Jobs())
	s.r.Forget("j9")
}

func TestGapsOfATerminalOverAllJobs(t *testing.T) {
	var r Runner
	at := Cursor(0)
	hear := func(job events.Job, term events.Terminal, n uint32) {
		at++
		r.Apply(at, &events.Record{Job: job, Terminal: term, N: n, At: int64(at), Event: events.LoanIn{Loan: "rag", Count: 1}})
	}
	hear("j1", "b1", 1)
	hear("j2", "b1", 2)
	hear("shop", "b1", 3)
	require.Empty(t, r.Gaps())
	hear("j1", "b1", 7)
	hear("j1", "b0", 2)
	require.Equal(t, []Gap{{"b0", 1, 1}, {"b1", 4, 6}}, r.Gaps())
	hear("j2", "b1", 5)
	require.Equal(t, []Gap{{"b0", 1, 1}, {"b1", 4, 4}, {"b1", 6, 6}}, r.Gaps())
	hear("j2", "b1", 5)
	hear("j2", "b1", 4)
	hear("j2", "b1", 6)
	hear("j2", "b0", 1)
	require.Empty(t, r.Gaps())
	require.EqualValues(t, 7, r.Last("b1"))
	require.EqualValues(t, 0, r.Last("b9"))
}

// The gaps are those numbers up to the highest that were not heard, whatever the
// order: an oracle that remembers every number.
func TestGapsAgainstASetOfNumbers(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var r Runner
		heard := map[uint32]bool{}
		high := uint32(0)
		for i, n := range rapid.SliceOf(rapid.Uint32Range(1, 40)).Draw(rt, "numbers") {
			r.Apply(Cursor(i+1), &events.Record{Job: "j", Terminal: "b1", N: n, At: int64(n), Event: events.LoanIn{Loan: "rag", Count: 1}})
			heard[n] = true
			high = max(high, n)
		}
		missing := map[uint32]bool{}
		for _, g := range r.Gaps() {
			require.LessOrEqual(rt, g.From, g.To)
			for n := g.From; n <= g.To; n++ {
				require.False(rt, missing[n])
				missing[n] = true
			}
		}
		for n := uint32(1); n <= high; n++ {
			require.Equal(rt, !heard[n], missing[n], "%d", n)
		}
	})
}

func TestOwnerOfALabel(t *testing.T) {
	s := newShop(t)
	s.open("j1")
	s.open("j2")
	s.tell("j1", "b1", events.Told, events.TagsIssued{Tags: []events.Tag{{Code: "P2AAAAAA", Noun: "part head"}}})
	s.tell("j2", "b1", events.Told, events.TagsIssued{Tags: []events.Tag{{Code: "P2BBBBBB", Noun: "part head"}}})
	s.tell("j2", "b1", events.Told, events.BagLabelled{Bag: "B2CCCCCC", Joint: "oil-pan"})
	s.tell("j2", "b1", events.Told, events.FastenerBroken{Case: "C2DDDDDD", Joint: "exhaust", Hole: "9"})
	s.tell("j1", "b1", events.Told, events.SentOut{Slip: "S2EEEEEE", Parts: []events.Part{"oil-pan"}})
	s.tell(events.ShopJob, "b1", events.Told, events.BadgeIssued{Code: "K2FFFFFF", Badge: "Ole", Initials: "O"})
	s.tell(events.ShopJob, "b1", events.Told, events.RangeReserved{Range: "AA", For: "b1"})
	s.tell(events.ShopJob, "b1", events.Told, events.RangeReserved{Range: "AA", For: "b2"})
	s.tell(events.ShopJob, "b1", events.Told, events.RangeReserved{Range: "AB", For: "b2"})
	for code, want := range map[events.Code]Owner{
		"P2AAAAAA": {"j1", "part head"}, "P2BBBBBB": {"j2", "part head"}, "B2CCCCCC": {"j2", "bag B2CCCCCC"}, "C2DDDDDD": {"j2", "case C2DDDDDD"},
		"S2EEEEEE": {"j1", "slip S2EEEEEE"}, "K2FFFFFF": {events.ShopJob, "badge Ole"},
	} {
		got, ok := s.r.Owner(code)
		require.True(t, ok, code)
		require.Equal(t, want, got)
	}
	_, ok := s.r.Owner("X2ZZZZZZ")
	require.False(t, ok)
	require.Equal(t, []Badge{{"K2FFFFFF", "Ole", "O"}}, s.r.Badges())
	require.Equal(t, []events.RangeReserved{{Range: "AA", For: "b1"}, {Range: "AB", For: "b2"}}, s.r.Ranges(), "who reserved first has it")
	s.tell(events.ShopJob, "b1", events.Told, events.TagVoided{Code: "K2FFFFFF"})
	require.Empty(t, s.r.Badges())
	require.Equal(t, []events.Job{"j2"}, s.r.Twins("j1"))
	s.tell("j2", "b1", events.Told, events.JobEnded{How: events.Suspended, Why: "waits"})
	require.Empty(t, s.r.Twins("j1"))
	require.Empty(t, s.r.Twins("j9"))
}

func TestLendings(t *testing.T) {
	s := newShop(t)
	s.open("j1")
	s.open("j2")
	line := []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 1}}
	s.tell("j1", "b1", events.Told, events.HardwareLent{Ref: "7", To: "j2", From: "place/shelf", Lines: line})
	l := s.r.Lendings()
	require.Len(t, l, 1)
	require.False(t, l[0].Whole())
	require.True(t, l[0].Concerns("j1") && l[0].Concerns("j2") && !l[0].Concerns("j3"), "half a pair is a line on both jobs")
	require.Equal(t, "1 M8x1.25x30 8.8 flange lent by job j1 to job j2, number 7: job j2 does not know of it", l[0].String())
	s.tell("j2", "b2", events.Told, events.HardwareBorrowed{Ref: "7", From: "j1", To: "place/shelf", Lines: line})
	require.True(t, s.r.Lendings()[0].Whole())
	// another number, another pair; and one whose numbers differ
	s.tell("j2", "b2", events.Told, events.HardwareBorrowed{Ref: "8", From: "j1", To: "place/shelf", Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 3}}})
	require.Contains(t, s.r.Lendings()[1].String(), "job j1 does not know of it")
	s.tell("j1", "b1", events.Told, events.HardwareLent{Ref: "8", To: "j2", From: "place/shelf", Lines: line})
	require.Equal(t, []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: -2}}, s.r.Lendings()[1].Differ)
	// a lending that is taken back is none
	j, _ := s.r.Job("j1")
	s.tell("j1", "b1", events.Told, events.Corrected{Wrong: s.r.Lendings()[0].Lent, Why: "wrong job"})
	require.NotNil(t, j)
	require.Contains(t, s.r.Lendings()[0].String(), "job j1 does not know of it")
}

func TestLosses(t *testing.T) {
	s := newShop(t)
	s.open("j1")
	s.open("j2")
	s.tell("j1", "b1", events.Told, events.MissingOnArrival{Joint: "oil-pan", Lines: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 2}}, Whose: "seller"})
	s.flywheelShort("j1")
	s.counted("j1", events.PiecesOut{Joint: "coils", To: "bag/B2BBBBBB", All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 3}}})
	j1, _ := s.r.Job("j1")
	s.tell("j1", "b1", events.Told, events.ShortEnded{Short: j1.State().ShortID(2), How: events.NeverThere})
	s.counted("j1", events.PiecesOut{Joint: "oil-pan", To: "bag/B2CCCCCC", All: true, Lines: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 12}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}})
	s.counted("j1", events.BagClosed{Bag: "B2CCCCCC", Lines: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 10}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}})
	s.tell("j1", "b1", events.Told, events.FastenerBroken{Case: "C2AAAAAA", Joint: "grounds", Hole: "1", OtherEnd: "not-found"})
	s.tell("j1", "b1", events.Told, events.ActDone{Act: events.Cranking})
	s.counted("j1", events.Counted{Place: "bag/B2AAAAAA", All: true, Lines: []events.Line{{Kind: "M10x1.0x22 10.9 12pt", Qty: 6}}})
	for i := 0; i < 23; i++ {
		s.tell("j2", "b1", events.Told, events.BagOpened{Bag: "B2ZZZZZZ"})
	}
	s.tell("j1", "b1", events.Told, events.ShortEnded{Short: j1.State().ShortID(1), How: events.Found, To: "bag/B2AAAAAA"})

	l := s.r.Losses()
	require.Len(t, l.Jobs, 2)
	sum := l.Jobs[0].Sum
	require.Equal(t, 4, sum.Opened, "one flywheel bolt, two pan bolts, one more flywheel bolt; what never came is no loss here")
	require.Equal(t, 1, sum.Found)
	require.Equal(t, 3, sum.Open)
	require.Equal(t, 3, sum.Arrival)
	require.Equal(t, 1, sum.Broken)
	require.Equal(t, 1, sum.OtherEnds)
	require.Equal(t, map[Stage]int{AtRemoval: 1, InBag: 3}, sum.Where)
	require.Equal(t, map[Catch]int{CaughtAtRemoval: 1, CaughtAtClose: 2, CaughtAtStart: 1}, sum.Caught)
	require.Equal(t, 7+3+16+1+1+6, sum.Handled, "bolts out, one broken, one found, and flywheel, coils and pan")
	first := l.Jobs[0].Lines[0]
	require.Equal(t, "flywheel", first.Position)
	require.Equal(t, events.Found, first.Ending)
	require.InDelta(t, float64(s.at-first.Shown)/(24*float64(hour)), first.Days, 1e-9)
	require.Equal(t, []float64{first.Days}, sum.Days)
	require.InDelta(t, 1, l.Jobs[0].Lines[1].Hours, 1e-9, "the bag was counted an hour before it was closed")
	rate, low, high := sum.PerThousand()
	require.InDelta(t, 4*1000.0/34, rate, 1e-9)
	require.True(t, low < rate && rate < high)
	require.Equal(t, 4, l.Total.Opened)

	// no name of a person comes out, whoever counted
	b, err := json.Marshal(l)
	require.NoError(t, err)
	require.False(t, strings.Contains(string(b), "Marit") || strings.Contains(string(b), "Berg"))
	b, err = json.Marshal(s.r.Repeats())
	require.NoError(t, err)
	require.False(t, strings.Contains(string(b), "Marit"))
}

// Losses do not depend on the order in which late facts arrived.
func TestLossesOfLateFacts(t *testing.T) {
	s := newShop(t)
	s.open("j1")
	s.flywheelShort("j1")
	s.counted("j1", events.PiecesOut{Joint: "coils", To: "bag/B2BBBBBB", All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 3}}})
	s.counted("j1", events.Counted{Place: "bag/B2BBBBBB", All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 2}}})
	want := s.r.Losses()
	var other Runner
	for i, at := range []int{3, 1, 0, 2} {
		other.Apply(Cursor(i+1), &s.recs[at])
	}
	require.Equal(t, want, other.Losses())
}

func TestRepeatedPositions(t *testing.T) {
	s := newShop(t)
	for _, j := range []events.Job{"j1", "j2", "j3", "j4"} {
		s.open(j)
		s.tell(j, "b1", events.Told, events.FastenerBroken{Case: events.Code("C" + j), Joint: "exhaust", Hole: "9", OtherEnd: "in-hand"})
	}
	require.Equal(t, []Repeat{{"Sorrel I4-20", "exhaust", 4, 4 / 46.0, 46, 4}}, s.r.Repeats())
}

// Exact 95 % intervals of a Poisson count, from tables (Garwood 1936, as
// reproduced in many textbooks).
func TestPoissonInterval(t *testing.T) {
	for _, row := range []struct {
		n         int
		low, high float64
	}{{0, 0, 3.689}, {1, 0.025, 5.572}, {2, 0.242, 7.225}, {5, 1.623, 11.668}, {10, 4.795, 18.390}, {50, 37.111, 65.919}, {100, 81.364, 121.627}} {
		low, high := PoissonInterval(row.n)
		require.InDelta(t, row.low, low, max(0.02, 0.01*row.low), "%d", row.n)
		require.InDelta(t, row.high, high, 0.01*row.high, "%d", row.n)
	}
	low, high := PoissonInterval(-1)
	require.Zero(t, low)
	require.Zero(t, high)
	_, high = PoissonInterval(math.MaxInt32)
	require.False(t, math.IsInf(high, 0))
	rate, low, high := (&Sum{Opened: 3}).PerThousand()
	require.Zero(t, rate+low+high)
}

// A bolt of one Sorrel lies in a bag of its twin: the one is short, the other
// has one too many, and the two are one act.
func TestExplainOverTwins(t *testing.T) {
	s := newShop(t)
	s.open("j1")
	s.open("j2")
	for _, j := range []events.Job{"j1", "j2"} {
		s.tell(j, "b1", events.Told, events.BagLabelled{Bag: events.Code("B2" + j), Joint: "coils"})
		s.counted(j, events.PiecesOut{Joint: "coils", To: events.Place("bag/B2" + j), All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 4}}})
	}
	s.counted("j1", events.Counted{Place: "bag/B2j1", All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 3}}})
	s.counted("j2", events.Counted{Place: "bag/B2j2", All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 5}}})
	x := s.r.Explain("j1")
	require.Len(t, x, 1)
	require.Len(t, x[0].Shorts, 2)
	require.Contains(t, x[0].Answers[0].Acts[0], "1 M6x1.0x25 went from bag B2j1 to job j2, bag B2j2")
	require.Nil(t, s.r.Explain("j9"))
}
