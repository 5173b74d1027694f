package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels"
	"countback/labels/code"
	"countback/labels/sheet"
	"countback/labels/symbol"
)

// blankTypes are the labels that are printed ahead, by the word of a flag.
var blankTypes = map[string]code.Type{
	"bag": code.Bag, "rack": code.Rack, "slip": code.Slip, "case": code.Case, "joint": code.Joint, "badge": code.Badge,
}

// blankWords are the words of the flag, the commonest first.
var blankWords = []string{"bag", "rack", "slip", "case", "joint", "badge"}

func printLabelsCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "labels FILE.pdf", Short: "A sheet of blank labels for a terminal",
		Long: `Makes sheets of blank labels, 10 on a page, from the two letters of a terminal,
beginning behind the last one that was used or, with --from, at a counter: the
command says where the next sheet begins. Two labels with one code are a bag that
is in two places, so print each sheet once.`,
		Example: `  countback print labels bags.pdf --terminal bench-1
  countback print labels tags.pdf --terminal bench-1 --type joint --count 20 --from 31`,
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	count := cmd.Flags().Int("count", 10, "how many")
	from := cmd.Flags().Int("from", -1, "counter to begin at (default: behind the last one that was used)")
	typ := cmd.Flags().String("type", "bag", "what for: "+strings.Join(blankWords, ", "))
	completeFlag(cmd, "type", cobra.FixedCompletions(blankWords, noFiles))
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		t, ok := blankTypes[*typ]
		switch {
		case !ok:
			return usage("labels of type %q are not printed ahead; these are: %s", *typ, strings.Join(blankWords, ", "))
		case *count < 1 || *count > labels.MaxRoll:
			return usage("%d labels: want 1 to %d", *count, labels.MaxRoll)
		}
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		i, err := issuerOf(b, s.Terminal)
		if err != nil {
			return err
		}
		begin := uint32(max(*from, 0))
		if *from < 0 {
			begin = b.used(i, t)
		}
		list, next, err := labels.Codes(i, t, begin, *count)
		if err != nil {
			return err
		}
		g := sheet.A4Grid10
		d, err := sheet.Labels(g, labels.Media{WidthMm: g.WidthMm, HeightMm: g.HeightMm, DPI: symbol.DPI600, MarginMm: 3}, blanks(t, list, string(s.Shop)))
		if err != nil {
			return err
		}
		return saveDocument(cmd, s, args[0], fmt.Sprintf("The next sheet begins at --from %d.", next), d)
	}
	return cmd
}

// blanks are the labels for codes that are on nothing yet.
func blanks(t code.Type, list []code.Code, shop string) []labels.Label {
	switch t {
	case code.Bag:
		return labels.BagRoll(list, shop, false)
	case code.Joint:
		return labels.JointRoll(list, shop, false)
	}
	roll := make([]labels.Label, len(list))
	for i, c := range list {
		roll[i] = labels.Tag{Code: c, Name: upper(t.String()) + " ..............", Note: shop}
	}
	return roll
}

// issuerOf is what gives out the labels of a terminal.
func issuerOf(b *books, t events.Terminal) (code.Issuer, error) {
	for _, r := range b.Ranges() {
		if r.For == string(t) {
			return code.NewIssuer(r.Range)
		}
	}
	return code.Issuer{}, unknown("terminal %s has no labels of its own yet; sit down at it once: countback scan --terminal %s", t, t)
}

// printedAhead is how far behind the last used label others may be in use: a
// roll is not used in order.
const printedAhead = 900

// used is the counter behind the last label of a type that is on something.
func (b *books) used(i code.Issuer, t code.Type) uint32 {
	next := uint32(0)
	for n := uint32(0); n < next+printedAhead; n++ {
		if c, ok := i.Issue(t, n); ok {
			if _, taken := b.Owner(events.Code(c)); taken {
				next = n + 1
			}
		}
	}
	return next
}
