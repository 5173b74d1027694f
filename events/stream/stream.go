package stream

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"sync/atomic"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream/vault"
)

// Stream is a journal on a JetStream stream: in a server of its own inside
// this process (Open), or on one elsewhere (Connect).
type Stream struct {
	shop   events.Shop
	name   string // of the stream
	timing Timing
	log    *slog.Logger

	maxStream int64 // bytes; -1 for no limit

	nc        *nats.Conn
	js        jetstream.JetStream
	st        jetstream.Stream
	clustered atomic.Bool // the server is one of several

	// Of an embedded server; all nil for one elsewhere.
	srv   *server.Server
	vault *vault.Vault
	room  *room

	mark *vault.Marker // of a server elsewhere, if this terminal keeps one

	alone   bool          // nobody outside this process can write
	reached atomic.Uint64 // highest number that this process knows of

	pens pens

	ctx     context.Context // ends with Close, cause journal.ErrClosed
	cancel  context.CancelCauseFunc
	working sync.WaitGroup // the keeper
	closing sync.Once
	closed  error

	keepMu  sync.Mutex
	keepErr error // what the keeper met last; nil if all is well
}

var _ journal.Journal = (*Stream)(nil)

// Open opens a store, and makes it if there has never been one. What is wrong
// with it is found before the server touches it: *vault.Damaged,
// *vault.DamagedMark, *vault.InUse, *vault.OtherVersion.
func Open(cfg Config) (*Stream, error) {
	cfg, err := cfg.full()
	if err != nil {
		return nil, err
	}
	v, err := vault.Open(cfg.place(), string(cfg.Terminal))
	if err != nil {
		return nil, err
	}
	s, err := open(cfg, v)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("open store %s: %w", v.Place().Dir, err), v.Close(false))
	}
	return s, nil
}

func open(cfg Config, v *vault.Vault) (*Stream, error) {
	report := v.Report()
	for _, w := range report.Warnings {
		cfg.Logger.Warn("protected copy was damaged and is copied again", "what", w.String())
	}
	room := newRoom(v.Place().Dir, cfg.MinFreeBytes)
	maxStore := cfg.MaxStoreBytes
	if maxStore == 0 {
		free, err := room.free()
		if err != nil {
			return nil, err
		}
		maxStore = report.Bytes + max(free-cfg.MinFreeBytes, 0)/10*9
	}
	srv, inside, err := start(cfg, v.Place().ServerDir(), max(maxStore, 1))
	if err != nil {
		return nil, err
	}
	s := newStream(cfg.Shop, cfg.Timing, cfg.Logger)
	s.srv, s.vault, s.room = srv, v, room
	s.alone = cfg.Listen == ""
	s.reached.Store(report.Events)
	if cfg.maxStream > 0 {
		s.maxStream = cfg.maxStream
	}
	if err := s.connect("", string(cfg.Terminal), inside...); err != nil {
		s.end(false)
		return nil, err
	}
	if err := s.adopt(v); err != nil {
		s.end(false)
		return nil, err
	}
	s.working.Go(s.keep)
	return s, nil
}

// adopt checks that the server has what the vault has seen, or makes the
// stream in a fresh store.
func (s *Stream) adopt(v *vault.Vault) error {
	ctx, cancel := context.WithTimeout(s.ctx, startWithin)
	defer cancel()
	if v.Fresh() {
		if err := s.create(ctx, 1); err != nil {
			return err
		}
		if err := s.bind(ctx); err != nil {
			return err
		}
		return v.Found()
	}
	err := s.bind(ctx)
	if errors.Is(err, jetstream.ErrStreamNotFound) {
		return fmt.Errorf("server did not find the stream in a store with %d events; they are in the protected copy: run: countback store check, then: countback store restore", v.Report().Events)
	}
	if err != nil {
		return err
	}
	state, err := s.state(ctx)
	if err != nil {
		return err
	}
	if want := v.Report().Events; state.LastSeq != want || state.Msgs != want {
		return fmt.Errorf("server has %d events up to number %d, the store has %d; run: countback store check, then: countback store restore", state.Msgs, state.LastSeq, want)
	}
	return nil
}

func newStream(shop events.Shop, timing Timing, log *slog.Logger) *Stream {
	s := &Stream{shop: shop, name: vault.StreamName(shop), timing: timing, log: log, maxStream: -1}
	s.ctx, s.cancel = context.WithCancelCause(context.Background())
	return s
}

// reconnectWait is between two tries to reach one server again; the library
// adds up to a tenth of a second by chance.
const reconnectWait = 200 * time.Millisecond

// connect opens the connection. Publishing while it is down fails at once
// instead of being sent later, when nobody waits for it any more.
func (s *Stream) connect(urls, name string, opts ...nats.Option) error {
	opts = append([]nats.Option{
		nats.Name("countback " + name),
		nats.MaxReconnects(-1),
		nats.ReconnectWait(reconnectWait),
		nats.ReconnectBufSize(-1),
		nats.ErrorHandler(func(_ *nats.Conn, _ *nats.Subscription, err error) {
			s.log.Warn("connection to the journal", "error", err)
		}),
	}, opts...)
	var err error
	if s.nc, err = nats.Connect(urls, opts...); err != nil {
		return err
	}
	s.js, err = jetstream.New(s.nc)
	return err
}

// Close implements journal.Journal. It brings protected copy and mark up to
// date and stops the server.
func (s *Stream) Close() error {
	s.closing.Do(func() { s.closed = s.end(true) })
	return s.closed
}

// end stops everything, in the reverse order of the start. InOrder says that
// the store may be marked as closed.
func (s *Stream) end(inOrder bool) error {
	s.cancel(journal.ErrClosed)
	s.working.Wait()
	var err error
	if inOrder {
		ctx, cancel := context.WithTimeout(context.Background(), s.timing.AckWait)
		err = s.keepOnce(ctx)
		cancel()
	}
	if s.nc != nil {
		s.nc.Close()
	}
	if s.srv != nil {
		stop(s.srv)
	}
	if s.vault != nil && inOrder {
		err = errors.Join(err, s.vault.Close(err == nil))
	}
	if s.mark != nil {
		err = errors.Join(err, s.mark.Close(err == nil))
	}
	if err != nil {
		return fmt.Errorf("close journal: %w", err)
	}
	return nil
}

// Addr is the address that an embedded server listens on; empty if it does
// not.
func (s *Stream) Addr() string {
	if s.srv == nil || s.srv.Addr() == nil {
		return ""
	}
	return s.srv.Addr().String()
}

// Ahead says whether there may be messages after one, without asking the
// server: for an embedded server that nobody else can reach what this process
// wrote, for any other server always. After an unclear append it learns of the
// message when that is settled.
func (s *Stream) Ahead(seq journal.Seq) bool { return !s.alone || uint64(seq) < s.reached.Load() }

// reach notes a number that is stored.
func (s *Stream) reach(seq journal.Seq) {
	for {
		was := s.reached.Load()
		if uint64(seq) <= was || s.reached.CompareAndSwap(was, uint64(seq)) {
			return
		}
	}
}

// alive combines a caller's context with the journal's own. Its cause is
// journal.ErrClosed once the journal is closed.
func (s *Stream) alive(ctx context.Context) (context.Context, context.CancelFunc, error) {
	if err := s.ctx.Err(); err != nil {
		return nil, nil, journal.ErrClosed
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	both, cancel := context.WithCancelCause(ctx)
	stop := context.AfterFunc(s.ctx, func() { cancel(journal.ErrClosed) })
	return both, func() { stop(); cancel(nil) }, nil
}

// Check, Restore and Backup are the vault's, for those who need no server.
func Check(cfg Config) (vault.Report, error) { return vault.Check(cfg.place()) }

// Restore makes a damaged store whole again; see vault.Restore.
func Restore(cfg Config, acceptLoss bool, from ...string) (vault.Restored, error) {
	return vault.Restore(cfg.place(), acceptLoss, from...)
}

// Backup copies a store, in use or not; see vault.Backup.
func Backup(cfg Config, dest string) (uint64, error) { return vault.Backup(cfg.place(), dest) }
