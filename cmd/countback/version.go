package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

type versionReport struct {
	Program  string `json:"program"`
	Version  string `json:"version"`  // of the module: "(devel)" for one built from a checkout
	Revision string `json:"revision"` // of the sources, empty where the build does not know it
	Modified bool   `json:"modified"` // the sources differed from the revision
	Go       string `json:"go"`
	Platform string `json:"platform"`
	Server   string `json:"server"` // of the message server inside
}

func versionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "Tell which program this is", GroupID: "keep",
		Example: "  countback version\n  countback version --json",
		Args:    arguments(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			return write(cmd, s, readVersion())
		},
	}
}

func readVersion() versionReport {
	r := versionReport{Program: "countback", Version: "(unknown)", Go: runtime.Version(), Platform: runtime.GOOS + "/" + runtime.GOARCH}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return r
	}
	r.Version = info.Main.Version
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			r.Revision = s.Value
		case "vcs.modified":
			r.Modified = s.Value == "true"
		}
	}
	for _, m := range info.Deps {
		if m.Path == "github.com/nats-io/nats-server/v2" {
			r.Server = m.Version
		}
	}
	return r
}

func (r versionReport) text(w io.Writer) {
	fmt.Fprintf(w, "countback %s", r.Version)
	if r.Revision != "" {
		fmt.Fprintf(w, ", sources %s", r.Revision)
		if r.Modified {
			fmt.Fprint(w, " with changes")
		}
	}
	fmt.Fprintf(w, "\nmade with %s for %s; message server inside: %s\n", r.Go, r.Platform, r.Server)
}
