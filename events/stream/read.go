package stream

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/nats-io/nats.go/jetstream"

	"countback/events"
	"countback/events/journal"
)

// Head implements journal.Journal.
func (s *Stream) Head(ctx context.Context) (journal.Seq, error) {
	ctx, cancel, err := s.alive(ctx)
	if err != nil {
		return 0, err
	}
	defer cancel()
	return s.head(ctx)
}

// head is the number of the last message. The server counts its messages, so
// a hole anywhere shows here.
func (s *Stream) head(ctx context.Context) (journal.Seq, error) {
	state, err := s.state(ctx)
	if err != nil {
		return 0, s.lookup(ctx, "head of the journal", err)
	}
	if state.Msgs == state.LastSeq {
		return journal.Seq(state.LastSeq), nil
	}
	gap := &journal.Gap{Lost: state.LastSeq - state.Msgs}
	if state.FirstSeq > 1 {
		gap.Next = journal.Seq(state.FirstSeq)
	}
	return 0, gap
}

// ended is why a context has ended: the journal was closed, or the caller's.
func (s *Stream) ended(ctx context.Context) error {
	if s.ctx.Err() != nil {
		return journal.ErrClosed
	}
	return ctx.Err()
}

// Read implements journal.Journal. The whole shop is read straight from the
// blocks of an embedded server: that is ten times faster than through it, and
// leaves its memory alone. Everything else comes through a consumer.
func (s *Stream) Read(ctx context.Context, from journal.Seq, f journal.Filter, fn func(journal.Message) error) error {
	if err := f.Check(); err != nil {
		return err
	}
	ctx, cancel, err := s.alive(ctx)
	if err != nil {
		return err
	}
	defer cancel()
	head, err := s.head(ctx)
	if err != nil {
		return err
	}
	if f.Job != "" {
		if head, err = s.LastOfJob(ctx, f.Job); err != nil {
			return err
		}
	}
	if from = max(from, 1); from > head {
		return nil
	}
	if s.vault != nil && f.Job == "" {
		return s.vault.Place().Read(ctx, from, head, fn)
	}
	_, err = s.deliver(ctx, from, head, f, fn)
	if errors.Is(err, errLine) {
		err = fmt.Errorf("read the journal: %w", offline(err))
	}
	return err
}

// Follow implements journal.Journal. When the connection fails it goes on
// after the last message as soon as it can.
func (s *Stream) Follow(ctx context.Context, from journal.Seq, f journal.Filter, fn func(journal.Message) error) error {
	if err := f.Check(); err != nil {
		return err
	}
	ctx, cancel, err := s.alive(ctx)
	if err != nil {
		return err
	}
	defer cancel()
	for from = max(from, 1); ; {
		from, err = s.follow(ctx, from, f, fn)
		if ctx.Err() != nil {
			return s.ended(ctx)
		}
		if !isLine(err) && !errors.Is(err, errLine) {
			return err
		}
		s.log.Warn("following the journal: trying again", "from", from, "error", err)
		select {
		case <-time.After(s.timing.Heartbeat):
		case <-ctx.Done():
			return s.ended(ctx)
		}
	}
}

// follow catches up and goes on until something happens; it returns the
// number to go on from.
func (s *Stream) follow(ctx context.Context, from journal.Seq, f journal.Filter, fn func(journal.Message) error) (journal.Seq, error) {
	head, err := s.head(ctx)
	if err != nil {
		return from, err
	}
	if s.vault != nil && f.Job == "" && from <= head {
		err := s.vault.Place().Read(ctx, from, head, func(m journal.Message) error {
			if err := fn(m); err != nil {
				return err
			}
			from = m.Seq + 1
			return nil
		})
		if err != nil {
			return from, err
		}
	}
	return s.deliver(ctx, from, 0, f, fn)
}

// consumer is what the server is asked to deliver: everything from a number
// on, once, as fast as it is taken.
func (s *Stream) consumer(inbox string, from journal.Seq, f journal.Filter) jetstream.ConsumerConfig {
	filter := events.ShopFilter(s.shop)
	if f.Job != "" {
		filter = events.JobFilter(s.shop, f.Job)
	}
	return jetstream.ConsumerConfig{
		DeliverSubject:    inbox,
		DeliverPolicy:     jetstream.DeliverByStartSequencePolicy,
		OptStartSeq:       uint64(from),
		FilterSubject:     filter,
		AckPolicy:         jetstream.AckNonePolicy,
		MaxDeliver:        1,
		FlowControl:       true,
		IdleHeartbeat:     s.timing.Heartbeat,
		InactiveThreshold: 10 * s.timing.Heartbeat,
		MemoryStorage:     true,
		Replicas:          1,
	}
}
