package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk"
)

type openedReport struct {
	Job    string `json:"job"`
	Card   string `json:"card"` // the code on its job card
	Engine string `json:"engine"`
	Family string `json:"family"`
	Plan   string `json:"plan"`  // SHA-256 of the plan's text; empty: no plan
	Codes  int    `json:"codes"` // labels that were issued
}

func jobOpenCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "open --engine NAME [--plan FILE]", Short: "Open a job and issue its codes",
		Long: `Opens a job for an engine that came in. With a plan, the job keeps the edition
that it is opened with, and everything that the plan names gets a code of its
own. Without a plan the teardown itself teaches what the engine is made of; see
countback plan save.`,
		Example: `  countback job open --plan sorrel-i4-20.yaml --engine "Sorrel, blue van"
  countback job open --engine "Unknown four from the barn" --id BARN`,
		Args: arguments(cobra.NoArgs),
	}
	engine := cmd.Flags().String("engine", "", "what stands on the stand, in the shop's words")
	file := cmd.Flags().String("plan", "", "plan file of the engine's family")
	id := cmd.Flags().String("id", "", "name of the job, a word (default: the next of J1, J2, ...)")
	completeFlag(cmd, "plan", completePlanFiles)
	completeFlag(cmd, "engine", cobra.NoFileCompletions)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		if strings.TrimSpace(*engine) == "" {
			return usage("name what stands on the stand: --engine \"Sorrel, blue van\"")
		}
		if *id != "" {
			if err := wordOf("job", *id); err != nil {
				return err
			}
		}
		plans := map[string]string{}
		lines := []string{"engine " + *engine}
		if *file != "" {
			p, err := loadPlan(*file)
			if err != nil {
				return err
			}
			plans[planName(*file)] = string(p.Source)
			lines = append(lines, "plan "+planName(*file))
		}
		report, err := openJob(cmd, s, plans, *id, append(lines, "OPEN JOB"))
		if err != nil {
			return err
		}
		return write(cmd, s, report)
	}
	return cmd
}

// openJob says the sentence that opens a job at a terminal of its own.
func openJob(cmd *cobra.Command, s settings, plans map[string]string, id string, lines []string) (r openedReport, err error) {
	ctx := cmd.Context()
	t, err := openTerminal(ctx, s, plans, wallClock)
	if err != nil {
		return r, err
	}
	defer func() { err = t.close(err) }()
	b, err := readBooks(ctx, s, now())
	if err != nil {
		return r, err
	}
	if id == "" {
		id = b.nextJob()
	}
	for _, line := range append([]string{"job " + id}, lines...) {
		view, err := t.Scan(ctx, line)
		if err != nil {
			return r, storeError(err)
		}
		if slices.Contains(t.Heard(), kiosk.Refusing) {
			if err := t.sick(ctx); err != nil {
				return r, err
			}
			return r, &failure{statusNo, fmt.Errorf("job %s was not opened: %s", id, strings.Join(append(view.Lines, view.Ask), ": "))}
		}
	}
	return opened(id, t.Told())
}

// opened is what the facts of an opening come to.
func opened(id string, facts []events.Record) (openedReport, error) {
	r := openedReport{Job: id}
	for i := range facts {
		switch e := facts[i].Event.(type) {
		case events.JobOpened:
			r.Engine, r.Family, r.Plan = e.Engine, e.Family, e.PlanHash
		case events.TagsIssued:
			r.Codes += len(e.Tags)
			for _, t := range e.Tags {
				if t.Noun == "job "+id {
					r.Card = string(t.Code)
				}
			}
		}
	}
	if r.Engine == "" {
		return r, fmt.Errorf("job %s was not opened, and nobody says why", id)
	}
	return r, nil
}

// nextJob is the first of J1, J2, … that is no job yet.
func (b *books) nextJob() string {
	for n := 1; ; n++ {
		if _, taken := b.Job(events.Job("J" + itoa(n))); !taken {
			return "J" + itoa(n)
		}
	}
}

func (r openedReport) text(w io.Writer) {
	fmt.Fprintf(w, "Job %s opened: %s.\n", r.Job, r.Engine)
	if r.Plan == "" {
		fmt.Fprintln(w, "It has no plan; the teardown teaches what the engine is made of.")
	}
	fmt.Fprintf(w, "Job card %s; %s issued. See them with: countback codes %s\n", dash(r.Card), many(r.Codes, "code", "codes"), r.Job)
}
