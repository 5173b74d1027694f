package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events/stream"
)

type backupReport struct {
	Store  string `json:"store"`
	Backup string `json:"backup"`
	Last   uint64 `json:"last"` // number of the last event in the backup; all before it are in it too
}

func storeBackupCommand() *cobra.Command {
	return &cobra.Command{
		Use: "backup FOLDER", Short: "Copy the store, in use or not",
		Long: `Copies the store into a folder, or brings an earlier backup there up to date;
then only what is new is copied. A store that is not sound is refused, so that
a good backup is not followed by a bad one. The store may be in use meanwhile.`,
		Example:           "  countback store backup /mnt/stick/countback",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeFolders,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			if err := readableParent(s.Store); err != nil {
				return storeError(err)
			}
			last, err := stream.Backup(s.stream(), args[0])
			if err != nil {
				return storeError(err)
			}
			return write(cmd, s, backupReport{s.Store, args[0], last})
		},
	}
}

func (r backupReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s is in %s up to event %d.\n", r.Store, r.Backup, r.Last)
}
