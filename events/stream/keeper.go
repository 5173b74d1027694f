package stream

import (
	"context"
	"errors"
	"fmt"
	"time"

	"countback/events/journal"
)

// keep adds to the protected copy and moves the mark, every few seconds,
// until the journal is closed.
func (s *Stream) keep() {
	tick := time.NewTicker(s.timing.KeepEvery)
	defer tick.Stop()
	for {
		select {
		case <-s.ctx.Done():
			return
		case <-tick.C:
			err := s.keepOnce(s.ctx)
			if s.ctx.Err() != nil {
				return
			}
			s.kept(err)
		}
	}
}

// kept remembers what the keeper met, and says so when that changes.
func (s *Stream) kept(err error) {
	s.keepMu.Lock()
	defer s.keepMu.Unlock()
	if err != nil && s.keepErr == nil {
		s.log.Error("the journal goes on without protection", "error", err)
	}
	s.keepErr = err
}

// keepOnce moves the mark to the last event, which another terminal may have
// written, and copies what is new. An embedded server acknowledges only what
// is on disk, so up to its last event everything is.
func (s *Stream) keepOnce(ctx context.Context) error {
	if s.vault == nil {
		return nil
	}
	head, err := s.head(ctx)
	if err != nil {
		return err
	}
	marked, err := s.vault.Mark()
	if err == nil && uint64(head) > marked {
		err = s.markAt(ctx, head)
	}
	return errors.Join(err, s.vault.Protect(uint64(head)))
}

func (s *Stream) markAt(ctx context.Context, seq journal.Seq) error {
	raw, err := s.getMsg(ctx, seq)
	if err != nil {
		return err
	}
	return s.vault.Acknowledged(raw.Sequence, raw.Header.Get(idHeader), raw.Data)
}

// acknowledged moves the mark after an append. That it cannot be written
// takes nothing back; Health says so.
func (s *Stream) acknowledged(seq uint64, d journal.Draft) {
	var err error
	switch {
	case s.vault != nil:
		err = s.vault.Acknowledged(seq, d.ID(), d.Data)
	case s.mark != nil:
		err = s.mark.Advance(seq, d.ID(), d.Data)
	}
	if err != nil {
		s.kept(fmt.Errorf("high-water mark: %w", err))
	}
}

// Health implements journal.Journal. It looks at the connection, the server,
// the stream, the space on the disk, the protected copy and the mark.
func (s *Stream) Health(ctx context.Context) error {
	ctx, cancel, err := s.alive(ctx)
	if err != nil {
		return err
	}
	defer cancel()
	if !s.nc.IsConnected() {
		return journal.ErrOffline
	}
	if s.srv != nil {
		if err := sick(s.srv); err != nil {
			return fmt.Errorf("server: %w", err)
		}
	}
	if s.room != nil {
		if err := s.room.check(0); err != nil {
			return err
		}
	}
	if _, err := s.head(ctx); err != nil {
		return err
	}
	s.keepMu.Lock()
	defer s.keepMu.Unlock()
	return s.keepErr
}
