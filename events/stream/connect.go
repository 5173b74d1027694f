package stream

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"countback/events/journal"
	"countback/events/stream/vault"
)

// Connect opens a journal on a server that runs elsewhere. It never makes a
// stream unless told to, and then only if nothing says that there was one.
func Connect(ctx context.Context, r Remote) (*Stream, error) {
	if err := journal.CheckName("shop", string(r.Shop)); err != nil {
		return nil, err
	}
	if r.Logger == nil {
		r.Logger = slog.New(slog.DiscardHandler)
	}
	s := newStream(r.Shop, r.Timing.full(), r.Logger)
	err := s.open(ctx, r)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("connect to the journal of shop %s at %s: %w", r.Shop, strings.Join(r.URLs, ", "), err), s.end(false))
	}
	return s, nil
}

func (s *Stream) open(ctx context.Context, r Remote) error {
	opts := r.options
	if r.Password != "" {
		opts = append(opts, nats.UserInfo(string(r.Terminal), r.Password))
	}
	if r.CAFile != "" {
		opts = append(opts, nats.RootCAs(r.CAFile))
	}
	var mark vault.Mark
	if r.HighWaterPath != "" {
		var err error
		if s.mark, mark, err = vault.OpenMarker(r.HighWaterPath); err != nil {
			return err
		}
	}
	if err := s.connect(strings.Join(r.URLs, ","), string(r.Terminal), opts...); err != nil {
		return offline(err)
	}
	if err := s.locate(ctx, r, mark); err != nil {
		return err
	}
	return s.checkMark(ctx, mark)
}

// locate looks up the stream, or makes it if it is allowed to.
func (s *Stream) locate(ctx context.Context, r Remote, mark vault.Mark) error {
	err := s.bind(ctx)
	if !errors.Is(err, jetstream.ErrStreamNotFound) {
		return err
	}
	switch {
	case mark.Seq > 0:
		return fmt.Errorf("there is no stream %s any more, but event %d (%s) was acknowledged to this terminal; restore it there from a backup", s.name, mark.Seq, mark.Trace.ID)
	case !r.Create:
		return fmt.Errorf("there is no stream %s; is it the right server? to make one say so", s.name)
	}
	if err := s.create(ctx, max(r.Replicas, 1)); err != nil {
		return err
	}
	return s.bind(ctx)
}

// checkMark requires the stream to have what was acknowledged to this
// terminal.
func (s *Stream) checkMark(ctx context.Context, mark vault.Mark) error {
	head, err := s.head(ctx)
	if err != nil {
		return err
	}
	if mark.Seq == 0 {
		return nil
	}
	if uint64(head) < mark.Seq {
		return fmt.Errorf("stream %s ends with event %d, but event %d (%s) was acknowledged to this terminal: it lost events, or is an older copy; restore it there from a backup", s.name, head, mark.Seq, mark.Trace.ID)
	}
	raw, err := s.getMsg(ctx, journal.Seq(mark.Seq))
	if err != nil {
		return err
	}
	if t := vault.TraceOf(raw.Header.Get(idHeader), raw.Data); t != mark.Trace {
		return fmt.Errorf("event %d of stream %s is %s, but %s was acknowledged to this terminal: this is another stream", mark.Seq, s.name, t.ID, mark.Trace.ID)
	}
	return nil
}
