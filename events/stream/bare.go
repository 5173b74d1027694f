package stream

import (
	"context"
	"fmt"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"countback/events"
	"countback/events/journal"
)

// Bare publishes a draft with its id and the expectation that last is the last
// fact of its terminal, and does nothing else that an append does: it holds no
// pen and settles nothing where the answer is lost. Benchmarks compare an append
// and a whole sentence with it; nothing else calls it.
func (s *Stream) Bare(ctx context.Context, d journal.Draft, last journal.Seq) (journal.Seq, error) {
	msg := &nats.Msg{Subject: events.Subject(s.shop, d.Terminal, d.Job), Data: d.Data}
	ack, err := s.js.PublishMsg(ctx, msg, jetstream.WithMsgID(journal.ID(d.Terminal, d.N)),
		jetstream.WithExpectLastSequenceForSubject(uint64(last), events.TerminalFilter(s.shop, d.Terminal)))
	if err != nil {
		return 0, fmt.Errorf("bare publish %s: %w", journal.ID(d.Terminal, d.N), err)
	}
	return journal.Seq(ack.Sequence), nil
}
