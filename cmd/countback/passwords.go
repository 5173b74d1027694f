package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
)

// nodesUser is the name under which a file of passwords has what the nodes of a
// cluster show each other. Like the owner's it has a dot, so that no terminal
// has it.
const nodesUser = "countback.nodes"

// passwords are those of a file: a name and a password on each line. On the
// machine of a terminal the file needs its own line only.
type passwords map[string]string

// readPasswords reads a file of passwords; none is named means none.
func readPasswords(file string) (passwords, error) {
	list := passwords{}
	if file == "" {
		return list, nil
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, usage("passwords: %w; make them with: countback store passwords %s NAME", err, file)
	}
	for n, line := range strings.Split(string(data), "\n") {
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		words := strings.Fields(line)
		if len(words) != 2 {
			return nil, usage("passwords: %s:%d: want a name and a password", file, n+1)
		}
		if _, ok := list[words[0]]; ok {
			return nil, usage("passwords: %s:%d: %s is there already", file, n+1, words[0])
		}
		list[words[0]] = words[1]
	}
	return list, nil
}

// terminals are the passwords of terminals.
func (p passwords) terminals() map[events.Terminal]string {
	list := map[events.Terminal]string{}
	for name, word := range p {
		if name != stream.Owner && name != nodesUser {
			list[events.Terminal(name)] = word
		}
	}
	return list
}

type passwordsReport struct {
	File  string   `json:"file"`
	Added []string `json:"added"`
	There []string `json:"there"` // that had one already; theirs is kept
}

func (r passwordsReport) text(w io.Writer) {
	for _, n := range r.Added {
		fmt.Fprintf(w, "%s has a password now.\n", n)
	}
	for _, n := range r.There {
		fmt.Fprintf(w, "%s had one already; it is kept.\n", n)
	}
	fmt.Fprintf(w, "They are in %s. Give each terminal a file with its own line, and nobody the rest.\n", r.File)
}

func storePasswordsCommand() *cobra.Command {
	return &cobra.Command{
		Use: "passwords FILE TERMINAL...", Short: "Make passwords for terminals that come over the network",
		Long: `Adds terminals to a file of passwords, each with a new one that nobody has to
type, and makes the file if there is none. A name that is there keeps its password. The first
time the file also gets that of the owner, who brings events into a server, and
the one that the nodes of a cluster show each other.`,
		Example: "  countback store passwords /etc/countback/passwords bench-1 bench-2",
		Args:    arguments(cobra.MinimumNArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			r, err := addPasswords(args[0], args[1:])
			if err != nil {
				return err
			}
			return write(cmd, s, r)
		},
	}
}

// addPasswords writes a file of passwords with those that it lacks.
func addPasswords(file string, names []string) (passwordsReport, error) {
	r := passwordsReport{File: file, Added: []string{}, There: []string{}}
	list, text := passwords{}, ""
	old, err := os.ReadFile(file)
	switch {
	case err == nil:
		if list, err = readPasswords(file); err != nil {
			return r, err
		}
		text = strings.TrimRight(string(old), "\n") + "\n"
	case !errors.Is(err, os.ErrNotExist):
		return r, usage("passwords: %w", err)
	default:
		text = "# Passwords of the shop's terminals. Keep this file from others.\n"
		names = append([]string{stream.Owner, nodesUser}, names...)
	}
	for _, n := range names {
		if n != stream.Owner && n != nodesUser {
			if err := journal.CheckName("terminal", n); err != nil {
				return r, usage("%w", err)
			}
		}
		if _, ok := list[n]; ok || slices.Contains(r.Added, n) {
			r.There = append(r.There, n)
			continue
		}
		text += n + " " + rand.Text() + "\n"
		r.Added = append(r.Added, n)
	}
	return r, replaceFile(file, []byte(text))
}
