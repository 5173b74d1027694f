package main

import (
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels/code"
	"countback/labels/sheet"
	"countback/projections/engine"
)

func printJobCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "job JOB FILE.pdf", Short: "The job sheet: every joint, part, loan, mark and step as a code",
		Long: `Makes the sheet that lies beside an engine: its job card and, in the plan's
order, every joint, step, part, loan, mark and cavity with the code to scan.`,
		Example:           "  countback print job J1 job.pdf",
		Args:              arguments(cobra.ExactArgs(2)),
		ValidArgsFunction: completeJobThen(nil),
	}
	paper := addPaper(cmd.Flags())
	cmd.RunE = aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
		set, err := sheetSettings(*paper)
		if err != nil {
			return err
		}
		card, ok := tagCode(j, "job "+string(id))
		if !ok {
			return unknown("job %s has no card; say at a terminal: job %s, TAGS", id, id)
		}
		d, err := sheet.Job{
			Code: card, Job: string(id), Engine: j.State().Opened.Engine,
			Sections: jobSections(j), Date: time.UnixMicro(j.LatestAt()),
		}.Draw(set)
		if err != nil {
			return err
		}
		return saveDocument(cmd, s, rest[0], "", d)
	})
	return cmd
}

func tagCode(j *engine.Job, noun string) (code.Code, bool) {
	text, ok := j.State().CodeOf(noun)
	if !ok {
		return "", false
	}
	c, err := code.Parse(string(text))
	return c, err == nil
}

// jobSections are what a job sheet lists, by what one does with it.
func jobSections(j *engine.Job) []sheet.Section {
	p := j.State().Plan()
	var list []sheet.Section
	add := func(name, typ string, n int, item func(i int) (id, title string, notes []string)) {
		s := sheet.Section{Name: name}
		for i := range n {
			id, title, notes := item(i)
			if c, ok := tagCode(j, typ+" "+id); ok {
				s.Items = append(s.Items, sheet.Item{Code: c, Number: itoa(i + 1), Name: upper(title), Notes: notes})
			}
		}
		if len(s.Items) > 0 {
			list = append(list, s)
		}
	}
	add("Joints", "joint", len(p.Joints), func(i int) (string, string, []string) {
		return string(p.Joints[i].ID), p.Joints[i].Name, []string{many(len(p.Joints[i].Seats), "hole", "holes")}
	})
	add("Steps", "step", len(p.Steps), func(i int) (string, string, []string) {
		return string(p.Steps[i].ID), p.Steps[i].Name, []string{p.Steps[i].Section.String()}
	})
	add("Parts", "part", len(p.Parts), func(i int) (string, string, []string) {
		return string(p.Parts[i].ID), p.Parts[i].Name, []string{many(p.Parts[i].Count, "piece", "pieces")}
	})
	add("In for a while", "loan", len(p.Loans), func(i int) (string, string, []string) {
		return string(p.Loans[i].ID), p.Loans[i].Name, nil
	})
	add("Marks", "mark", len(p.Marks), func(i int) (string, string, []string) {
		return string(p.Marks[i].ID), p.Marks[i].Name, nil
	})
	add("Inside spaces", "cavity", len(p.Cavities), func(i int) (string, string, []string) {
		return string(p.Cavities[i].ID), p.Cavities[i].Name, nil
	})
	add("Audit points", "audit", len(p.AuditPoints), func(i int) (string, string, []string) {
		return string(p.AuditPoints[i].ID), p.AuditPoints[i].Name, nil
	})
	return list
}
