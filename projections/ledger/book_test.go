package ledger

import (
	"maps"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

const (
	m6  = events.Kind("M6x1.0x25 8.8 flange")
	m8  = events.Kind("M8x1.25x45 8.8 flange")
	m10 = events.Kind("M10x1.5x50 8.8 flange")
)

// cover is a book with a front cover on: one M6, four M8, five M10, presumed.
type cover struct {
	*Book
	t                                      *testing.T
	arrived, fitted, bag, other, job, lost AccountID
}

func newCover(t *testing.T) *cover {
	b := New()
	c := &cover{Book: b, t: t, arrived: b.Account("outside/arrived"), fitted: b.Account("fitted/block/front-cover"),
		bag: b.Account("bag/B2KCZ6EE"), other: b.Account("bag/B2KP34V5"), job: b.Account("outside/job/K7"), lost: b.Account("lost")}
	for _, r := range c.rows(1, 4, 5) {
		require.True(t, b.Post(0, b.Plain(r.Match), r.N, c.arrived, c.fitted))
	}
	t.Cleanup(func() { require.NoError(t, b.Verify()) })
	return c
}

func (c *cover) of(k events.Kind) Match { return OfKind(c.Kind(k)) }

func (c *cover) rows(one, four, five int32) []Number {
	return []Number{{c.of(m6), one}, {c.of(m8), four}, {c.of(m10), five}}
}

// out takes so many out of the cover into the bag and counts the bag.
func (c *cover) out(f Fact, one, four, five int32) {
	for _, r := range c.rows(one, four, five) {
		c.Move(f, r.Match, r.N, c.fitted, c.bag)
	}
	c.CountAll(f, events.CountedOpen, c.bag, c.rows(one, four, five), true)
}

// only is the one entry that a call opened.
func (c *cover) only(o Opened) Entry {
	require.EqualValues(c.t, 1, o.N)
	return c.Entry(o.First)
}

func TestConditionChangesInPlace(t *testing.T) {
	c := newCover(t)
	fresh, used := Item{Kind: m8, Cond: events.New, Lot: "L1"}, Item{Kind: m8, Cond: events.Used, Lot: "L1"}
	c.Move(1, c.Like(fresh), 3, c.job, c.bag)
	c.Move(1, c.of(m8), 1, c.fitted, c.bag)
	require.Zero(t, c.Turn(2, c.Like(Item{Kind: m8, Lot: "L1"}), events.Used, 2, c.bag).N)
	require.EqualValues(t, 2, c.Balance(c.bag, c.Like(used)))
	require.EqualValues(t, 1, c.Balance(c.bag, c.Like(fresh)))
	require.EqualValues(t, 4, c.Balance(c.bag, c.of(m8)))
	require.EqualValues(t, 1, c.Turn(3, c.Like(fresh), events.Used, 2, c.bag).N, "one more than is new")
	require.EqualValues(t, 5, c.Balance(c.bag, c.of(m8)))

	require.Zero(t, c.Turn(3, c.of(m8), events.Used, 5, c.bag).N, "said again")

	seated := c.From(c.Item(used), "front-cover:18")
	require.Zero(t, c.MoveInto(4, c.Like(used), seated, 1, c.bag, c.fitted).N)
	require.EqualValues(t, 1, c.Qty(c.fitted, seated))
	require.Equal(t, Item{Kind: m8, Cond: events.Used, Lot: "L1", Origin: "front-cover:18"}, c.ItemName(seated))
	require.True(t, c.PostInto(5, seated, c.In(seated, events.Condemned), 1, c.fitted, c.fitted))
}

func TestPostRefuses(t *testing.T) {
	c := newCover(t)
	item, ten := c.Item(Item{Kind: m8}), c.Item(Item{Kind: m10})
	e := c.only(c.Count(1, events.CountedOpen, c.fitted, c.of(m10), 4))
	before := c.Clone()
	for _, r := range []struct {
		why        string
		item, into ItemID
		qty        int32
		from, to   AccountID
	}{
		{"no pieces", item, item, 0, c.fitted, c.bag},
		{"fewer than none", item, item, -1, c.fitted, c.bag},
		{"more than one posting may", item, item, MaxQty + 1, c.arrived, c.bag},
		{"nowhere", item, item, 1, c.fitted, 0},
		{"from nowhere", item, item, 1, 0, c.bag},
		{"to where it is", item, item, 1, c.fitted, c.fitted},
		{"no item", 0, 0, 1, c.arrived, c.bag},
		{"more than there are", item, item, 5, c.fitted, c.bag},
		{"none there", item, item, 1, c.bag, c.other},
		{"another kind", item, ten, 1, c.fitted, c.bag},
		{"out of an entry", ten, ten, 1, e.Account, c.bag},
		{"into an entry", item, item, 1, c.fitted, e.Account},
	} {
		require.False(t, c.PostInto(2, r.item, r.into, r.qty, r.from, r.to), r.why)
	}
	require.Equal(t, before.Log(), c.Log())
	require.Zero(t, c.Touched(c.bag))
	for _, how := range []events.Ending{"", events.Paired} {
		require.False(t, c.Close(2, e.No, how, 1, c.bag), "%q closes nothing by itself", how)
	}
	require.False(t, c.Close(2, e.No, events.Found, 1, e.Account), "an entry does not net against itself")
	require.False(t, c.Close(2, 9, events.Found, 1, c.bag))
	require.False(t, c.Close(2, e.No, events.Found, 0, c.bag))
}

func TestWhatMovesNothing(t *testing.T) {
	c := newCover(t)
	log := len(c.Log())
	for why, o := range map[string]Opened{
		"no pieces":                 c.Move(1, c.of(m8), 0, c.fitted, c.bag),
		"nothing named":             c.Move(1, Match{}, 1, c.fitted, c.bag),
		"nothing named, turned":     c.Turn(1, Match{}, events.Used, 1, c.bag),
		"nothing named, counted":    c.Count(1, events.CountedOpen, c.bag, Match{}, 4),
		"the outside is not ours":   c.Count(1, events.CountedOpen, c.arrived, c.of(m8), 4),
		"all of the outside":        c.CountAll(1, events.CountedOpen, c.arrived, nil, true),
		"nowhere":                   c.Count(1, events.CountedOpen, 0, c.of(m8), 4),
		"no entry of that number":   c.Count(1, events.CountedOpen, c.Account("unexplained/7"), c.of(m8), 4),
		"a count equal to the book": c.Count(1, events.CountedOpen, c.fitted, c.of(m8), 4),
	} {
		require.Zero(t, o, why)
	}
	require.Len(t, c.Log(), log)
}

func TestWhereItIs(t *testing.T) {
	c := newCover(t)
	c.out(3, 1, 4, 4)
	c.Move(4, c.of(m10), 1, c.bag, c.other)
	require.Equal(t, map[AccountID]int32{c.arrived: -5, c.fitted: 1, c.bag: 3, c.other: 1}, maps.Collect(c.Where(c.of(m10))))
	tally := c.Tally(c.of(m10))
	require.EqualValues(t, -5, tally[Outside])
	require.EqualValues(t, 1, tally[Fitted])
	require.EqualValues(t, 4, tally[Bag])
	require.Len(t, slices.Collect(c.History(c.other)), 1)
	require.True(t, c.Post(5, c.Plain(c.of(m10)), 1, c.other, c.bag))
	require.Equal(t, [2]Fact{5, 5}, [2]Fact{c.Touched(c.other), c.Touched(c.bag)})
	require.True(t, c.Post(5, c.Plain(c.of(m10)), 1, c.bag, c.other))
	require.Len(t, c.Of(3), 3)
	require.Empty(t, c.Of(2))
	require.Equal(t, map[ItemID]int32{c.Item(Item{Kind: m10}): 1}, maps.Collect(c.At(c.other)))
}

func TestClassOfPath(t *testing.T) {
	for path, want := range map[events.Place]Class{"outside/arrived": Outside, "bag/B2KCZ6EE": Bag, "scrap": Scrap,
		"shelf": Elsewhere, "bagged": Elsewhere, "rack/R7QW3MNX/4": Rack, "": Elsewhere, "elsewhere": Elsewhere} {
		require.Equal(t, want, ClassOf(path), path)
	}
	for c := Elsewhere + 1; c < Classes; c++ {
		require.Equal(t, c, ClassOf(events.Place(c.String()+"/x")))
	}
}

// A book can be filled up by nonsense; it then stays as it is and stays sound.
func TestFullBook(t *testing.T) {
	c := newCover(t)
	c.made = maxMade - 2
	require.EqualValues(t, 1, c.Count(1, events.CountedOpen, c.bag, c.of(m8), 2).N)
	require.Zero(t, c.Count(2, events.CountedOpen, c.bag, c.of(m8), 3).N)
	require.Zero(t, c.Move(3, c.of(m8), 3, c.other, c.bag).N)
	require.False(t, c.Post(4, c.Item(Item{Kind: m8}), 1, c.arrived, c.bag))
	require.EqualValues(t, 2, c.Balance(c.bag, c.of(m8)))
}

// Verify must notice each way of being wrong, or it proves nothing.
func TestVerifyFindsDamage(t *testing.T) {
	damage := map[string]func(b *cover){
		"a cell":             func(b *cover) { b.cells.cells[0].qty++ },
		"a lost posting":     func(b *cover) { b.log = b.log[:len(b.log)-1] },
		"a quantity":         func(b *cover) { b.log[0].Qty = -1 },
		"another kind":       func(b *cover) { b.log[0].Into = b.Item(Item{Kind: "M12"}) },
		"another place":      func(b *cover) { b.log[0].To = b.other },
		"facts out of order": func(b *cover) { b.log[0].Fact = 99 },
		"open pieces":        func(b *cover) { b.entries[1].Open = 2 },
		"open beyond all":    func(b *cover) { b.entries[1].Qty = 0 },
		"an ending":          func(b *cover) { b.entries[1].Ending = events.Found },
		"a sign":             func(b *cover) { b.entries[1].Sign = Over },
		"no sign":            func(b *cover) { b.entries[1].Sign = 0 },
		"an interval":        func(b *cover) { b.entries[1].After = 99 },
		"an account":         func(b *cover) { b.entries[1].Account = b.bag },
		"how many are open":  func(b *cover) { b.open++ },
		"a posting of none":  func(b *cover) { b.log = append(b.log, Posting{9, 1, 1, b.bag, b.bag, 1, true}) },
	}
	for what, spoil := range damage {
		c := newCover(t)
		c.out(3, 1, 4, 4)
		c.Count(3, events.CountedOpen, c.fitted, c.of(m10), 0)
		require.NoError(t, c.Verify())
		sound := c.Book
		c.Book = sound.Clone()
		spoil(c)
		require.Error(t, c.Verify(), what)
	}
}

// What one account has outgrown, another one gets.
func TestOutgrownRunsAreUsedAgain(t *testing.T) {
	var s slab
	var one, two account
	add := func(a *account, item ItemID, qty int32) {
		i, _ := s.find(a, item)
		s.cells[s.insert(a, i, item)].qty = qty
	}
	for i := ItemID(1); i <= 5; i++ {
		add(&one, i, int32(i))
	}
	add(&two, 7, 7)
	require.Len(t, s.cells, 4+8)
	require.Zero(t, two.off)
	for i := ItemID(1); i <= 5; i++ {
		require.EqualValues(t, i, s.qty(&one, i))
	}
	require.EqualValues(t, 7, s.qty(&two, 7))
	require.Zero(t, s.qty(&two, 6))
}

func TestCloneIsItsOwn(t *testing.T) {
	c := newCover(t)
	c.out(3, 1, 4, 5)
	k := c.Clone()
	c.Move(4, c.of(m8), 4, c.bag, c.other)
	k.Move(4, OfKind(k.Kind(m8)), 2, c.bag, c.fitted)
	require.NoError(t, k.Verify())
	require.EqualValues(t, 2, k.Balance(c.bag, OfKind(k.Kind(m8))))
	require.EqualValues(t, 0, c.Balance(c.bag, c.of(m8)))
}

func TestCopyIsItsOwn(t *testing.T) {
	c := newCover(t)
	c.out(3, 1, 4, 5)
	k := New()
	k.Account("bag/B2AAAAAA")
	k.CopyFrom(c.Book)
	require.NoError(t, k.Verify())
	require.Equal(t, c.Log(), k.Log())
	k.Move(4, OfKind(k.Kind(m8)), 2, c.bag, c.fitted)
	require.NoError(t, k.Verify())
	require.NoError(t, c.Verify())
	require.NotEqual(t, c.Balance(c.bag, c.of(m8)), k.Balance(c.bag, OfKind(k.Kind(m8))))
	_, met := k.Lookup("bag/B2AAAAAA")
	require.False(t, met)
}

// A job of 2,000 facts and some 3,500 postings is to stay under 250 kB, so that
// a shop's jobs fit into memory together.
func TestJobIsSmall(t *testing.T) {
	s := newShop(60)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	b := New()
	postings := s.fold(b, 1400)
	runtime.GC()
	runtime.ReadMemStats(&after)
	require.NoError(t, b.Verify())
	require.GreaterOrEqual(t, postings, 3400)
	t.Logf("%d postings in %d bytes", postings, int64(after.HeapAlloc)-int64(before.HeapAlloc))
	require.Less(t, int64(after.HeapAlloc)-int64(before.HeapAlloc), int64(250_000))
	runtime.KeepAlive(s)
}

// What lies outside is owed, not held: nothing is turned there into itself.
func TestTurnOutsideIntoItself(t *testing.T) {
	c := newCover(t)
	out := c.Account("outside/owner")
	c.Turn(3, c.of(m8), events.AsFound, 7, out)
	require.NoError(t, c.Verify())
	require.Zero(t, c.Balance(out, c.of(m8)))
}
