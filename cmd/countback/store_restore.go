package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events/stream"
)

type restoreReport struct {
	Store  string   `json:"store"`
	Events uint64   `json:"events"` // in the store now
	Last   string   `json:"last"`   // id of the last one
	Lost   uint64   `json:"lost"`   // given up with --accept-loss
	Aside  []string `json:"aside"`  // where what was there before is now
}

func storeRestoreCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "restore [BACKUP...]", Short: "Make a damaged or lost store whole again",
		Long: `Puts the store together again, event by event, from what is left of it, from its
protected copy, and from the backups that are named. Nothing is deleted: what
was in the store is moved aside. If an event is in none of the sources nothing
is changed and the command says which are missing.`,
		Example: `  countback store restore
  countback store restore /mnt/stick/countback
  countback store restore --store /srv/new --from /mnt/stick/countback`,
		ValidArgsFunction: completeFolders,
	}
	from := cmd.Flags().StringArray("from", nil, "a backup, like the arguments; may be given several times")
	lossy := cmd.Flags().Bool("accept-loss", false, "accept that the last events are in none of the sources")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		done, err := stream.Restore(s.stream(), *lossy, append(args, *from...)...)
		if err != nil {
			return storeError(err)
		}
		r := restoreReport{s.Store, done.Events, done.LastID, done.Lost, done.Aside}
		if r.Aside == nil {
			r.Aside = []string{}
		}
		return write(cmd, s, r)
	}
	return cmd
}

func (r restoreReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s has %d events, the last one is %s.\n", r.Store, r.Events, r.Last)
	if r.Lost > 0 {
		fmt.Fprintf(w, "%d events that had been acknowledged are lost.\n", r.Lost)
	}
	for _, a := range r.Aside {
		fmt.Fprintf(w, "What was there before is in %s.\n", a)
	}
}
