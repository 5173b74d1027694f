package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"countback/events/stream"
)

type nodesReport struct {
	Files []string `json:"files"`
}

func (r nodesReport) text(w io.Writer) {
	for _, f := range r.Files {
		fmt.Fprintln(w, f)
	}
	fmt.Fprintln(w, "Bring each to its machine and start it there: countback serve --node FILE")
}

func storeNodesCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "nodes FOLDER", Short: "Write the configuration of message servers of the shop's own",
		Long: `Writes a configuration file for each node: one for a shop with one server, three
where one may fail. The terminals and their passwords are those of --passwords;
see: countback store passwords. Files that are there already are left alone, and
then nothing is written.

The files are for the server inside this program (countback serve --node FILE),
and for a NATS server of version 2.11 and later.`,
		Example: `  countback store nodes conf/ --node shop-1=192.168.7.11 --passwords passwords
  countback store nodes conf/ --node a=10.0.0.1 --node b=10.0.0.2 --node c=10.0.0.3 --passwords passwords`,
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeFolders,
	}
	nodes := cmd.Flags().StringArray("node", nil, "NAME=HOST of a node; give one or three")
	dir := cmd.Flags().String("data", "/var/lib/countback/node", "folder of a node's store, on its machine")
	port := cmd.Flags().Int("port", 4222, "port for terminals")
	routes := cmd.Flags().Int("route-port", 6222, "port between the nodes")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		list, err := readPasswords(s.Passwords)
		if err != nil {
			return err
		}
		f := stream.Fleet{Shop: s.Shop, Dir: *dir, Port: *port, RoutePort: *routes, Terminals: list.terminals(), Owner: list[stream.Owner], Secret: list[nodesUser]}
		for _, n := range *nodes {
			name, host, ok := strings.Cut(n, "=")
			if !ok {
				return usage("--node %s: want NAME=HOST", n)
			}
			f.Nodes = append(f.Nodes, stream.Member{Name: name, Host: host})
		}
		r, err := writeNodes(f, args[0])
		if err != nil {
			return err
		}
		return write(cmd, s, r)
	}
	return cmd
}

// writeNodes writes all files, or none.
func writeNodes(f stream.Fleet, folder string) (r nodesReport, err error) {
	texts := map[string]string{}
	for i, m := range f.Nodes {
		file := filepath.Join(folder, m.Name+".conf")
		if texts[file], err = f.Config(i); err != nil {
			return r, usage("%w", err)
		}
		if _, err := os.Lstat(file); err == nil {
			return r, usage("%s is there already; remove it, or name another folder", file)
		}
		r.Files = append(r.Files, file)
	}
	if len(f.Nodes) == 0 {
		_, err := f.Config(0)
		return r, usage("%w", err)
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return r, err
	}
	for _, file := range r.Files {
		if err := os.WriteFile(file, []byte(texts[file]), 0o600); err != nil {
			return r, err
		}
	}
	return r, nil
}
