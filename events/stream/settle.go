package stream

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"countback/events"
	"countback/events/journal"
)

func offline(cause error) error {
	if errors.Is(cause, journal.ErrOffline) {
		return cause
	}
	return fmt.Errorf("%w: %w", journal.ErrOffline, cause)
}

// Settle implements journal.Journal.
func (s *Stream) Settle(ctx context.Context, d journal.Draft) (journal.Receipt, bool, error) {
	if err := d.Check(); err != nil {
		return journal.Receipt{}, false, err
	}
	p, err := s.take(ctx, d.Terminal)
	if err != nil {
		return journal.Receipt{}, false, err
	}
	defer p.release()
	r, found, err := s.find(ctx, d)
	s.reach(r.Seq)
	if p.unclear != nil && p.unclear.ID == d.ID() {
		p.note(err)
	}
	return r, found, err
}

// find looks for a draft among its terminal's messages. It is a
// *journal.Conflict if the id is there with another job or other bytes.
func (s *Stream) find(ctx context.Context, d journal.Draft) (journal.Receipt, bool, error) {
	have, ok, err := s.last(ctx, d.Terminal)
	if err != nil || !ok || have.N < d.N {
		return journal.Receipt{}, false, err
	}
	if have.N > d.N {
		if have, err = s.search(ctx, d, have.Seq); err != nil {
			return journal.Receipt{}, false, err
		}
	}
	if have.Job != d.Job || !bytes.Equal(have.Data, d.Data) {
		return journal.Receipt{}, false, &journal.Conflict{ID: d.ID(), Seq: have.Seq}
	}
	return journal.Receipt{Seq: have.Seq, Repeated: true}, true, nil
}

// search finds a terminal's n-th message below number hi: n grows with the
// number, so halving takes about twenty looks for a million messages.
func (s *Stream) search(ctx context.Context, d journal.Draft, hi journal.Seq) (journal.Message, error) {
	filter, lo := events.TerminalFilter(s.shop, d.Terminal), journal.Seq(1)
	for {
		mid := lo + (hi-lo)/2
		raw, err := s.getMsg(ctx, mid, jetstream.WithGetMsgSubject(filter))
		if err != nil {
			return journal.Message{}, err
		}
		m := message(s.shop, raw.Subject, raw.Header, raw.Data)
		m.Seq = journal.Seq(raw.Sequence)
		switch {
		case m.N == d.N:
			return m, nil
		case lo >= hi:
			return m, fmt.Errorf("event %s: not among the messages of its terminal, though a later one is; run: countback store check", d.ID())
		case m.N < d.N:
			lo = m.Seq + 1
		default:
			hi = mid
		}
	}
}

// Last implements journal.Journal.
func (s *Stream) Last(ctx context.Context, t events.Terminal) (journal.Message, bool, error) {
	if err := journal.CheckName("terminal", string(t)); err != nil {
		return journal.Message{}, false, err
	}
	ctx, cancel, err := s.alive(ctx)
	if err != nil {
		return journal.Message{}, false, err
	}
	defer cancel()
	return s.last(ctx, t)
}

func (s *Stream) last(ctx context.Context, t events.Terminal) (journal.Message, bool, error) {
	asked, cancel := s.ask(ctx)
	defer cancel()
	raw, err := s.st.GetLastMsgForSubject(asked, events.TerminalFilter(s.shop, t))
	if errors.Is(err, jetstream.ErrMsgNotFound) {
		return journal.Message{}, false, nil
	}
	if err != nil {
		return journal.Message{}, false, s.lookup(ctx, "last message of terminal "+string(t), err)
	}
	m := message(s.shop, raw.Subject, raw.Header, raw.Data)
	m.Seq = journal.Seq(raw.Sequence)
	if m.N == 0 {
		return m, false, fmt.Errorf("last message of terminal %s: number %d was not written by a terminal of the shop; give the terminal another name", t, m.Seq)
	}
	return m, true, nil
}

// LastOfJob implements journal.Journal.
func (s *Stream) LastOfJob(ctx context.Context, j events.Job) (journal.Seq, error) {
	if err := journal.CheckName("job", string(j)); err != nil {
		return 0, err
	}
	ctx, cancel, err := s.alive(ctx)
	if err != nil {
		return 0, err
	}
	defer cancel()
	return s.lastOfJob(ctx, j)
}

func (s *Stream) lastOfJob(ctx context.Context, j events.Job) (journal.Seq, error) {
	asked, cancel := s.ask(ctx)
	defer cancel()
	raw, err := s.st.GetLastMsgForSubject(asked, events.JobFilter(s.shop, j))
	if errors.Is(err, jetstream.ErrMsgNotFound) {
		return 0, nil
	}
	if err != nil {
		return 0, s.lookup(ctx, "last message of job "+string(j), err)
	}
	return journal.Seq(raw.Sequence), nil
}

// getMsg reads one message by its number, or the first one from there on that
// an option lets through.
func (s *Stream) getMsg(ctx context.Context, seq journal.Seq, opts ...jetstream.GetMsgOpt) (*jetstream.RawStreamMsg, error) {
	asked, cancel := s.ask(ctx)
	defer cancel()
	raw, err := s.st.GetMsg(asked, uint64(seq), opts...)
	if err != nil {
		return nil, s.lookup(ctx, fmt.Sprintf("message %d", seq), err)
	}
	return raw, nil
}

// ask limits the wait for one answer of the server.
func (s *Stream) ask(ctx context.Context) (context.Context, context.CancelFunc) {
	return context.WithTimeout(ctx, s.timing.AckWait)
}

// lookup wraps the error of a question to the server.
func (s *Stream) lookup(ctx context.Context, what string, err error) error {
	if ctx.Err() != nil {
		return s.ended(ctx)
	}
	if isLine(err) || !s.nc.IsConnected() {
		err = offline(err)
	}
	return fmt.Errorf("%s: %w", what, err)
}

// isLine reports whether an error is of the connection, so that another try
// may help.
func isLine(err error) bool {
	for _, line := range []error{
		nats.ErrTimeout, nats.ErrNoResponders, nats.ErrDisconnected, nats.ErrReconnectBufExceeded,
		nats.ErrConnectionClosed, jetstream.ErrNoStreamResponse, journal.ErrOffline, context.DeadlineExceeded,
	} {
		if errors.Is(err, line) {
			return true
		}
	}
	return false
}
