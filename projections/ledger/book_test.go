package ledger

import (
	"countback/events"
	"github.com/stretchr/testify/require"
	"testing"
)

func TestSmoke(t *testing.T) {
	b := New()
	arr, fit, bag := b.Account("outside/arrived"), b.Account("fitted/block/front-cover"), b.Account("bag/B2KCZ6EE")
	m8 := b.Item(Item{Kind: "M8"})
	require.True(t, b.Post(0, m8, 5, arr, fit))
	require.Zero(t, b.Move(1, OfKind(b.Kind("M8")), 5, fit, bag).N)
	o := b.CountAll(1, events.CountedOpen, bag, []Number{{OfKind(b.Kind("M8")), 4}}, true)
	require.EqualValues(t, 1, o.N)
	require.Equal(t, events.Place("unexplained/1"), b.Path(b.Entry(o.First).Account))
}
