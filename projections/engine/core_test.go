package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// A head that must stay whole: the step that would void the credit is held and
// says so, the tell is stored, and the credit stays void when it is put
// together again.
func TestACoreThatMustStayWhole(t *testing.T) {
	c := newCrew(t)
	c.told(events.CaughtUp{Deepest: "head"})
	c.told(events.CoreAgreed{Part: "head", Supplier: "fjord", Deposit: 120050, Currency: "EUR", Due: events.DayOf(c.at).Plus(10), Whole: true,
		With: []events.Part{"lift-bracket-front"}})
	const would = "Head goes back to fjord, 1200.50 EUR: it must not be taken apart, and this step would void the credit"
	require.Contains(t, textsOf(c.job.Can("head-strip")), would)
	require.NotContains(t, textsOf(c.job.Can("pan-off")), would)
	require.Equal(t, 10, c.job.Cores()[0].DaysLeft)
	require.Contains(t, redTexts(c), "10 days left")

	c.told(events.PartRemoved{Part: "springs", Counted: 16})
	require.NotZero(t, c.job.Cores()[0].Void)
	require.Contains(t, redTexts(c), "the credit is void since")
	for _, b := range c.job.Can("head-strip") {
		require.NotContains(t, b.Text, "would void", "what is void is not voided again")
	}
	c.told(events.PartFitted{Part: "springs", Counted: 16})
	require.NotZero(t, c.job.Cores()[0].Void)

	no := c.refused(SendCore{Part: "head"})
	require.Contains(t, no.Fact, "the credit is void")
	c.told(events.CoreSent{Part: "head"})
	require.Contains(t, c.job.Where("part head").Now[0], "off")
	c.told(events.CoreCredited{Part: "head", Credit: 90000, Off: []events.Deduction{{Amount: 30000, Why: "stripped"}}})
	v := c.job.Cores()[0]
	require.Equal(t, int64(30000), v.Deducted)
	require.Equal(t, int64(50), v.Unexplained)
	require.NotContains(t, redTexts(c), "credit is void")
	require.NoError(t, c.s().Book().Verify())
	require.Equal(t, Unknown, c.refused(SendCore{Part: "oil-pan"}).Code)
	require.Equal(t, Unknown, c.refused(SendCore{Part: "ghost"}).Code)
}

// The old head that was exchanged before is the core: what is on the job now may
// be taken apart, and the book does not lose the new one.
func TestACoreThatWasExchangedBefore(t *testing.T) {
	c := newCrew(t)
	c.told(events.CaughtUp{Deepest: "head"})
	c.told(events.CoreAgreed{Part: "head", Supplier: "fjord", Whole: true})
	c.told(c.ask(Exchange{Part: "head", Why: "cracked"}))
	at := c.s().PartAt("head")
	require.Empty(t, c.job.Cores()[0].Void)
	c.told(c.ask(SendCore{Part: "head"}))
	require.Equal(t, at, c.s().PartAt("head"))
	require.NoError(t, c.s().Book().Verify())
}

// What the owner brought is in one place or another: in less fitted, used up and
// given back is what is here.
func TestTheOwnersThingsAddUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := newCrew(t)
		kind := events.Kind("M8x1.25x45 8.8 flange")
		in := 0
		for range rapid.IntRange(1, 3).Draw(r, "times") {
			n := rapid.IntRange(1, 6).Draw(r, "in")
			in += n
			c.told(events.OwnerBrought{To: "place/shelf", Lines: []events.Line{{Kind: kind, Qty: n}}})
		}
		left := in
		take := func(label string) int {
			n := rapid.IntRange(0, left).Draw(r, label)
			left -= n
			return n
		}
		out, scrap := take("out"), take("scrap")
		if out > 0 {
			c.told(events.OwnerGiven{From: "place/shelf", Lines: []events.Line{{Kind: kind, Qty: out}}})
		}
		if scrap > 0 {
			c.told(events.PiecesScrapped{From: "place/shelf", Lines: []events.Line{{Kind: kind, Qty: scrap}}})
		}
		it := c.job.Owner().Items[0]
		require.Equal(r, []int{in, 0, scrap, out, left}, []int{it.In, it.Fitted, it.Consumed, it.Out, it.Here})
		require.Equal(r, left > 0, len(redCoded(c, RedOwner)) > 0)
	})
}

func redCoded(c *crew, code string) (list []RedLine) {
	for _, l := range c.job.Red() {
		if l.Code == code {
			list = append(list, l)
		}
	}
	return list
}

// An old part that the owner wants is red at release once it is off, until it
// was shown or given back.
func TestTheOwnersWishIsRedAtRelease(t *testing.T) {
	c := newCrew(t)
	c.told(events.OwnerAsked{Part: "head-gasket", Wish: events.WishShown})
	require.Empty(t, redCoded(c, RedWish), "it is on, and may stay on")
	c.told(events.CaughtUp{Deepest: "head-gasket"})
	require.Len(t, redCoded(c, RedWish), 1)
	a, ok := c.job.Audit("released")
	require.True(t, ok)
	require.Contains(t, lineTexts(a.Red), "The old Head gasket is to be shown to the owner")
	first, ok := c.job.Audit("ready-to-start")
	require.True(t, ok)
	require.NotContains(t, lineTexts(first.Red), "The old Head gasket is to be shown to the owner")
	c.told(events.OwnerShown{Part: "head-gasket"})
	require.Empty(t, redCoded(c, RedWish))
	c.told(events.OwnerAsked{Part: "head-gasket", Wish: events.WishBack})
	require.Len(t, redCoded(c, RedWish), 1)
	c.told(events.OwnerGiven{Part: "head-gasket", From: c.s().PartAt("head-gasket"), Lines: []events.Line{{Kind: "head-gasket", Qty: 1}}})
	require.Empty(t, redCoded(c, RedWish))
}

func lineTexts(list []RedLine) (out []string) {
	for _, l := range list {
		out = append(out, l.Text)
	}
	return out
}
