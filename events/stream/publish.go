package stream

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"countback/events"
	"countback/events/journal"
)

// Headers of a published message.
const (
	idHeader     = jetstream.MsgIDHeader
	lastHeader   = jetstream.ExpectedLastSeqHeader
	expectHeader = jetstream.ExpectedLastSubjSeqHeader
	filterHeader = jetstream.ExpectedLastSubjSeqSubjHeader
)

var (
	errNoAnswer = errors.New("no answer")
	// errBusy: the server is just storing something that decides about this
	// message, so the answer is not known yet.
	errBusy = errors.New("the server is busy with another message of the kind")
)

// busyWait is between two tries while the server is busy.
const busyWait = 2 * time.Millisecond

// submit sends a draft until the server has decided about it.
func (s *Stream) submit(ctx context.Context, p *pen, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	a := attempt{s: s, pen: p, draft: d, expect: e, whole: e.Scope() == journal.OfJob && s.clustered.Load()}
	deadline := time.Now().Add(s.timing.AckWait)
	for {
		r, err := a.try(ctx)
		if !errors.Is(err, errBusy) {
			return r, err
		}
		if time.Now().After(deadline) {
			return r, &journal.Unclear{ID: d.ID(), Cause: err}
		}
		select {
		case <-time.After(busyWait):
		case <-ctx.Done():
			return r, &journal.Unclear{ID: d.ID(), Cause: context.Cause(ctx)}
		}
	}
}

func (a attempt) try(ctx context.Context) (journal.Receipt, error) {
	ack, err := a.publish(ctx)
	switch {
	case err != nil:
		return a.refused(ctx, err)
	case ack.Duplicate:
		r, found, err := a.find(ctx)
		if err == nil && !found {
			err = fmt.Errorf("event %s: the server says that it is stored, and does not have it; run: countback store check", a.draft.ID())
		}
		return r, err
	}
	a.pen.last = a.draft.N
	a.s.acknowledged(ack.Sequence, a.draft)
	return journal.Receipt{Seq: journal.Seq(ack.Sequence)}, nil
}

// publish sends a draft once and waits for the answer.
func (a attempt) publish(ctx context.Context) (*jetstream.PubAck, error) {
	s, d := a.s, a.draft
	if !s.nc.IsConnected() {
		return nil, journal.ErrOffline
	}
	header, err := a.header(ctx)
	if err != nil {
		return nil, err
	}
	msg := &nats.Msg{Subject: events.Subject(s.shop, d.Terminal, d.Job), Data: d.Data, Header: header}
	ctx, cancel := context.WithTimeoutCause(ctx, s.timing.AckWait, errNoAnswer)
	defer cancel()
	watch := s.watch(cancel)
	defer watch.end()
	ack, err := s.js.PublishMsg(ctx, msg, jetstream.WithRetryAttempts(1))
	if err != nil && ctx.Err() != nil {
		if err = watch.found(); err == nil {
			err = context.Cause(ctx)
		}
	}
	return ack, err
}

// header states id and expectation.
//
// A single server compares the last message on a filter with what is expected
// while it stores nothing else. A cluster compares with what it has stored,
// not with what is on its way there, unless that was sent under the same
// filter: it would let an answer overlook a fact of the same job. The number
// of the whole stream's last message it does know in advance, so there that
// number is expected, as of a moment at which the job's last message was the
// expected one. Other messages of the shop in between cost another try.
func (a attempt) header(ctx context.Context) (nats.Header, error) {
	s, d, last := a.s, a.draft, formatSeq(a.expect.Last())
	if a.expect.Scope() == journal.OfTerminal {
		return nats.Header{idHeader: {d.ID()}, expectHeader: {last}, filterHeader: {events.TerminalFilter(s.shop, d.Terminal)}}, nil
	}
	if !a.whole {
		return nats.Header{idHeader: {d.ID()}, expectHeader: {last}, filterHeader: {events.JobFilter(s.shop, d.Job)}}, nil
	}
	head, err := s.head(ctx) // before the job's last message, or it could miss one
	if err != nil {
		return nil, &notSent{err}
	}
	have, err := s.lastOfJob(ctx, d.Job)
	if err != nil {
		return nil, &notSent{err}
	}
	if have != a.expect.Last() {
		return nil, &wrongLast{have}
	}
	return nats.Header{idHeader: {d.ID()}, lastHeader: {formatSeq(head)}}, nil
}

// notSent is an error that came before anything was sent.
type notSent struct{ error }

func (e *notSent) Unwrap() error { return e.error }

// wrongLast is what another message than the expected one was found to be.
type wrongLast struct{ have journal.Seq }

func (e *wrongLast) Error() string { return fmt.Sprintf("wrong last message: %d", e.have) }

// watch looks after the embedded server while an answer is waited for, since
// a server that cannot write gives none: it gives up with the server's
// complaint as soon as there is one.
type watch struct {
	mu     sync.Mutex
	timer  *time.Timer
	reason error
}

func (s *Stream) watch(giveUp func()) *watch {
	w := &watch{}
	if s.srv == nil {
		return w
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.timer = time.AfterFunc(s.timing.SickAfter, func() {
		err := sick(s.srv)
		w.mu.Lock()
		defer w.mu.Unlock()
		if w.reason = err; err != nil {
			giveUp()
		} else if w.timer != nil {
			w.timer.Reset(s.timing.SickAfter)
		}
	})
	return w
}

func (w *watch) found() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.reason
}

func (w *watch) end() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.timer != nil {
		w.timer.Stop()
		w.timer = nil
	}
}
