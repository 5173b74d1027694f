package engine

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
)

func TestWhere(t *testing.T) {
	c := coverOff(t)
	c.told(events.TagsIssued{Tags: []events.Tag{{Code: "P2AAAAAA", Noun: "part front-cover"}}})
	w := c.job.Where("part front-cover")
	require.True(t, w.Known)
	require.Equal(t, []string{"Front cover: shelf"}, w.Now)
	require.Equal(t, "Front cover off, into shelf, counted 1", w.History[len(w.History)-1].Text)
	require.Equal(t, "Marit", w.History[0].Who)
	require.NotZero(t, w.Seen)
	byTag := c.job.Where("P2AAAAAA")
	require.Equal(t, w, byTag)
	require.Equal(t, w, c.job.Where("front-cover"), "a bare id is a part before it is a joint")

	w = c.job.Where("part valves-intake")
	require.Equal(t, "Valves intake on Head", w.Now[0])
	require.Equal(t, "Head on "+c.plan().Parts[0].Name, w.Now[1])
	require.Empty(t, w.History)

	bag := c.bagOf("front-cover")
	w = c.job.Where("bag " + string(bag))
	require.Equal(t, []string{"Bag " + string(bag) + ": 5 M10x1.5x50, 4 M12x1.25x65, 1 M6x1.0x25, 8 M8x1.25x30, 4 M8x1.25x45"}, w.Now)
	require.GreaterOrEqual(t, len(w.History), 3)
	require.Equal(t, w, c.job.Where(string(bag)))

	w = c.job.Where("M6x1.0x25")
	require.Equal(t, "kind M6x1.0x25", w.Noun)
	var places []string
	for _, s := range w.Sources {
		places = append(places, string(s.Place))
	}
	require.Contains(t, places, "bag/"+string(bag))
	require.Contains(t, strings.Join(w.Now, "; "), "1 M6x1.0x25 in bag "+string(bag))

	w = c.job.Where("hole front-cover:18")
	require.Equal(t, []string{"nothing", "in block 1"}, w.Now)
	require.Equal(t, HoleCard{Seat: "front-cover:18", Wants: []events.Kind{"M8x1.25x45 8.8 flange"}, Now: "nothing",
		Window: "M8x1.25x45 in this hole: 16.0 mm enters, 16.5 mm may: it fits", From: []Source{{events.Place("bag/" + bag), "M8x1.25x45 8.8 flange", "", 4}},
		Stages: 0, Of: 1, Under: []string{"Front cover"}, Next: []events.Step{"cover-on"}}, *w.Hole)

	c.told(events.LoanIn{Loan: "rag", Count: 2, Where: "valley"})
	require.Equal(t, []string{"Rags, 2 in since 11 May (valley)"}, c.job.Where("loan rag").Now)
	c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", Stub: events.Below, OtherEnd: "in-hand"})
	require.Contains(t, c.job.Where("case C2AAAAAA").Now[0], "Exhaust manifold to head 9, M8x1.25x45 stud broken 11 May")
	require.Equal(t, []string{"a stub", "in head 1"}, c.job.Where("hole exhaust:9").Now)
	c.told(c.ask(ExtractStud{Case: "C2AAAAAA", Hole: events.HoleInsert, DepthMm: 22}))
	require.Equal(t, "insert, 22 mm deep", c.job.Where("hole exhaust:9").Hole.Became)
	require.Equal(t, []string{"open", "leads to Sump"}, c.job.Where("cavity timing-case").Now)
	c.told(events.PartRemoved{Part: "cam-sensors", Positions: []events.Hole{"intake"}, To: "place/shelf"})
	require.Equal(t, []string{"Cam sensors: 1 in shelf and 1 in bench b2, loose of Cam sensors"}, c.job.Where("part cam-sensors").Now)
	c.told(events.PartRemoved{Part: "coils", Positions: []events.Hole{"1"}})
	for _, n := range []string{"part ghost", "hole ghost:1", "joint ghost", "bag B9ZZZZZZ", "loan ghost", "case C9", "cavity ghost", "kind M99x9", "", "ghost"} {
		require.False(t, c.job.Where(n).Known, n)
	}
}

func TestWhereOfWhatIsAway(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	w := c.job.Where("part head")
	require.Equal(t, []string{"Head is away since 12 May, slip S2AAAAAA to the machine shop"}, w.Now)
	require.Equal(t, "Head sent out on slip S2AAAAAA to the machine shop", w.History[len(w.History)-1].Text)
	require.Contains(t, c.job.Where("slip S2AAAAAA").Now[0], "1 Head")
}

// Every kind of fact has a sentence, and a corrected one says so.
func TestEveryKindHasASentence(t *testing.T) {
	c := newCrew(t)
	for _, name := range events.Names() {
		ev, ok := events.Zero(name)
		require.True(t, ok)
		require.NotEmpty(t, c.s().Tells(ev), name)
		require.NotEqual(t, name, c.s().Tells(ev), "%s has no sentence of its own", name)
	}
	c.do("check-in")
	f := c.job.index(events.FactID{Terminal: "b2", N: c.n})
	c.told(events.Corrected{Wrong: events.FactID{Terminal: "b2", N: c.n}, Why: "test"})
	require.Equal(t, "taken back: Checked in and photographed: done", c.s().Sentence(ledger.Fact(f+1)))
	c.told(events.MarkMade{Mark: "checked-in"})
	f = c.job.index(events.FactID{Terminal: "b2", N: c.n})
	c.told(events.Corrected{Wrong: events.FactID{Terminal: "b2", N: c.n}, Instead: events.LoanIn{Loan: "rag", Count: 2}, Why: "wrong card"})
	require.Equal(t, "2 Rags in (corrected)", c.s().Sentence(ledger.Fact(f+1)))
	require.Empty(t, c.s().Sentence(0))
}

func TestIntake(t *testing.T) {
	c := newCrew(t)
	c.told(events.MissingOnArrival{Joint: "oil-pan", Lines: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 2}}, Whose: "seller"})
	c.told(events.MissingOnArrival{Part: "heat-shield", Whose: "owner"})
	c.told(events.DamagedOnArrival{Joint: "exhaust", Hole: "3", What: "stud bent", Whose: "owner"})
	ch := c.counted(events.PiecesOut{Joint: "coils", To: "bag/B9AAAAAA", All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 3}}})
	c.told(events.ShortEnded{Short: c.s().ShortID(ch.Opened.First), How: events.NeverThere})
	list := c.job.Intake()
	require.Len(t, list, 4)
	require.Equal(t, IntakeLine{On: "joint oil-pan", Name: "Oil pan", Kind: "M6x1.0x20 8.8 flange", Missing: 2, Of: 14, Whose: "seller", Fact: 2}, list[0])
	require.Equal(t, IntakeLine{On: "part heat-shield", Name: "Heat shield", Kind: "heat-shield", Missing: 1, Of: 1, Whose: "owner", Fact: 3}, list[1])
	require.Equal(t, "stud bent", list[2].Damage)
	require.Equal(t, "Exhaust manifold to head hole 3", list[2].Name)
	require.Equal(t, 1, list[3].Missing)
	require.Empty(t, c.job.Differences(), "what was missing on arrival is no loss of this shop")
}
