package stream

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"github.com/nats-io/nats.go"

	"countback/events/journal"
)

// errLine: the server stopped delivering, or deliveries were lost on the way.
var errLine = errors.New("deliveries were interrupted")

// delivery is one row of messages from a consumer of its own.
type delivery struct {
	s        *Stream
	ctx      context.Context
	filter   journal.Filter
	fn       func(journal.Message) error
	to       journal.Seq // the last one to take; 0 for no end
	promised uint64      // messages that the server had when asked
	beats    atomic.Uint64

	mu       sync.Mutex // held while fn runs
	next     journal.Seq
	received uint64
	over     bool
	done     chan error // takes the end, once
}

// deliver hands out the messages from number from to number to (0: for ever)
// and returns the number to go on from.
func (s *Stream) deliver(ctx context.Context, from, to journal.Seq, f journal.Filter, fn func(journal.Message) error) (journal.Seq, error) {
	d := &delivery{s: s, ctx: ctx, filter: f, fn: fn, next: from, to: to, done: make(chan error, 1)}
	inbox := s.nc.NewInbox()
	d.mu.Lock() // nothing is handed out before promised is known
	sub, err := s.nc.Subscribe(inbox, d.take)
	if err != nil {
		d.mu.Unlock()
		return from, s.lookup(ctx, "read the journal", err)
	}
	defer sub.Unsubscribe()
	if err := sub.SetPendingLimits(-1, -1); err != nil { // the server's flow control limits it
		d.mu.Unlock()
		return from, err
	}
	asked, cancel := s.ask(ctx)
	c, err := s.js.CreatePushConsumer(asked, s.name, s.consumer(inbox, from, f))
	cancel()
	if err != nil {
		d.over = true
		d.mu.Unlock()
		return from, s.lookup(ctx, "read the journal", err)
	}
	d.promised = c.CachedInfo().NumPending
	d.mu.Unlock()
	err = d.wait()
	d.mu.Lock()
	d.over = true
	next := d.next
	d.mu.Unlock()
	s.dismiss(c.CachedInfo().Name)
	return next, err
}

// dismiss removes a consumer; the server would do it by itself after a while.
func (s *Stream) dismiss(consumer string) {
	if !s.nc.IsConnected() {
		return
	}
	ctx, cancel := context.WithTimeout(context.Background(), s.timing.AckWait)
	defer cancel()
	if err := s.js.DeleteConsumer(ctx, s.name, consumer); err != nil {
		s.log.Debug("reader left behind on the server", "consumer", consumer, "error", err)
	}
}

// wait returns when the row ends: at its end, by an error, by the context, or
// because the server has been silent for three heartbeats.
func (d *delivery) wait() error {
	tick := time.NewTicker(d.s.timing.Heartbeat)
	defer tick.Stop()
	silent, last := 0, uint64(0)
	for {
		select {
		case err := <-d.done:
			return err
		case <-d.ctx.Done():
			return d.s.ended(d.ctx)
		case <-tick.C:
			if beats := d.beats.Load(); beats != last || d.busy() {
				silent, last = 0, beats
			} else if silent++; silent == 3 {
				return errLine
			}
		}
	}
}

// busy reports whether fn is running: then it is not the server that is
// silent.
func (d *delivery) busy() bool {
	if !d.mu.TryLock() {
		return true
	}
	d.mu.Unlock()
	return false
}

func (d *delivery) end(err error) {
	d.over = true
	d.done <- err
}

// take handles one delivery. The connection calls it for one after the other.
func (d *delivery) take(m *nats.Msg) {
	d.beats.Add(1)
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.over || d.ctx.Err() != nil {
		return
	}
	p, ok := parsePlace(m.Reply)
	if !ok {
		d.status(m)
		return
	}
	d.received++
	if p.delivered != d.received {
		d.end(errLine)
		return
	}
	if p.seq < d.next { // asked for what does not exist yet
		return
	}
	if d.filter.Job == "" && p.seq != d.next {
		d.end(&journal.Gap{After: d.next - 1, Next: p.seq, Lost: uint64(p.seq - d.next)})
		return
	}
	if d.to > 0 && p.seq > d.to {
		d.end(d.lost(p))
		return
	}
	msg := message(d.s.shop, m.Subject, m.Header, m.Data)
	msg.Seq = p.seq
	if err := d.fn(msg); err != nil {
		d.end(err)
		return
	}
	d.next = p.seq + 1
	if p.seq == d.to {
		d.end(d.lost(p))
	}
}

// lost compares what has arrived with what the server promised. Messages that
// were appended meanwhile add to what is pending, so it never cries too soon.
func (d *delivery) lost(p place) error {
	if arrived := d.received + p.pending; d.promised > arrived {
		return &journal.Gap{Job: d.filter.Job, After: d.next - 1, Lost: d.promised - arrived}
	}
	return nil
}

// status handles what is no message: a request of the flow control, which is
// answered once everything before it has been handled, or a heartbeat, which
// says how far the server is.
func (d *delivery) status(m *nats.Msg) {
	if m.Header.Get("Status") != "100" {
		d.end(fmt.Errorf("read the journal: unexpected message on %s: %v", m.Subject, m.Header))
		return
	}
	if m.Reply != "" {
		d.reply(m.Reply)
		return
	}
	if stalled := m.Header.Get("Nats-Consumer-Stalled"); stalled != "" {
		d.reply(stalled)
		return
	}
	switch sent := m.Header.Get("Nats-Last-Consumer"); {
	case sent != fmt.Sprint(d.received):
		d.end(errLine)
	case d.to > 0: // the server has nothing more, and the last one did not come
		d.end(&journal.Gap{Job: d.filter.Job, After: d.next - 1, Lost: 1})
	}
}

func (d *delivery) reply(subject string) {
	if err := d.s.nc.Publish(subject, nil); err != nil {
		d.end(errLine)
	}
}
