package engine

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/fastener"
	"countback/projections/plan"
)

func whose(t testing.TB, c *crew, text string) Homes {
	m, err := fastener.ParseMeasured(text)
	require.NoError(t, err)
	return c.job.Whose(m)
}

// countedBag takes a joint out into its own bag, some of a kind missing.
func (c *crew) countedBag(j events.Joint, lacks events.Kind, n int) events.Code {
	ji, ok := c.plan().Joint(j)
	require.True(c.t, ok)
	bag := c.bagOf(j)
	var lines []events.Line
	for _, ix := range c.plan().Joints[ji].Seats {
		for _, m := range c.plan().Seats[ix].Members {
			if !m.Stays && c.s().Now().Seat(ix) != plan.SeatAbsent {
				lines = addLine(lines, m.Kind)
			}
		}
	}
	for i := range lines {
		if lines[i].Kind == lacks {
			lines[i].Qty -= n
		}
	}
	c.counted(events.PiecesOut{Joint: j, To: events.Place("bag/" + bag), Lines: lines, All: true})
	return bag
}

func TestWhose(t *testing.T) {
	const m8 = "M8x1.25x30 8.8 flange"
	c := newCrew(t)
	whole := whose(t, c, "M8x1.25x30")
	require.NotEmpty(t, whole.List)
	for _, h := range whole.List {
		require.Empty(t, h.Want, "%s: everything is in", h.Joint)
		require.Zero(t, h.Short)
	}
	bag := c.countedBag("front-cover", m8, 1)
	h := whose(t, c, "7.85x1.25x30")
	require.Equal(t, events.Joint("front-cover"), h.List[0].Joint, "the one that is short comes first")
	require.Equal(t, 1, h.List[0].Short)
	require.Len(t, h.List[0].Shorts, 1)
	require.Contains(t, h.Text, "which is short of 1")
	require.Contains(t, h.Next, "bag "+string(bag))
	require.Contains(t, h.Next, "not known: form, class, head")
	require.Empty(t, whose(t, c, "M30x3.5").List)
	require.Contains(t, whose(t, c, "M30x3.5").Text, "No hole of this engine takes M30x3.5")
	near := whose(t, c, "M8x1.0x30")
	require.Empty(t, near.List)
	require.NotEmpty(t, near.Near)
	require.Contains(t, near.Text, "differs in pitch")
	unknown := whose(t, c, "M8x1.25")
	require.Greater(t, len(unknown.List), len(h.List), "an unknown length fits more")
	require.Positive(t, unknown.List[0].Short)
}

// Of equal pieces without a hole of their own, any home that lacks one will do.
func TestWhoseSaysWhereHomesAreEqual(t *testing.T) {
	c := newCrew(t)
	p := c.plan()
	byKind := map[events.Kind][]events.Joint{}
	for i := range p.Joints {
		if len(p.Joints[i].Seats) < 2 {
			continue
		}
		if m, ok := p.Seats[p.Joints[i].Seats[0]].Turned(); ok && !m.Stays && p.Seats[p.Joints[i].Seats[0]].OwnSeat == plan.AnySeat {
			byKind[m.Kind] = append(byKind[m.Kind], p.Joints[i].ID)
		}
	}
	tried := false
	for _, k := range c.s().lay.kinds {
		joints := byKind[k]
		if len(joints) < 2 {
			continue
		}
		tried = true
		c.countedBag(joints[0], k, 1)
		c.countedBag(joints[1], k, 1)
		h := whose(t, c, string(k))
		require.NotZero(t, h.List[0].Equal)
		require.Equal(t, h.List[0].Equal, h.List[1].Equal)
		require.Contains(t, h.Text, "any of these, they are equal")
		break
	}
	require.True(t, tried)
}

// The slow way: a home is every joint with a hole that has a member of a kind
// which differs in nothing that is known.
func TestWhoseFindsEveryHome(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	p := c.plan()
	kinds := c.s().lay.kinds
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(kinds).Draw(t, "kind")
		m, err := fastener.ParseMeasured(string(k))
		if err != nil {
			return
		}
		if rapid.Bool().Draw(t, "no class") {
			m.Spec.Class = ""
		}
		if rapid.Bool().Draw(t, "no length") {
			m.Spec.LengthMm, m.Spec.Form, m.Spec.Head = 0, "", ""
		}
		want := map[string]int{}
		for i := range p.Seats {
			if c.s().Now().Seat(plan.SeatIndex(i)) == plan.SeatAbsent {
				continue
			}
			for n, mb := range p.Seats[i].Members {
				if m.Like(mb.Spec).Yes() && c.s().seats[i].in&(1<<n) == 0 {
					want[string(p.Joints[p.Seats[i].Joint].ID)+" "+string(mb.Kind)]++
				}
			}
		}
		got := map[string]int{}
		for _, h := range c.job.Whose(m).List {
			require.NotContains(t, got, string(h.Joint)+" "+string(h.Kind))
			if len(h.Want) > 0 {
				got[string(h.Joint)+" "+string(h.Kind)] = len(h.Want)
			}
			require.LessOrEqual(t, h.Short, len(h.Want))
		}
		require.Equal(t, want, got, "%s", m)
	})
}

func BenchmarkWhose(b *testing.B) {
	c := apartSorrel(b)
	m, err := fastener.ParseMeasured("7.85x1.25x30")
	require.NoError(b, err)
	againstFold(b, c, func() { viewSink += len(strings.TrimSpace(c.job.Whose(m).Text)) })
}

func mustMeasure(text string) fastener.Measured {
	m, err := fastener.ParseMeasured(text)
	if err != nil {
		panic(err)
	}
	return m
}

// An engine in inch sizes: a caliper in millimetres or in inches finds the same
// holes, and a tipped tray is sorted back there too.
func TestWhoseInInches(t *testing.T) {
	text, err := os.ReadFile("../../testdata/plans/bramble-t2-42.yaml")
	require.NoError(t, err)
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.told(c.ask(OpenJob{Engine: "Bramble", Plan: string(text)}))
	for _, found := range []string{"5/16-18x1-1/4", "0.307in x 18tpi x 1-1/4in", "7.80x1.411x31.7", "7.8x18tpi"} {
		h := whose(t, c, found)
		require.NotEmpty(t, h.List, found)
		for _, home := range h.List {
			require.Contains(t, string(home.Kind), "5/16-18", found)
		}
	}
	// without its pitch it may be a metric one, and this engine has none
	require.NotEmpty(t, whose(t, c, "7.8").List)
	require.Empty(t, whose(t, c, "7.8x1.25").List, "no hole of it is metric")

	cover, tank := c.countedBag("gear-cover", "", 0), c.countedBag("fuel-tank", "", 0)
	inCover, inTank := c.s().At(bagPlace(cover)), c.s().At(bagPlace(tank))
	c.tip(cover)
	c.tip(tank)
	c.sort()
	require.ElementsMatch(t, inCover, c.s().At(bagPlace(cover)))
	require.ElementsMatch(t, inTank, c.s().At(bagPlace(tank)))
}
