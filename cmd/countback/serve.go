package main

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"time"

	"github.com/spf13/cobra"

	"countback/events/stream"
)

func serveCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "serve", Short: "Keep the shop's store for terminals on other machines", GroupID: "keep",
		Long: `Opens the store and lets other terminals work on it over the network, each with
its password and as itself only; whoever comes without a name may read. It has
the same protected copy and mark as a bench that has the store to itself, and a
bench can do both at once: countback kiosk --listen ADDRESS --passwords FILE.

With --node it is one message server of a shop's own, as a configuration file
says; see: countback store nodes. Three of them keep every event on two at least,
so that one may fail.

Passwords and events go over the network as they are: use it inside the shop, or
through a tunnel.`,
		Example: `  countback serve --listen 0.0.0.0:4222 --passwords /etc/countback/passwords
  countback serve --node /etc/countback/node.conf`,
		Args: arguments(cobra.NoArgs),
	}
	addListen(cmd.Flags())
	node := cmd.Flags().String("node", "", "configuration file of a message server to run, in place of a store")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), &slog.HandlerOptions{Level: slog.LevelWarn}))
		if *node != "" {
			return serveNode(cmd, *node, log)
		}
		return serveStore(cmd, s, log)
	}
	return cmd
}

func serveStore(cmd *cobra.Command, s settings, log *slog.Logger) error {
	switch {
	case s.Server != "":
		return usage("a server needs the store itself; leave out --server")
	case s.Listen == "":
		return usage("say where to listen: --listen 0.0.0.0:4222, or 127.0.0.1:4222 for this machine alone")
	}
	cfg := s.stream()
	cfg.Logger = log
	store, err := stream.Open(cfg)
	if err != nil {
		return storeError(err)
	}
	fmt.Fprintf(cmd.OutOrStdout(), "Shop %s is served at %s to %s.\n", s.Shop, store.Addr(), many(len(cfg.Terminals), "terminal", "terminals"))
	watch(cmd.Context(), cmd.ErrOrStderr(), func(ctx context.Context) error { return store.Health(ctx) })
	if err := store.Close(); err != nil {
		return storeError(err)
	}
	return cmd.Context().Err()
}

func serveNode(cmd *cobra.Command, file string, log *slog.Logger) error {
	n, err := stream.StartNode(file, log)
	if err != nil {
		return storeError(err)
	}
	fmt.Fprintf(cmd.OutOrStdout(), "Node is up at %s.\n", n.Addr())
	watch(cmd.Context(), cmd.ErrOrStderr(), func(context.Context) error { return n.Health() })
	n.Stop()
	return cmd.Context().Err()
}

// watchEvery is how often a server looks at itself.
const watchEvery = 2 * time.Second

// watch waits for the end, and says when something is wrong and when it is well
// again.
func watch(ctx context.Context, w io.Writer, health func(context.Context) error) {
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	was := ""
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		is := ""
		if err := health(ctx); err != nil && ctx.Err() == nil {
			is = err.Error()
		}
		switch {
		case is == was:
		case is == "":
			fmt.Fprintln(w, "countback: all is well again")
		default:
			fmt.Fprintln(w, "countback: "+is)
		}
		was = is
	}
}
