package main

import (
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

// scopeFlags are what is set beside the least way.
type scopeFlags struct{ against, after []string }

func (f *scopeFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringSliceVar(&f.against, "against", nil, "the larger repair beside it: another part, step, joint or hole")
	cmd.Flags().StringSliceVar(&f.after, "after", nil, "late beside early: the same after these steps")
	completeFlag(cmd, "after", completeLast(completeSteps))
	completeFlag(cmd, "against", completeLast(completeGoals))
}

// completeLast offers what a job has for a flag, where the first argument names
// the job.
func completeLast(of func(*engine.Job) []string) completer {
	return func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, noFiles
		}
		return completeJobThen(of)(cmd, args[:1], begun)
	}
}

func scopeCommand() *cobra.Command {
	var f scopeFlags
	cmd := &cobra.Command{
		Use: "scope JOB PART|STEP...", Short: "Tell what it takes for something to come off after all", GroupID: "report",
		Long: `Works out, from the engine as it is now, the least further steps after which a part
is off, a joint or hole is empty or a step is done, and the way back: what must be
done again, which single-use hardware and gaskets are used up, how many of them
are not at hand, which slips it concerns, and how long it takes. Least is by
single-use pieces, then minutes, then steps. Each answer says how sure it is:
proved least, or at most how much above the least.

Each way says what it costs, by the plan's prices and the shop's rate per hour (money
in the settings file), when the engine can be back, by lead times and promises, and
what is risky about it, each with the fact behind it. What nobody has said is counted
as unknown.

Other ways stand beside it. --after puts late beside early, --against a larger
repair beside a smaller one, the least way of each. Several parts must all come off.
What was decided at a kiosk (DECIDED, or AGAINST and DECIDED) is listed. Exit status 1
if no steps of the plan lead there, or what is set against it is off already.`,
		Example: "  countback scope 4K7 cam-intake cam-exhaust\n  countback scope 4K7 head --after cover-on\n" +
			"  countback scope 4K7 cam-intake --against head\n  countback scope 4K7 hole:oil-pan:3 --json",
		Args:              arguments(cobra.MinimumNArgs(2)),
		ValidArgsFunction: completeScope,
	}
	f.add(cmd)
	cmd.RunE = aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
		r, err := f.report(id, j, rest)
		if err != nil {
			return err
		}
		return write(cmd, s, r)
	})
	return cmd
}

func completeScope(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return completeJobs(cmd, args, begun)
	}
	return completeJobThen(completeGoals)(cmd, args[:1], begun)
}

// completeGoals offers what can come off: parts and steps.
func completeGoals(j *engine.Job) []string {
	p := j.State().Plan()
	var list []string
	for i := range p.Parts {
		if !p.Parts[i].Root {
			list = append(list, string(p.Parts[i].ID)+"\t"+p.Parts[i].Name)
		}
	}
	return append(list, completeSteps(j)...)
}

// goalNoun is what a person names on the command line as a noun: a part, else a
// step, else a joint by its id; or with its type before a colon or blank.
func goalNoun(j *engine.Job, text string) (string, error) {
	p := j.State().Plan()
	for _, typ := range []string{"part", "step", "joint", "hole"} {
		if id, ok := strings.CutPrefix(text, typ+":"); ok {
			return typ + " " + id, nil
		}
		if strings.HasPrefix(text, typ+" ") {
			return text, nil
		}
	}
	if _, ok := p.Part(events.Part(text)); ok {
		return "part " + text, nil
	}
	if _, ok := p.Step(events.Step(text)); ok {
		return "step " + text, nil
	}
	if _, ok := p.Joint(events.Joint(text)); ok {
		return "joint " + text, nil
	}
	if joint, hole := events.Seat(text).Split(); hole != "" {
		if _, ok := p.Hole(joint, hole); ok {
			return "hole " + text, nil
		}
	}
	return "", unknown("the job's plan has no part, step, joint or hole %q%s; see: countback plan show", text, nearestOf(p, text, "part", "step", "joint", "hole"))
}

func goalNouns(j *engine.Job, list []string) ([]string, error) {
	var nouns []string
	for _, text := range list {
		n, err := goalNoun(j, text)
		if err != nil {
			return nil, err
		}
		nouns = append(nouns, n)
	}
	return nouns, nil
}
