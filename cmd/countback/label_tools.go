package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/labels"
	"countback/labels/code"
)

func labelToolsCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "tools [TOOL...]", Short: "Labels of the shop's tools: name, range, calibration",
		Long: `Draws the labels of the tools on the shop's register, or of those that are named:
the name, what a torque tool covers, until when it is calibrated, and the code
that it was put on the register with. A tool without a label of its own is named
below, with how it gets one.`,
		Example: `  countback label tools --grid a4-24 --to tools.pdf
  countback label tools wrench-40-200 --size 57x32 --printer bench`,
		Args: arguments(cobra.ArbitraryArgs), ValidArgsFunction: completeTools,
	}
	f.addLabel(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		p, err := f.target(s)
		if err != nil {
			return err
		}
		list, notes, err := b.toolTags(args, string(s.Shop))
		if err != nil {
			return err
		}
		d, err := f.labels(p, list)
		if err != nil {
			return err
		}
		return f.deliver(cmd, s, d, notes...)
	}
	return cmd
}

// toolTags are the labels of tools, all of them where none is named, and what
// there is to say of those that have no code.
func (b *books) toolTags(only []string, shop string) (list []labels.Label, notes []string, err error) {
	left := slices.Clone(only)
	for _, t := range b.tools.List() {
		if len(only) > 0 && !slices.Contains(only, string(t.Tool)) {
			continue
		}
		left = slices.DeleteFunc(left, func(name string) bool { return name == string(t.Tool) })
		c, bad := code.Parse(string(t.Code))
		if bad != nil || c.Type() != code.Loan {
			notes = append(notes, "Tool "+string(t.Tool)+" has no label; say at a terminal: tool "+string(t.Tool)+", a blank tool label, ISSUED (blank ones: countback label blank tools)")
			continue
		}
		tag := labels.ToolTag{Code: c, Shop: shop, Name: upper(t.Words()), Range: t.Range(), Training: b.training}
		if t.Words() != string(t.Tool) {
			tag.ID = string(t.Tool)
		}
		if t.Due.Valid() {
			tag.Due = t.Due.Words()
		}
		list = append(list, tag)
	}
	switch {
	case len(left) > 0:
		return nil, nil, unknown("no tool %s is on the shop's register; see: countback tools", strings.Join(left, ", "))
	case len(list) == 0 && len(notes) > 0:
		return nil, nil, unknown("%s", lowerFirst(notes[0]))
	case len(list) == 0:
		return nil, nil, unknown("no tool is on the shop's register; say at a terminal: tool NAME, a blank tool label, ISSUED (blank ones: countback label blank tools)")
	}
	return list, notes, nil
}

func lowerFirst(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToLower(text[:1]) + text[1:]
}

func completeTools(cmd *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
	b := completeBooks(cmd)
	if b == nil {
		return nil, noFiles
	}
	var names []string
	for _, t := range b.tools.List() {
		names = append(names, string(t.Tool)+"\t"+t.Words())
	}
	return names, noFiles
}
