package ledger

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func TestShortIsFoundAgain(t *testing.T) {
	c := newCover(t)
	c.out(3, 1, 4, 4)
	e := c.only(c.Count(3, events.CountedOpen, c.fitted, c.of(m10), 0))
	require.Equal(t, Entry{No: 1, Ord: 1, Item: c.Item(Item{Kind: m10}), Place: c.fitted, Account: e.Account,
		Qty: 1, Open: 1, After: 0, Shown: 3, Sign: Short}, e)
	require.Equal(t, events.Place("unexplained/1"), c.Path(e.Account))
	require.Equal(t, e.Account, c.Account("unexplained/1"))
	require.Equal(t, 1, c.OpenEntries())

	require.False(t, c.Close(5, 1, events.Found, 2, c.bag), "more than are open")
	require.True(t, c.Close(5, 1, events.Found, 1, c.bag))
	require.EqualValues(t, 5, c.Balance(c.bag, c.of(m10)))
	require.Equal(t, events.Found, c.Entry(1).Ending)
	require.Equal(t, Fact(5), c.Entry(1).Closed)
	require.Equal(t, Fact(5), c.Touched(c.bag), "a hand put it there")
	require.Zero(t, c.OpenEntries())
	require.False(t, c.Close(6, 1, events.Found, 1, c.bag), "closed already")
	c.Dispute(1, 2, 3)
	require.False(t, c.Entry(1).Disputed(), "closed already")
}

func TestTakingMoreThanTheBookHolds(t *testing.T) {
	c := newCover(t)
	e := c.only(c.Move(2, c.of(m6), 3, c.fitted, c.bag))
	require.Equal(t, Over, e.Sign)
	require.Equal(t, c.fitted, e.Place, "they were where they were taken from")
	require.EqualValues(t, 2, e.Open)
	require.EqualValues(t, 3, c.Balance(c.bag, c.of(m6)))
	require.EqualValues(t, -2, c.Balance(e.Account, c.of(m6)))
	require.True(t, c.Close(4, e.No, events.PlanWrong, 2, c.arrived))
	require.EqualValues(t, -3, c.Balance(c.arrived, c.of(m6)))

	require.Zero(t, c.Move(5, c.of(m6), 2, c.job, c.bag).N, "the outside owes what it gives")
	require.EqualValues(t, -2, c.Balance(c.job, c.of(m6)))
	require.Zero(t, c.Move(6, c.of(m6), 2, c.bag, c.job).N)
	require.Zero(t, c.Balance(c.job, c.of(m6)))
}

func TestCountBoundsTheSearch(t *testing.T) {
	c := newCover(t)
	c.out(3, 1, 4, 5)
	c.Count(7, events.CountedBlind, c.bag, c.of(m8), 4)
	c.CountAll(8, events.Claimed, c.bag, c.rows(1, 4, 5), true)
	c.Move(9, c.of(m8), 1, c.bag, c.other)
	c.Move(10, c.of(m8), 1, c.other, c.bag)

	require.Equal(t, Look{3, events.CountedOpen}, c.LastCount(c.bag), "a claim is no count")
	require.Equal(t, Look{8, events.Claimed}, c.Seen(c.bag))
	require.Equal(t, Look{7, events.CountedBlind}, c.LastCountOf(c.bag, c.Item(Item{Kind: m8})))
	require.Equal(t, Look{3, events.CountedOpen}, c.LastCountOf(c.bag, c.Item(Item{Kind: m10})))
	c.Count(3, events.CountedBlind, c.bag, c.of(m10), 5)
	require.Equal(t, Look{3, events.CountedBlind}, c.LastCountOf(c.bag, c.Item(Item{Kind: m10})), "the later of one fact")
	require.Equal(t, []Fact{9, 10}, c.Hands(c.bag, 7, 20))
	require.Equal(t, []Fact{3, 9}, c.Hands(c.bag, 0, 9))

	o := c.CountAll(12, events.CountedOpen, c.bag, []Number{{c.of(m8), 3}, {c.of(m10), 6}}, true)
	require.EqualValues(t, 3, o.N)
	eight, ten, six := c.Entry(o.First), c.Entry(o.First+1), c.Entry(o.First+2)
	require.Equal(t, [2]Fact{7, 12}, [2]Fact{eight.After, eight.Shown})
	require.Equal(t, Short, eight.Sign)
	require.Equal(t, [2]Fact{3, 12}, [2]Fact{ten.After, ten.Shown})
	require.Equal(t, Over, ten.Sign)
	require.Equal(t, m6, c.ItemName(six.Item).Kind, "that is all there is: the M6 is not")
	require.EqualValues(t, 3, six.Ord)
	require.Equal(t, six.No, c.ShownBy(12, 3))
	require.Zero(t, c.ShownBy(12, 4))
	require.Zero(t, c.ShownBy(11, 1))
	require.Equal(t, Look{12, events.CountedOpen}, c.LastCountOf(c.bag, c.Item(Item{Kind: m8})))
	require.Equal(t, []Fact{9, 10}, c.Hands(c.bag, 7, 20), "a count is no hand")
	require.True(t, c.Undisturbed(c.bag, 10))
	require.False(t, c.Undisturbed(c.bag, 9))
}

func TestRecountAnswersAMiscount(t *testing.T) {
	c := newCover(t)
	c.out(3, 1, 4, 5)
	short := c.only(c.Count(5, events.CountedOpen, c.bag, c.of(m8), 3))
	over := c.only(c.Count(6, events.CountedOpen, c.bag, c.of(m8), 4))
	require.Equal(t, []EntryNo{over.No}, c.Recounted(short.No))
	require.Equal(t, []EntryNo{short.No}, c.Recounted(over.No))
	elsewhere := c.only(c.Count(6, events.CountedOpen, c.other, c.of(m8), 1))
	require.Empty(t, c.Recounted(elsewhere.No), "another bag's count says nothing of this one")
	c.Move(7, c.of(m6), 1, c.bag, c.other)
	require.Empty(t, c.Recounted(short.No), "a hand was in the bag")
	require.True(t, c.Pair(8, short.No, over.No, 1, 0))
	require.Equal(t, over.No, c.Entry(short.No).Peer)
	require.Equal(t, short.No, c.Entry(over.No).Peer)
	require.EqualValues(t, 4, c.Balance(c.bag, c.of(m8)))
	require.Empty(t, c.Recounted(short.No), "closed")

	back := c.only(c.Count(9, events.CountedOpen, c.bag, c.of(m8), 2))
	require.True(t, c.Close(10, back.No, events.Miscount, 2, c.bag))
	require.EqualValues(t, 4, c.Balance(c.bag, c.of(m8)))
	require.Equal(t, Fact(7), c.Touched(c.bag), "an explanation is no hand")
}

func TestPairOfTwoKindsGoesThroughOutside(t *testing.T) {
	c := newCover(t)
	c.out(3, 1, 4, 5)
	short := c.only(c.Count(5, events.CountedOpen, c.bag, c.of(m8), 3))
	over := c.only(c.Count(5, events.CountedOpen, c.bag, c.of(m10), 6))
	require.False(t, c.Pair(6, over.No, short.No, 1, c.arrived), "the wrong way round")
	require.False(t, c.Pair(6, short.No, over.No, 1, c.other), "a bag turns no M8 into an M10")
	require.False(t, c.Pair(6, short.No, over.No, 1, 0))
	require.True(t, c.Pair(6, short.No, over.No, 1, c.arrived))
	require.EqualValues(t, -3, c.Balance(c.arrived, c.of(m8)))
	require.EqualValues(t, -6, c.Balance(c.arrived, c.of(m10)))
}
