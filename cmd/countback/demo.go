package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/events/stream"
	"countback/kiosk/term"
	"countback/testdata/plans"
)

// The demo's own names, all of them invented.
const (
	demoShop = "elm-street"
	demoPlan = "sorrel-i4-20"
	demoJob  = "4K7"
)

func demoCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "demo", Short: "Play a whole job of an invented engine", GroupID: "work",
		Long: `Plays a whole job through the kiosk's own screens: an engine comes in, is taken
apart, its head goes out and comes back, and it is built again and started, with
what goes wrong in a shop on the way. It writes a store of its own, which it
leaves behind for the other commands; yours is not touched. On a terminal it ends
at a bench of that store, on the kiosk's screen. The engine and its numbers are
invented: nobody may build from them.`,
		Example: "  countback demo\n  countback demo --all | less\n  countback demo --plain --store /tmp/demo",
		Args:    arguments(cobra.NoArgs),
	}
	plain := cmd.Flags().Bool("plain", false, "text only, also on a terminal: no bold type, and no kiosk afterwards")
	all := cmd.Flags().Bool("all", false, "every scan, those of the routine too")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		s, err := demoSettings(cmd)
		if err != nil {
			return err
		}
		out := cmd.OutOrStdout()
		d := demo{out: out, all: *all, bold: !*plain && live(out)}
		if err := d.run(cmd.Context(), s); err != nil {
			return err
		}
		if err := d.reports(cmd, s); err != nil || *plain || !live(out) || !live(cmd.InOrStdin()) {
			return err
		}
		return sitAtDemo(cmd, s)
	}
	return cmd
}

// sitAtDemo leaves whoever watched at a bench of the demo's store, on the
// kiosk's own screen.
func sitAtDemo(cmd *cobra.Command, s settings) error {
	if _, err := fmt.Fprint(cmd.OutOrStdout(), "\nPress Enter to sit down at bench-1 in that store; Ctrl-C twice leaves it. "); err != nil {
		return err
	}
	if _, err := bufio.NewReader(cmd.InOrStdin()).ReadString('\n'); err != nil {
		return nil // nobody wants to
	}
	s.Terminal = "bench-1"
	t, err := openTerminal(cmd.Context(), s, map[string]string{demoPlan: plans.Sorrel}, wallClock)
	if err != nil {
		return err
	}
	if err := t.begin(cmd.Context(), demoJob); err != nil {
		return t.close(err)
	}
	return t.close(term.Run(cmd.Context(), term.Config{Terminal: t.Terminal, Theme: term.Dark, Letters: term.AutoLetters, CountIdle: 3 * time.Minute}))
}

// demoSettings are those of a fresh store: the one that is named, or a new
// folder for temporary files.
func demoSettings(cmd *cobra.Command) (settings, error) {
	s, err := readSettings(cmd)
	if err != nil {
		return s, err
	}
	named := ""
	if f := cmd.Flags().Lookup("store"); f.Changed {
		named = f.Value.String()
	}
	s.Shop, s.Terminal, s.Guard, s.Mark, s.Listen, s.Server = demoShop, "demo", "", "", "", ""
	if s.Store = named; named == "" {
		dir, err := os.MkdirTemp("", "countback-demo-")
		if err != nil {
			return s, err
		}
		s.Store = dir + "/store"
	}
	report, err := stream.Check(s.stream())
	if err != nil {
		return s, storeError(err)
	}
	if !report.Fresh {
		return s, usage("%s holds a store already; the demo writes a new one: name another folder", s.Store)
	}
	return s, nil
}

// demo plays the story and shows it.
type demo struct {
	out  io.Writer
	all  bool
	bold bool

	said  []string // scans since something came of them
	scans int      // of the routine that is played
	facts int
}

func (d *demo) run(ctx context.Context, s settings) (err error) {
	acts, err := parseStory(storyText)
	if err != nil {
		return err
	}
	store, err := stream.Open(s.stream())
	if err != nil {
		return storeError(err)
	}
	defer func() { err = errors.Join(err, storeError(store.Close())) }()
	p := newPlayer(s, store, map[string]string{demoPlan: plans.Sorrel})
	routine := ""
	for _, a := range acts {
		switch a.kind {
		case actScan:
			t, err := p.scan(ctx, a.text)
			if err != nil {
				return err
			}
			d.scan(t, routine != "")
		case actRoutine:
			routine, d.scans, d.facts = a.text, 0, 0
		case actEnd:
			d.routine(routine)
			routine = ""
		default:
			if err := p.order(ctx, a); err != nil {
				return err
			}
			d.show(a, routine != "")
		}
	}
	return nil
}

// show shows what is no scan.
func (d *demo) show(a act, routine bool) {
	switch {
	case a.kind == actScene:
		d.headline(a.text)
	case a.kind == actClock:
		t, err := time.Parse(clockForm, a.text)
		if err == nil {
			d.aside(t.Format("Monday, 2 January 2006, 15:04"))
		}
	case a.kind == actBench:
		d.aside("At " + a.text)
	case a.kind == actRemark && (!routine || d.all):
		d.aside(a.text)
	}
}

// aside is what nobody scanned and no screen says.
func (d *demo) aside(text string) { fmt.Fprintf(d.out, "%-10s %s\n", "", text) }

func (d *demo) headline(text string) {
	if d.bold {
		fmt.Fprintf(d.out, "\x1b[1m%s\x1b[0m\n\n", text)
		return
	}
	fmt.Fprintf(d.out, "%s\n%s\n\n", text, strings.Repeat("-", len([]rune(text))))
}

// scan shows a sentence and its answer once the sentence is complete.
func (d *demo) scan(t turn, routine bool) {
	d.scans++
	d.facts += len(t.Stored)
	if routine && !d.all {
		return
	}
	d.said = append(d.said, t.Line)
	if !t.matters() {
		return
	}
	fmt.Fprintf(d.out, "%-10s %s\n", "scan", strings.Join(d.said, " | "))
	d.said = nil
	if strings.HasPrefix(t.Ask, "Next:") {
		t.Ask = ""
	}
	_ = t.write(d.out)
	fmt.Fprintln(d.out)
}

// routine tells in one line what was not shown.
func (d *demo) routine(order string) {
	word, what, _ := strings.Cut(order, " ")
	if d.all {
		return
	}
	d.said = nil
	fmt.Fprintf(d.out, "routine    %s %s: %d scans, %d facts\n\n", word, what, d.scans, d.facts)
}

// reports ends the demo with what the manager asks for, read from the store
// that was written.
func (d *demo) reports(cmd *cobra.Command, s settings) error {
	b, err := readBooks(cmd.Context(), s, now())
	if err != nil {
		return err
	}
	id, j, err := b.find(demoJob)
	if err != nil {
		return err
	}
	d.headline("The audit of the first start, and its signature")
	if a, ok := j.Audit("ready-to-start"); ok {
		newAuditReport(id, j, a).text(d.out)
	}
	fmt.Fprintln(d.out)
	d.headline("What was lost, where, and how it ended")
	lossesOf(b).text(d.out)
	fmt.Fprintln(d.out)
	d.headline("The store is yours to look at")
	fmt.Fprintf(d.out, "export COUNTBACK_STORE=%s COUNTBACK_SHOP=%s\n", s.Store, s.Shop)
	for _, try := range []string{"job list", "where hole front-cover:18", "history " + demoJob, "store check", "codes " + demoJob} {
		fmt.Fprintf(d.out, "countback %s\n", try)
	}
	return nil
}
