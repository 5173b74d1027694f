package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// Battery and fuel are as they were found last by when that was, not by when it
// was told (R25).
func TestASourceIsAsItWasFoundLast(t *testing.T) {
	on := events.SourceConfirmed{Source: events.Battery, On: true}
	off := events.SourceConfirmed{Source: events.Battery}
	for _, row := range []struct {
		name string
		do   func(c *crew, now float64)
		want string // against turning by hand; empty: nothing
	}{
		{"off yesterday, told after on", func(c *crew, now float64) { c.told(on); c.past(events.Told, now-30, now-24, off) }, "Battery on since 11 May"},
		{"off this morning, told after on", func(c *crew, now float64) { c.told(on); c.past(events.Told, now-2, now-1, off) }, "Battery on since 11 May"},
		{"off at some time today, told after on", func(c *crew, now float64) { c.told(on); c.past(events.Told, now-2, now+1, off) }, "Battery: not confirmed as off, 11 May"},
		{"in doubt, and looked at again", func(c *crew, now float64) {
			c.told(on)
			c.past(events.Told, now-2, now+1, off)
			c.at += 7.2e9
			c.told(off)
		}, ""},
		{"off yesterday and nothing else", func(c *crew, now float64) { c.past(events.Told, now-30, now-24, off) }, "Battery: not confirmed as off, 11 May"},
		{"off since yesterday perhaps", func(c *crew, now float64) { c.past(events.Told, now-30, now, off) }, "Battery: not confirmed as off, 11 May"},
		{"off an hour ago", func(c *crew, now float64) { c.past(events.Told, now-1, now-0.5, off) }, ""},
		{"on yesterday, told after off", func(c *crew, now float64) { c.told(off); c.past(events.Told, now-30, now-24, on) }, ""},
		{"cranked yesterday, told after off", func(c *crew, now float64) {
			c.told(off)
			c.past(events.Told, now-30, now-24, events.ActDone{Act: events.Cranking})
		}, ""},
		{"off yesterday, and found off again today", func(c *crew, now float64) { c.past(events.Told, now-30, now-24, off); c.told(off) }, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := newCrew(t)
			row.do(c, c.hours(c.at))
			if row.want == "" {
				require.Empty(t, c.job.MayDo(events.Turning))
				return
			}
			require.Contains(t, texts(c.job.MayDo(events.Turning)), row.want)
		})
	}
}

// What was seen before the cautions of a case were confirmed does not shake them.
func TestAnOlderWordDoesNotShakeTheCautions(t *testing.T) {
	c := newCrew(t)
	c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", OtherEnd: "in-hand"})
	c.told(events.HotWorkConfirmed{Case: "C2AAAAAA", Cautions: CautionIDs()})
	require.True(t, c.s().hotToday())
	now := c.hours(c.at)
	c.past(events.Told, now-30, now-24, events.SourceConfirmed{Source: events.Fuel, On: true})
	require.True(t, c.s().hotToday())
	c.told(events.SourceConfirmed{Source: events.Fuel, On: true})
	require.False(t, c.s().hotToday())
}

// Words about times that do not touch give the same whatever the order in which
// they are told: the latest holds.
func TestSourcesByWhenTheyHappened(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		words := rapid.SliceOfN(rapid.Bool(), 1, 8).Draw(rt, "words")
		order := make([]int, len(words))
		for i := range order {
			order[i] = i
		}
		c := newCrew(t)
		now := c.hours(c.at)
		for _, i := range rapid.Permutation(order).Draw(rt, "order") {
			at := now - 40 + 2*float64(i)
			c.past(events.Told, at, at+1, events.SourceConfirmed{Source: events.Fuel, On: words[i]})
		}
		seen := c.s().sources.fuel
		require.Equal(rt, words[len(words)-1], seen.on)
		require.False(rt, seen.unsure)
		require.InDelta(rt, now-40+2*float64(len(words)-1), c.hours(seen.from), 1e-6)
	})
}
