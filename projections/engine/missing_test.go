package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/ledger"
)

// oracle shares the pieces of one kind in the plainest way: piece by piece, in
// the order of the wants, each taking the piece that the fewest others could
// use. Within one kind that is exact, since what one rule allows lies within
// what the next allows.
func oracle(h *hardware) []int32 {
	got := make([]int32, len(h.wants))
	left := map[ledger.KindID]map[events.Condition]int32{}
	for _, st := range h.stock {
		if left[st.kind] == nil {
			left[st.kind] = map[events.Condition]int32{}
		}
		left[st.kind][st.cond] += st.n
	}
	for i := range h.wants {
		w := &h.wants[i]
		for range w.n {
			for _, c := range []events.Condition{events.AsFound, events.Used, events.MeasuredGood, events.New} {
				if w.rule.allows(c) && left[w.kind][c] > 0 {
					left[w.kind][c]--
					got[i]++
					break
				}
			}
		}
	}
	return got
}

// Whatever lies about, every step gets what the plainest sharing would give it,
// nothing condemned, no sample, nothing twice, and single-use pieces only new.
func TestSharesAgainstThePlainestSharing(t *testing.T) {
	base := newCrew(t)
	base.takeApart()
	for i := range base.s().lay.alike {
		require.Empty(t, base.s().lay.alike[i], "no two kinds of the Sorrel stand in for each other")
	}
	kinds := base.s().lay.kinds
	rapid.Check(t, func(rt *rapid.T) {
		c := newCrew(t)
		c.job = &Job{}
		c.job.Load(base.recs)
		c.n = base.n
		for range rapid.IntRange(0, 30).Draw(rt, "deliveries") {
			k := rapid.SampledFrom(kinds).Draw(rt, "kind")
			n := rapid.IntRange(1, 12).Draw(rt, "n")
			cond := rapid.SampledFrom([]events.Condition{events.New, events.Used, events.MeasuredGood, events.Condemned, events.Sample}).Draw(rt, "cond")
			c.told(events.HardwareReceived{From: "outside/drawer", To: rapid.SampledFrom([]events.Place{"stock/a", "stock/b", "place/shelf"}).Draw(rt, "to"),
				Lines: []events.Line{{Kind: k, Qty: n, Cond: cond}}})
		}
		for range rapid.IntRange(0, 20).Draw(rt, "losses") {
			j := rapid.SampledFrom(c.plan().Joints).Draw(rt, "joint")
			bag := events.Place("bag/" + base.bags[j.ID])
			if lines := c.s().At(bag); len(lines) > 0 {
				l := rapid.SampledFrom(lines).Draw(rt, "line")
				c.told(events.PiecesScrapped{From: bag, Lines: []events.Line{{Kind: l.Kind, Qty: rapid.IntRange(1, l.Qty).Draw(rt, "lost")}}})
			}
		}
		h := c.s().allot()
		want := oracle(h)
		given := make([]int32, len(h.supplies))
		for i := range h.wants {
			w := &h.wants[i]
			require.Equal(rt, want[i], w.got, "%s of %s", c.s().book.KindName(w.kind), c.plan().Steps[w.step].ID)
			for _, tk := range h.sharing.Shares[i].From {
				st := &h.stock[h.supplies[tk.Supply].Class]
				require.Equal(rt, w.kind, st.kind)
				require.True(rt, w.rule.allows(st.cond))
				given[tk.Supply] += tk.Qty
			}
		}
		for i := range given {
			require.LessOrEqual(rt, given[i], h.supplies[i].Qty)
		}
		for _, m := range c.job.Missing() {
			require.Equal(rt, m.Need-m.Have, m.Missing)
			require.True(rt, m.Missing > 0 || m.Robs != "")
		}
	})
}

func TestAKindThatSaysLessStandsIn(t *testing.T) {
	c := coverOff(t)
	c.do("pump-strip")
	c.told(events.PiecesScrapped{From: events.Place("bag/" + c.bagOf("pump-plate")), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 5}}})
	c.told(events.PiecesScrapped{From: events.Place("bag/" + c.bagOf("grounds")), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 6}}})
	require.NotEmpty(t, c.job.Can("pump-build"))
	for _, row := range []struct {
		kind events.Kind
		fits bool
	}{
		{"M6x1.0x20 8.8 flange", false}, {"M6x0.75x16 8.8 flange", false}, {"M6x1.0x16 10.9 flange", false}, {"M6x1.0x16 8.8 flange (thread-lock patch)", false},
		{"M6x1.0x16", true}, {"M6x16 8.8 flange", true}, {"M6x1.0x16 8.8 flange", true},
	} {
		d := &crew{t: t, job: &Job{}, name: c.name, who: c.who, n: c.n, at: c.at, tick: c.tick, bags: c.bags}
		d.job.Load(c.recs)
		d.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "stock/spare", Lines: []events.Line{{Kind: row.kind, Qty: 5}}})
		require.Equal(t, row.fits, len(d.job.Can("pump-build")) == 0, "%s: %v", row.kind, d.job.Can("pump-build"))
	}
}

func TestMissingSaysWhereToLook(t *testing.T) {
	c := coverOff(t)
	bag := events.Place("bag/" + c.bagOf("front-cover"))
	lines := c.s().At(bag)
	for i := range lines {
		if lines[i].Kind == "M8x1.25x45 8.8 flange" {
			lines[i].Qty = 2
		}
	}
	c.counted(events.Counted{Place: bag, Lines: lines, All: true})
	var m Shortfall
	for _, x := range c.job.Missing() {
		if x.Step == "cover-on" && x.Kind == "M8x1.25x45 8.8 flange" {
			m = x
		}
	}
	require.Equal(t, 2, m.Missing)
	require.Equal(t, []events.Seat{"front-cover:18", "front-cover:19", "front-cover:20", "front-cover:22"}, m.Seats)
	require.Equal(t, []Source{{bag, "M8x1.25x45 8.8 flange", "", 2}}, m.From)
	require.Len(t, m.Shorts, 1)
	require.Contains(t, m.Look, "Timing case, open")
	require.Contains(t, m.Look, "wash tank")
	require.Equal(t, "scan short 1, FOUND; or scan place shelf, RECEIVED", func() string {
		for _, b := range c.job.Can("cover-on") {
			if b.Text == "M8x1.25x45: 2 of 4 that may go in" {
				return b.Clear
			}
		}
		return ""
	}())
}
