package stream

import (
	"testing"

	"github.com/nats-io/nats.go"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

func TestParsePlace(t *testing.T) {
	for reply, want := range map[string]place{
		"$JS.ACK.countback-sorrel.x1y2.1.42.7.1700000000000000000.3":          {42, 7, 3},
		"$JS.ACK.hub.ABC123.countback-sorrel.x1y2.1.42.7.1700000000.3":        {42, 7, 3},
		"$JS.ACK._.ABC123.countback-sorrel.x1y2.1.42.7.1700000000.3.random42": {42, 7, 3},
	} {
		got, ok := parsePlace(reply)
		require.True(t, ok, reply)
		require.Equal(t, want, got)
	}
	for _, reply := range []string{
		"", "$JS.FC.countback-sorrel.x.y", "$JS.ACK.s.c.1.42.7.1700", "$JS.ACK.s.c.1.x.7.1700.3",
		"$JS.ACK.s.c.1.42.-7.1700.3", "_INBOX.s.c.x.1.42.7.1700.3", "$JS.ACK.a.b.s.c.1.42.7.1700.3.4.5.6",
	} {
		_, ok := parsePlace(reply)
		require.False(t, ok, reply)
	}
}

func FuzzParsePlace(f *testing.F) {
	f.Add("$JS.ACK.countback-sorrel.x1y2.1.42.7.1700000000000000000.3")
	f.Add("$JS.ACK.hub.ABC123.countback-sorrel.x1y2.1.42.7.1700000000.3")
	f.Add("............")
	f.Fuzz(func(t *testing.T, reply string) {
		p, ok := parsePlace(reply)
		meta, err := (&nats.Msg{Reply: reply, Sub: &nats.Subscription{}}).Metadata()
		if ok && err == nil && (uint64(p.seq) != meta.Sequence.Stream || p.delivered != meta.Sequence.Consumer || p.pending != meta.NumPending) {
			t.Fatalf("%q: %+v, the library says %+v", reply, p, meta)
		}
	})
}

func TestMessageOfDelivery(t *testing.T) {
	id := func(ids ...string) nats.Header { return nats.Header{idHeader: ids} }
	for _, row := range []struct {
		subject string
		header  nats.Header
		want    journal.Message
	}{
		{"countback.sorrel.b1.J1", id("b1-42"), journal.Message{Terminal: "b1", N: 42, Job: "J1"}},
		{"countback.sorrel.hub-1.shop", id("hub-1-1000000"), journal.Message{Terminal: "hub-1", N: 1_000_000, Job: "shop"}},
		{"countback.sorrel.b1.J1", nil, journal.Message{Terminal: "b1", Job: "J1"}},
		{"countback.sorrel.b1.J1", id("b2-42"), journal.Message{Terminal: "b1", Job: "J1"}},
		{"countback.sorrel.b1.J1", id("b1-042"), journal.Message{Terminal: "b1", Job: "J1"}},
		{"countback.sorrel.b1.J1", id("b1"), journal.Message{Terminal: "b1", Job: "J1"}},
		{"countback.sorrel.b1.J1", id("b1-42", "b1-43"), journal.Message{Terminal: "b1", Job: "J1"}},
	} {
		require.Equal(t, row.want, message("sorrel", row.subject, row.header, nil))
	}
}
