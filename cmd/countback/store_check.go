package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events/stream"
	"countback/events/stream/vault"
)

type storeReport struct {
	Store    string       `json:"store"`
	Shop     string       `json:"shop"`
	Exists   bool         `json:"exists"`
	Sound    bool         `json:"sound"` // nothing that was acknowledged is missing or unreadable
	InUse    bool         `json:"inuse"` // a program has it open, so its end may be moving
	Events   uint64       `json:"events"`
	Last     string       `json:"last"` // id of the last event
	Bytes    int64        `json:"bytes"`
	Blocks   int          `json:"blocks"`
	Torn     int64        `json:"torn"` // bytes of an unfinished write at the end, never acknowledged
	Guard    string       `json:"guard"`
	Guarded  uint64       `json:"guarded"` // last event in the protected copy
	Mark     string       `json:"mark"`
	Marked   uint64       `json:"marked"` // last event known to have been acknowledged
	Faults   []storeFault `json:"faults"`
	Warnings []storeFault `json:"warnings"`
	found    vault.Report
}

type storeFault struct {
	Path string `json:"path"`
	What string `json:"what"`
}

func storeCheckCommand() *cobra.Command {
	return &cobra.Command{
		Use: "check", Short: "Verify every byte of the store and change nothing",
		Long: `Reads the whole store and its protected copy and verifies every record, whether
or not a program has the store open. Exit status 1 if anything that was
acknowledged is missing or cannot be read.`,
		Example: "  countback store check\n  countback store check --json --store /srv/countback",
		Args:    arguments(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			if err := readableParent(s.Store); err != nil {
				return storeError(err)
			}
			found, err := stream.Check(s.stream())
			if err != nil {
				return storeError(err)
			}
			r := newStoreReport(found)
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if !r.Exists {
				return verdict{statusUnknown}
			}
			if !r.Sound {
				return no()
			}
			return nil
		},
	}
}

func newStoreReport(f vault.Report) storeReport {
	return storeReport{
		Store: f.Place.Dir, Shop: string(f.Place.Shop), Exists: !f.Fresh, Sound: f.Err() == nil, InUse: f.InUse,
		Events: f.Events, Last: f.LastID, Bytes: f.Bytes, Blocks: f.Blocks, Torn: f.Torn,
		Guard: f.Place.Guard, Guarded: f.Guarded, Mark: f.Place.Mark, Marked: f.Mark,
		Faults: storeFaults(f.Faults), Warnings: storeFaults(f.Warnings), found: f,
	}
}

func storeFaults(list []vault.Fault) []storeFault {
	out := []storeFault{}
	for _, f := range list {
		out = append(out, storeFault{f.Path, f.What})
	}
	return out
}

func (r storeReport) text(w io.Writer) { fmt.Fprint(w, r.found.String()) }
