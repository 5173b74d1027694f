package stream

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"

	"countback/events/journal"
)

// startWithin is how long a server may take to open a store that was found
// sound: a million events without an index take a third of a second warm.
const startWithin = 5 * time.Minute

// maxMemory is for readers only; events are in files.
const maxMemory = 64 << 20

// options are those of the server in this process.
func options(cfg Config, dir string, maxStore int64) (*server.Options, error) {
	opts := &server.Options{
		ServerName:             serverName(cfg),
		DontListen:             cfg.Listen == "",
		NoSigs:                 true,
		NoLog:                  true,
		DisableJetStreamBanner: true,
		MaxPayload:             journal.MaxData + 64<<10,
		JetStream:              true,
		StoreDir:               dir,
		SyncAlways:             true,
		JetStreamMaxStore:      maxStore,
		JetStreamMaxMemory:     maxMemory,
	}
	if cfg.Listen == "" {
		return opts, nil
	}
	host, port, err := net.SplitHostPort(cfg.Listen)
	if err != nil {
		return nil, err
	}
	if opts.Port, err = strconv.Atoi(port); err != nil {
		return nil, fmt.Errorf("listen on %q: %w", cfg.Listen, err)
	}
	if opts.Host = host; opts.Port == 0 {
		opts.Port = server.RANDOM_PORT
	}
	return opts, nil
}

// start runs a server in this process. It returns the options that connect
// to it from inside.
func start(cfg Config, dir string, maxStore int64) (*server.Server, []nats.Option, error) {
	opts, err := options(cfg, dir, maxStore)
	if err != nil {
		return nil, nil, err
	}
	var inside []nats.Option
	if cfg.Listen != "" {
		password := ownerPassword()
		opts.Users, opts.NoAuthUser = users(cfg, password), guestUser
		inside = append(inside, nats.UserInfo(ownerUser, password))
	}
	srv, err := server.NewServer(opts)
	if err != nil {
		return nil, nil, fmt.Errorf("server: %w", err)
	}
	log := &serverLog{log: cfg.Logger}
	srv.SetLoggerV2(log, false, false, false)
	srv.Start()
	if !srv.ReadyForConnections(startWithin) {
		stop(srv)
		return nil, nil, fmt.Errorf("server does not start: %s", log.reason())
	}
	if !srv.JetStreamEnabled() {
		stop(srv)
		return nil, nil, fmt.Errorf("server does not take the store: %s", log.reason())
	}
	return srv, append(inside, nats.InProcessServer(srv)), nil
}

func serverName(cfg Config) string {
	if cfg.Terminal == "" {
		return "countback-" + string(cfg.Shop)
	}
	return "countback-" + string(cfg.Shop) + "-" + string(cfg.Terminal)
}

// stop ends a server and waits until it has let go of its files.
func stop(srv *server.Server) {
	srv.Shutdown()
	srv.WaitForShutdown()
}

// hasty begins the server's complaint when its own look at itself, to which
// it gives a millisecond, was not done in time. That says nothing.
const hasty = "failed to be ready for connections"

// sick says what the server finds wrong with itself; nil if nothing.
func sick(srv *server.Server) error {
	status := srv.Healthz(&server.HealthzOptions{})
	if status.StatusCode == 200 || status.Status == "ok" {
		return nil
	}
	text := status.Error
	if text == "" {
		text = status.Status
	}
	if strings.HasPrefix(text, hasty) && srv.Running() {
		return nil
	}
	if strings.Contains(text, "no space left on device") {
		return fmt.Errorf("%w: %s; make room on the disk, then start again", journal.ErrFull, text)
	}
	return errors.New(text)
}

// serverLog hands the server's log on, and keeps the last complaint for the
// error of a start that fails.
type serverLog struct {
	log  *slog.Logger
	last atomic.Pointer[string]
}

func (l *serverLog) reason() string {
	if s := l.last.Load(); s != nil {
		return *s
	}
	return "it does not say why"
}

// plain begins a warning of the server about its own configuration that says
// nothing about this one: the file and the memory that passwords are in are the
// shop's own.
const plain = "Plaintext passwords detected"

func (l *serverLog) put(level slog.Level, format string, v []any) {
	if strings.HasPrefix(format, plain) {
		return
	}
	if level >= slog.LevelError {
		text := fmt.Sprintf(format, v...)
		l.last.Store(&text)
	}
	if l.log.Enabled(context.Background(), level) {
		l.log.Log(context.Background(), level, fmt.Sprintf(format, v...), "from", "server")
	}
}

func (l *serverLog) Noticef(format string, v ...any) { l.put(slog.LevelDebug, format, v) }
func (l *serverLog) Warnf(format string, v ...any)   { l.put(slog.LevelWarn, format, v) }
func (l *serverLog) Errorf(format string, v ...any)  { l.put(slog.LevelError, format, v) }
func (l *serverLog) Fatalf(format string, v ...any)  { l.put(slog.LevelError, format, v) }
func (l *serverLog) Debugf(format string, v ...any)  { l.put(slog.LevelDebug, format, v) }
func (l *serverLog) Tracef(format string, v ...any)  { l.put(slog.LevelDebug, format, v) }
