package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// The steps that can be done while the head is away, as they were worked out by
// hand for the Sorrel.
var whileHeadIsAway = []events.Step{
	"piston-1-built", "piston-2-built", "piston-3-built", "piston-4-built", "bedplate-shells-in", "rear-seal-in", "front-seal-in",
	"pump-build", "cam-cover-build", "intake-build", "rail-build",
	"plugs-in", "shells-in", "crank-on", "mains-tried", "bedplate-on", "end-play", "rear-seal-on", "liners-clamped",
	"rod-1-on", "rod-2-on", "rod-3-on", "rod-4-on", "pickup-on", "balance-on", "sprocket-on", "holes-dried", "thermostat-on",
}

func TestWhatNowWhileTheHeadIsAway(t *testing.T) {
	c := newCrew(t)
	did := c.takeApart()
	for _, n := range c.job.WhatNow() {
		if n.Section.Apart() && n.Step != "chain-hung" {
			require.Contains(t, did, n.Step, "%v", n.Blockers)
		}
	}
	require.Empty(t, c.job.Differences())
	c.buy()
	did = nil
	for again := true; again; {
		again = false
		for _, n := range c.job.WhatNow() {
			if !n.Section.Apart() && n.State == CanStart && n.Step != "head-back" {
				c.do(n.Step)
				did = append(did, n.Step)
				again = true
				break
			}
		}
	}
	require.ElementsMatch(t, whileHeadIsAway, did)
	require.NoError(t, c.s().Book().Verify())
}
