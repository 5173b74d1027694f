package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels"
	"countback/labels/code"
	"countback/projections/plan"
)

// tagKinds are what label tags can print.
var tagKinds = []string{"job", "parts", "positions", "loans", "racks", "holes", "sizes"}

func labelTagsCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "tags JOB", Short: "Tags of parts, positions and loans, rack strips, position cards",
		Long: `Draws the tags of a job: its job card, parts, positions of parts that have several,
flags of what goes in for a while, and with --only one strip for each rack in use,
the holes of joints whose sizes differ, and sizes.`,
		Example: `  countback label tags 4K7 --only parts,loans --to tags.pdf
  countback label tags 4K7 --only racks --size 25x30 --symbols matrix --to strips.pdf
  countback label tags 4K7 --paper A4 --grid a4-24 --to tags.pdf`,
		Args: arguments(cobra.ExactArgs(1)), ValidArgsFunction: completeJobThen(nil),
	}
	f.addLabel(cmd)
	only := cmd.Flags().StringSlice("only", []string{"parts", "positions", "loans"}, "what to print: "+strings.Join(tagKinds, ", "))
	completeFlag(cmd, "only", cobra.FixedCompletions(tagKinds, noFiles))
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		for _, o := range *only {
			if !slices.Contains(tagKinds, o) {
				return usage("there are no tags of %q; there are: %s", o, strings.Join(tagKinds, ", "))
			}
		}
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		id, j, err := b.find(args[0])
		if err != nil {
			return err
		}
		p, err := f.target(s)
		if err != nil {
			return err
		}
		list := b.words(id, j).tags(*only)
		if len(list) == 0 {
			return unknown("job %s has no tags of %s; say at a terminal: job %s, TAGS", id, strings.Join(*only, ", "), id)
		}
		d, err := f.labels(p, list)
		if err != nil {
			return err
		}
		return f.deliver(cmd, s, d)
	}
	return cmd
}

// tags are the labels of the kinds that were asked for.
func (w labelWords) tags(only []string) []labels.Label {
	var list []labels.Label
	for _, o := range only {
		switch o {
		case "job":
			if c, ok := w.code("job " + string(w.id)); ok {
				list = append(list, w.tag(c, w.st.Opened.Engine))
			}
		case "parts":
			list = append(list, w.partTags()...)
		case "positions":
			list = append(list, w.positionTags()...)
		case "loans":
			list = append(list, w.loanFlags()...)
		case "racks":
			list = append(list, w.rackStrips()...)
		case "holes":
			list = append(list, w.holeTags()...)
		case "sizes":
			list = append(list, w.sizeTags()...)
		}
	}
	return list
}

func (w labelWords) tag(c code.Code, name string) labels.Tag {
	return labels.Tag{Code: c, Job: string(w.id), Engine: w.st.Opened.Engine, Name: upper(name), Training: w.b.training}
}

// partTags are the tags of all parts.
func (w labelWords) partTags() []labels.Label {
	var list []labels.Label
	for i := range w.p.Parts {
		p := &w.p.Parts[i]
		c, ok := w.code("part " + string(p.ID))
		if !ok {
			continue
		}
		t := w.tag(c, p.Name)
		t.WayRound, t.Note = p.WayRound, p.Inspect
		if p.In != plan.None {
			t.From, _, _ = strings.Cut(w.p.Parts[p.In].Name, " (")
		}
		if p.Count > 1 {
			t.Note = strings.TrimSpace(many(p.Count, "piece", "pieces") + ". " + t.Note)
		}
		list = append(list, t)
	}
	for _, l := range w.st.LearnedParts() {
		if c, ok := w.code("part " + string(l.Part)); ok {
			list = append(list, w.tag(c, string(l.Part)))
		}
	}
	return list
}

// positionTags are the tags of the positions of parts that have several.
func (w labelWords) positionTags() []labels.Label {
	var list []labels.Label
	for i := range w.p.Parts {
		p := &w.p.Parts[i]
		if len(p.Positions) < 2 {
			continue
		}
		for _, at := range p.Positions {
			c, ok := w.code("position " + string(p.Seat(at)))
			if !ok {
				continue
			}
			t := w.tag(c, p.Name)
			t.Position, t.WayRound = string(at.Name), p.WayRound
			if p.In != plan.None {
				t.From, _, _ = strings.Cut(w.p.Parts[p.In].Name, " (")
			}
			if p.Place != "" {
				t.Note = p.Place
			}
			list = append(list, t)
		}
	}
	return list
}

// holeTags are the tags of the holes of joints whose sizes differ.
func (w labelWords) holeTags() []labels.Label {
	var list []labels.Label
	for i := range w.p.Joints {
		j := &w.p.Joints[i]
		if _, several := w.holesOf(j.ID); !several {
			continue
		}
		for _, s := range j.Seats[:j.Own] {
			seat := &w.p.Seats[s]
			c, ok := w.code("hole " + string(seat.ID))
			if !ok {
				continue
			}
			t := w.tag(c, j.Name)
			t.Position, t.Note = string(seat.Hole), w.kind(comesOut(seat))
			list = append(list, t)
		}
	}
	return list
}

// sizeTags are cards of the sizes of this engine.
func (w labelWords) sizeTags() []labels.Label {
	var list []labels.Label
	var met []events.Kind
	for i := range w.p.Seats {
		for _, m := range w.p.Seats[i].Members {
			if slices.Contains(met, m.Kind) {
				continue
			}
			met = append(met, m.Kind)
			if c, ok := w.code("size " + string(m.Kind)); ok {
				list = append(list, w.tag(c, w.kind(m.Kind)))
			}
		}
	}
	return list
}

// loanFlags are the flags of what goes in for a while.
func (w labelWords) loanFlags() []labels.Label {
	var list []labels.Label
	for i := range w.p.Loans {
		l := &w.p.Loans[i]
		c, ok := w.code("loan " + string(l.ID))
		if !ok {
			continue
		}
		flag := labels.LoanFlag{Code: c, Job: string(w.id), Engine: w.st.Opened.Engine, Name: upper(l.Name), OutBefore: packed(w.outBefore(l)), Training: w.b.training}
		if l.In != plan.None {
			flag.In = w.p.Cavities[l.In].Name
		} else if len(l.Fills) > 0 {
			flag.In = w.p.SeatNames(l.Fills)
		}
		if at := w.st.Loans()[l.ID]; at != nil && at.In > 0 {
			flag.Since, flag.Initials = w.by(at.Since)
		}
		list = append(list, flag)
	}
	return list
}

// packed puts several of a longer list on a line, since a flag has few lines.
func packed(list []string) []string {
	if len(list) < 3 {
		return list
	}
	var lines []string
	for _, word := range list {
		if n := len(lines) - 1; n >= 0 && len(lines[n])+len(word) < 36 {
			lines[n] += ", " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines
}

// rackStrips are the racks that hold, or held, parts by position.
func (w labelWords) rackStrips() []labels.Label {
	var list []labels.Label
	var met []events.Place
	facts := w.j.Facts()
	for i := range facts {
		ev, _ := w.j.Standing(facts[i].ID())
		place, part := rackFor(ev)
		word, rest, _ := strings.Cut(string(place), "/")
		rack, _, _ := strings.Cut(rest, "/")
		c, err := code.Parse(rack)
		if word != "rack" || err != nil || c.Type() != code.Rack || slices.Contains(met, events.Place(rack)) {
			continue
		}
		if strip, ok := w.rackStrip(c, part); ok {
			met, list = append(met, events.Place(rack)), append(list, strip)
		}
	}
	return list
}

// rackFor is the rack that a fact puts a part into, or looks at.
func rackFor(ev events.Event) (events.Place, events.Part) {
	switch e := ev.(type) {
	case events.PartRemoved:
		return e.To, e.Part
	case events.PartPlaced:
		return e.Rack, e.Part
	case events.RackRead:
		return e.Rack, e.Part
	}
	return "", ""
}

// rackStrip is the strip of a rack for the positions of a part.
func (w labelWords) rackStrip(c code.Code, part events.Part) (s labels.RackStrip, ok bool) {
	ix, ok := w.p.Part(part)
	if !ok {
		return s, false
	}
	p := &w.p.Parts[ix]
	s = labels.RackStrip{Code: c, Job: string(w.id), Engine: w.st.Opened.Engine, Name: upper(p.Name), Training: w.b.training}
	for _, at := range p.Positions {
		if pc, ok := w.code("position " + string(p.Seat(at))); ok {
			s.Positions = append(s.Positions, labels.RackPosition{Code: pc, Name: string(at.Name), Holds: p.Name})
		}
	}
	if len(s.Positions) > 0 {
		s.From = s.Positions[0].Name
	}
	return s, len(s.Positions) > 0
}

// rollNote says what a roll took.
func rollNote(list []code.Code, next uint32) string {
	return fmt.Sprintf("%s to %s; the next roll begins at --from %d.", list[0], list[len(list)-1], next)
}
