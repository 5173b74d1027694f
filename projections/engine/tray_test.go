package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

func TestATrayIsWalkedUp(t *testing.T) {
	c := newCrew(t)
	bag := c.countedBag("flywheel", "", 0)
	c.told(events.Carried{What: bagPlace(bag), To: TrayPlace("7")})
	c.told(events.Carried{What: TrayPlace("7"), With: "Ole"})
	up := c.s().Holder(bagPlace(bag))
	require.Len(t, up, 2)
	require.Contains(t, up[1], "tray 7 is with Ole")
	require.Contains(t, c.job.Where("bag "+string(bag)).Now, capital(up[1]))
	ev, err := c.job.Decide(Tell{events.Carried{What: TrayPlace("7"), With: "Ole"}})
	require.NoError(t, err)
	require.Nil(t, ev, "he has it already")

	c.told(events.TrayIssued{Tray: TrayPlace("7"), Holds: 2})
	c.told(events.PiecesMoved{From: bagPlace(bag), To: TrayPlace("7")})
	require.Equal(t, "tray 7 holds 8, and takes 2", c.s().TooMany(TrayPlace("7"), 0))
	require.Empty(t, c.s().TooMany(TrayPlace("7"), 8), "the shop knows better")
	no := c.refused(PutIn{To: TrayPlace("7"), Lines: []events.Line{{Kind: "M8x1.25x30", Qty: 1}}, Tray: TrayNow{Others: "3 pieces of job 4K9"}})
	require.Contains(t, no.Fact, "two jobs in one tray")
}

// A tray that stands in another, directly or not, is no place for that one.
func TestTraysDoNotStandInEachOther(t *testing.T) {
	c := newCrew(t)
	carry := func(what, to string) Tell { return Tell{events.Carried{What: TrayPlace(what), To: TrayPlace(to)}} }
	c.told(c.ask(carry("3", "4")))
	no := c.refused(carry("4", "3"))
	require.Equal(t, Malformed, no.Code)
	require.Contains(t, no.Fact, "tray 4 cannot go into tray 3: tray 3 is in tray 4 since 11 May")
	require.Contains(t, no.Next, "say first where tray 3 is")
	c.told(c.ask(carry("4", "5")))
	require.Contains(t, c.refused(carry("5", "3")).Fact, "tray 3 is in tray 4 since 11 May, tray 4 is in tray 5")
	require.Contains(t, c.refused(carry("5", "5")).Fact, "tray 5 cannot be in itself")
	c.told(c.ask(Tell{events.Carried{What: TrayPlace("3"), To: "bench/b1"}}))
	c.told(c.ask(carry("5", "3")))
	require.Len(t, c.s().Holder(TrayPlace("4")), 3, "up to the bench")
}

// However trays and bags are said to lie in each other, a walk up ends, and
// nothing is ever in itself.
func TestAWalkUpEnds(t *testing.T) {
	places := []events.Place{"place/tray-1", "place/tray-2", "place/tray-3", "bag/B2AAAAAA", "bench/b1", ""}
	rapid.Check(t, func(t *rapid.T) {
		c := &crew{job: &Job{}, name: "b2", at: 1, tick: 1}
		for range rapid.IntRange(1, 12).Draw(t, "facts") {
			c.told(events.Carried{What: rapid.SampledFrom(places).Draw(t, "what"), To: rapid.SampledFrom(places).Draw(t, "to"), With: "Ole"})
		}
		for _, p := range places {
			require.False(t, c.s().insideOf(p, p), p)
			require.LessOrEqual(t, len(c.s().Holder(p)), len(places))
		}
	})
}

func TestAMaskThatDidNotComeOff(t *testing.T) {
	c := newCrew(t)
	c.countedBag("mount-bracket", "", 0)
	c.countedBag("front-cover", "", 0)
	c.told(events.BatchOpened{Batch: "w", What: "wash", Parts: []events.Part{"front-cover"}, Masks: []events.Line{{Kind: "masking plug", Qty: 6}}})
	require.Contains(t, texts(c.job.Can("cover-on")), "is in batch w")
	require.True(t, hasCode(c.job, RedBatch))
	c.counted(events.BatchClosed{Batch: "w", Masks: []events.Line{{Kind: "masking plug", Qty: 5}}, Cure: 60})
	require.False(t, hasCode(c.job, RedBatch))
	d := c.job.Differences()
	require.Len(t, d, 1)
	require.Contains(t, texts(c.job.Can("cover-on")), "cures until")
	c.job.Clock(c.at + 61*60_000_000)
	require.NotContains(t, texts(c.job.Can("cover-on")), "cures until")
	require.NoError(t, c.s().book.Verify())
}

// A part that is scanned into a second tray is in that one only.
func TestAPartIsInOnePlaceOnly(t *testing.T) {
	c := newCrew(t)
	c.countedBag("flywheel", "", 0)
	one := []events.Line{{Kind: "flywheel", Qty: 1}}
	c.told(events.PiecesMoved{From: c.s().PartAt("flywheel"), To: TrayPlace("1"), Lines: one})
	c.told(events.PiecesMoved{From: c.s().PartAt("flywheel"), To: TrayPlace("2"), Lines: one})
	require.Empty(t, c.s().At(TrayPlace("1")))
	require.Len(t, c.s().At(TrayPlace("2")), 1)
	require.Equal(t, TrayPlace("2"), c.s().PartAt("flywheel"))
}
