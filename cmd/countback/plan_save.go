package main

import (
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

func planSaveCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "save JOB [FILE]", Short: "Write the plan that a job has come to",
		Long: `Writes the job's own copy of its plan, with all that was amended during the
work, as the start of the family's next edition. For a job without a plan it
makes one from what the teardown recorded: joints, holes, sizes, parts, and the
order in which they came off; what nobody measured is unknown in it.
Without FILE, or with -, it goes to standard output. A FILE that is there
already is left alone.`,
		Example:           "  countback plan save 4K7 sorrel-edition-4.yaml\n  countback plan save 5M2 > first-plan.yaml",
		Args:              arguments(cobra.RangeArgs(1, 2)),
		ValidArgsFunction: completeJobThen(nil),
	}
	cmd.RunE = aboutJob(func(cmd *cobra.Command, _ settings, id events.Job, j *engine.Job, rest []string) error {
		p, err := j.SavePlan()
		if err != nil {
			return unknown("job %s: %w", id, err)
		}
		content := func(w io.Writer) error {
			_, err := w.Write(plan.Write(p))
			return err
		}
		if len(rest) == 0 || rest[0] == "-" {
			return content(cmd.OutOrStdout())
		}
		return newFile(rest[0], content)
	})
	return cmd
}
