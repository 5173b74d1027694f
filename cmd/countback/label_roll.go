package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels"
	"countback/labels/code"
)

func labelRollCommand() *cobra.Command {
	return blankCommand(code.Bag, cobra.Command{
		Use: "roll", Short: "A roll of blank bag labels of a terminal's own codes",
		Long: `Reserves the next bag codes of a terminal and prints them as a roll, with lines to
write on. A range is given once: the next roll begins behind it. Two labels with
one code are a bag that is in two places, so print each roll once; --from prints
one again that came to harm.`,
		Example: "  countback label roll --terminal bench-1 --count 50 --printer bench\n  countback label roll --terminal bench-1 --count 24 --grid a4-24 --to bags.pdf",
	}, labels.BagRoll)
}

func labelJointTagsCommand() *cobra.Command {
	return blankCommand(code.Joint, cobra.Command{
		Use: "joint-tags", Short: "Blank joint tags, for an engine without a plan",
		Long: `Reserves the next joint codes of a terminal and prints blank tags: tie one to each
joint as it comes, and give it a name with LABEL.`,
		Example: "  countback label joint-tags --terminal bench-1 --count 20 --printer bench",
	}, labels.JointRoll)
}

// blanks are the tags that are printed ahead, by the word for them.
var blanks = []struct {
	word, does string
	typ        code.Type
	also       []string
}{
	{"badges", "Blank badges: scan one, then LABEL and the name", code.Badge, nil},
	{"racks", "Blank rack labels", code.Rack, nil},
	{"slips", "Blank slips to other shops", code.Slip, nil},
	{"places", "Blank labels of shelves, benches and other places", code.Place, nil},
	{"loans", "Blank tags of loans and of the shop's tools", code.Loan, []string{"tools"}},
	{"engines", "Blank tags of engines and of host parts", code.Engine, nil},
}

func labelBlankCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "blank", Short: "Blank badges and tags of a terminal's own codes",
		Long: `Reserves the next codes of a terminal and prints them, with lines to write on. What
such a label is on is said once at a bench: scan it, then LABEL and a name.`,
		Example: "  countback label blank badges --terminal bench-1 --count 5 --to badges.pdf\n  countback label blank racks --terminal bench-1 --count 10 --printer bench",
	}
	for _, b := range blanks {
		c.AddCommand(blankCommand(b.typ, cobra.Command{Use: b.word, Aliases: b.also, Short: b.does,
			Example: "  countback label blank " + b.word + " --terminal bench-1 --count 10 --to " + b.word + ".pdf"}, labels.TagRoll))
	}
	return c
}

// blankCommand makes a command that prints labels ahead.
func blankCommand(typ code.Type, c cobra.Command, roll func([]code.Code, string, bool) []labels.Label) *cobra.Command {
	var f labelFlags
	cmd := &c
	cmd.Args, cmd.ValidArgsFunction = arguments(cobra.NoArgs), cobra.NoFileCompletions
	f.addLabel(cmd)
	count := cmd.Flags().Int("count", 24, "how many labels")
	from := cmd.Flags().Int("from", -1, "counter to begin at, for a roll that came to harm (default: the next one)")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		if *count < 1 || *count > labels.MaxRoll {
			return usage("%d labels: want 1 to %d", *count, labels.MaxRoll)
		}
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		p, err := f.target(s)
		if err != nil {
			return err
		}
		i, err := b.issuer(s.Terminal)
		if err != nil {
			return err
		}
		r := rolls{s.queueDir(), string(typ) + i.Range()}
		begin, err := b.rollFrom(r, i, typ, *from)
		if err != nil {
			return err
		}
		list, next, err := labels.Codes(i, typ, begin, *count)
		if err != nil {
			return usage("%w", err)
		}
		d, err := f.labels(p, roll(list, string(s.Shop), b.training))
		if err != nil {
			return err
		}
		if err := r.reserve(next); err != nil {
			return err
		}
		return f.deliver(cmd, s, d, rollNote(list, next))
	}
	return cmd
}

// issuer is what gives out the labels of a terminal.
func (b *books) issuer(t events.Terminal) (code.Issuer, error) {
	for _, r := range b.Ranges() {
		if r.For == string(t) {
			return code.NewIssuer(r.Range)
		}
	}
	return code.Issuer{}, unknown("terminal %s has no labels of its own yet; sit down at it once: countback scan --terminal %s", t, t)
}

// maxAhead is how far behind the last label used a terminal takes a blank one
// for its own; further ones it takes for a misreading.
const maxAhead = 900

// rollFrom is the counter at which a roll begins: behind every roll that was
// reserved and every label that is in use.
func (b *books) rollFrom(r rolls, i code.Issuer, t code.Type, asked int) (uint32, error) {
	used := b.usedUpTo(i, t)
	if asked >= 0 {
		return uint32(asked), nil
	}
	reserved, err := r.next()
	if err != nil {
		return 0, err
	}
	begin := max(used, reserved)
	if begin > used+maxAhead-100 {
		return 0, usage("%d blank %s labels of range %s are printed and not in use; use some up, or print a roll again with --from %d", begin-used, t, i.Range(), used)
	}
	return begin, nil
}

// usedUpTo is the counter behind the last label of a type that is on something.
func (b *books) usedUpTo(i code.Issuer, t code.Type) uint32 {
	next := uint32(0)
	for n := uint32(0); n < next+maxAhead; n++ {
		if c, ok := i.Issue(t, n); ok {
			if _, taken := b.Owner(events.Code(c)); taken {
				next = n + 1
			}
		}
	}
	return next
}

// rolls is how far the rolls of a type and range were printed: a file beside
// the print queue that holds the next counter.
type rolls struct{ dir, name string }

func (r rolls) file() string { return filepath.Join(r.dir, "rolls", r.name) }

func (r rolls) next() (uint32, error) {
	data, err := os.ReadFile(r.file())
	if errors.Is(err, os.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	n, err := strconv.ParseUint(strings.TrimSpace(string(data)), 10, 32)
	if err != nil {
		return 0, fmt.Errorf("%s: %.40q is no counter; write the one behind the last label of the last roll", r.file(), data)
	}
	return uint32(n), nil
}

// reserve says that everything before a counter was printed. It is on disk when
// it returns, before anything is printed.
func (r rolls) reserve(next uint32) error {
	before, err := r.next()
	if err != nil || next <= before {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(r.file()), 0o700); err != nil {
		return err
	}
	return replaceFile(r.file(), []byte(strconv.FormatUint(uint64(next), 10)+"\n"))
}
