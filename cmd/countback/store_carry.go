package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
)

type carryReport struct {
	From string `json:"from"`
	To   string `json:"to"`
	New  int    `json:"new"`  // events that were brought
	Last uint64 `json:"last"` // number of the last event, in both
}

func (r carryReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s has what %s has, up to event %d; %s.\n", r.To, r.From, r.Last, many(r.New, "event is new", "events are new"))
}

func storePushCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "push", Short: "Bring the store's events onto a server",
		Long: `Brings every event of the store onto a server, in order and under its number: to
move from one machine to a server or a cluster, and to give a new cluster what a
backup has. A server that has events of its own is refused; one that has the
first of them gets the rest, so that a push that was cut off goes on. It works as
the owner, whose password is in --passwords.`,
		Example: "  countback store push --server nats://10.0.0.1:4222 --passwords passwords --replicas 3",
		Args:    arguments(cobra.NoArgs),
	}
	replicas := cmd.Flags().Int("replicas", 1, "on how many nodes each event is kept, where the server has no events yet: 1, 3 or 5")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		s, err := carrySettings(cmd)
		if err != nil {
			return err
		}
		if *replicas != 1 && *replicas != 3 && *replicas != 5 {
			return usage("--replicas %d: want 1, 3 or 5", *replicas)
		}
		list, err := readPasswords(s.Passwords)
		if err != nil {
			return err
		}
		r := s.remote()
		r.Terminal, r.Password, r.Create, r.Replicas = stream.Owner, list[stream.Owner], true, *replicas
		if report, err := sound(s); err != nil {
			return err
		} else if report.Fresh {
			return unknown("there is no store in %s", s.Store)
		}
		return carryBetween(cmd, s, r, false)
	}
	return cmd
}

func storePullCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "pull", Short: "Bring a server's events into the store: a backup of a cluster",
		Long: `Brings every event of a server into the store that --store names, in order and
under its number, and makes the store if there is none: a backup of a server or a cluster as an
ordinary store, which store check, store export and every report know. Only what
is new is brought. A store that has something else is refused.`,
		Example: "  countback store pull --server nats://10.0.0.1:4222,nats://10.0.0.2:4222 --store /mnt/backup/store",
		Args:    arguments(cobra.NoArgs),
	}
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		s, err := carrySettings(cmd)
		if err != nil {
			return err
		}
		return carryBetween(cmd, s, s.remote(), true)
	}
	return cmd
}

func carrySettings(cmd *cobra.Command) (settings, error) {
	s, err := readSettings(cmd)
	if err != nil {
		return s, err
	}
	if s.Server == "" {
		return s, usage("say which server: --server nats://HOST:4222")
	}
	return s, nil
}

// carryBetween opens both and carries, home or away.
func carryBetween(cmd *cobra.Command, s settings, r stream.Remote, home bool) error {
	far, err := stream.Connect(cmd.Context(), r)
	if err != nil {
		return storeError(err)
	}
	cfg := s.stream()
	cfg.Listen, cfg.Terminals = "", nil
	near, err := stream.Open(cfg)
	if err != nil {
		return storeError(errors.Join(err, far.Close()))
	}
	report := carryReport{From: s.Store, To: s.Server}
	from, to := journal.Journal(near), journal.Journal(far)
	if home {
		from, to, report.From, report.To = far, near, s.Server, s.Store
	}
	report.New, report.Last, err = carry(cmd.Context(), from, to)
	if err = errors.Join(err, near.Close(), far.Close()); err != nil {
		return storeError(err)
	}
	return write(cmd, s, report)
}

// carry appends to one journal what it lacks of another, every event under its
// number. What both have must be the same.
func carry(ctx context.Context, from, to journal.Journal) (brought int, last uint64, err error) {
	var sums [][sha256.Size]byte
	own := map[events.Terminal]journal.Seq{}
	err = to.Read(ctx, 1, journal.Filter{}, func(m journal.Message) error {
		sums = append(sums, sumOf(m))
		own[m.Terminal] = m.Seq
		return nil
	})
	if err != nil {
		return 0, 0, err
	}
	err = from.Read(ctx, 1, journal.Filter{}, func(m journal.Message) error {
		last = uint64(m.Seq)
		if at := int(m.Seq) - 1; at < len(sums) {
			if sums[at] != sumOf(m) {
				return fmt.Errorf("event %d is %s, and there it is another: the two have gone different ways, and nothing is brought any more", m.Seq, m.ID())
			}
			return nil
		}
		d := journal.Draft{Terminal: m.Terminal, N: m.N, Job: m.Job, Data: bytes.Clone(m.Data)}
		got, err := to.Append(ctx, d, journal.Recorded(own[m.Terminal]))
		if unclear := new(journal.Unclear); errors.As(err, &unclear) {
			got, err = to.Append(ctx, d, journal.Recorded(own[m.Terminal]))
		}
		if err != nil {
			return err
		}
		if got.Seq != m.Seq {
			return fmt.Errorf("event %d (%s) became %d there: somebody writes there meanwhile; nothing is brought any more", m.Seq, m.ID(), got.Seq)
		}
		own[m.Terminal] = got.Seq
		brought++
		return nil
	})
	if err == nil && uint64(len(sums)) > last {
		err = fmt.Errorf("there are %d events already, and %d here: it is ahead; bring them the other way", len(sums), last)
	}
	return brought, last, err
}

func sumOf(m journal.Message) [sha256.Size]byte {
	return sha256.Sum256(append([]byte(m.ID()+" "+string(m.Job)+" "), m.Data...))
}
