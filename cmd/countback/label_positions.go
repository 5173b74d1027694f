package main

import (
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/sheet"
	"countback/projections/engine"
)

// positionCard is the card of a joint whose fasteners lie by hole in a rack.
func (w labelWords) positionCard(c code.Code, joint events.Joint) sheet.Holes {
	h := sheet.Holes{Code: c, Job: string(w.id), Engine: w.st.Opened.Engine, Joint: w.joint(joint), Lines: w.sizes(joint),
		Date: time.UnixMicro(w.j.LatestAt()), Training: w.b.training}
	if ix, ok := w.p.Joint(joint); ok {
		h.Pattern = w.pattern(ix)
	}
	return h
}

func labelPositionsCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "positions JOB JOINT RACK", Short: "The position card of a joint whose fasteners lie by hole",
		Long: `Draws the holes of a joint large, to push its fasteners through the paper or to
lay them on, under the code of a rack: FULL, or scan the empty holes.`,
		Example: "  countback label positions 4K7 front-cover RHTBR6KU --to front-cover.pdf",
		Args:    arguments(cobra.ExactArgs(3)), ValidArgsFunction: completeJobThen(completeJoints),
	}
	f.addSheet(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		c, err := code.Parse(args[2])
		if err != nil || c.Type() != code.Rack {
			return usage("%s is no code of a rack", args[2])
		}
		return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) {
			if _, ok := w.p.Joint(events.Joint(args[1])); !ok {
				return page.Document{}, unknown("job %s has no joint %s%s; see: countback codes %s", w.id, args[1], nearestOf(w.p, args[1], "joint"), w.id)
			}
			return w.positionCard(c, events.Joint(args[1])).Draw(set)
		})
	}
	return cmd
}

func completeJoints(j *engine.Job) []string {
	var list []string
	for _, joint := range j.State().Plan().Joints {
		list = append(list, string(joint.ID)+"\t"+joint.Name)
	}
	return list
}
