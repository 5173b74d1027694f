package main

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/sheet"
	"countback/projections/plan"
)

func labelJobCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "job JOB", Short: "The job sheet: every step and joint as a code, in order",
		Long: `Draws the sheet that lies beside an engine: its job card, then every step of the
plan in order with the joints that it opens, each with its code and the drawing
of its holes; behind them what goes in for a while, marks, inside spaces and
audit points.`,
		Example: "  countback label job 4K7 --to job.pdf\n  countback label job 4K7 --paper Letter --printer office",
		Args:    arguments(cobra.ExactArgs(1)), ValidArgsFunction: completeJobThen(nil),
	}
	f.addSheet(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) {
			card, err := w.card()
			if err != nil {
				return page.Document{}, err
			}
			return w.jobSheet(card).Draw(set)
		})
	}
	return cmd
}

// sheetOf draws a sheet about a job and brings it to where the flags say.
func (f *labelFlags) sheetOf(cmd *cobra.Command, job string, draw func(labelWords, sheet.Settings) (page.Document, error)) error {
	s, b, err := openBooks(cmd)
	if err != nil {
		return err
	}
	id, j, err := b.find(job)
	if err != nil {
		return err
	}
	return f.drawTo(cmd, s, func(set sheet.Settings) (page.Document, error) { return draw(b.words(id, j), set) })
}

// drawTo draws a sheet for where the flags say, and brings it there.
func (f *labelFlags) drawTo(cmd *cobra.Command, s settings, draw func(sheet.Settings) (page.Document, error)) error {
	p, err := f.target(s)
	if err != nil {
		return err
	}
	set, err := f.sheet(p)
	if err != nil {
		return err
	}
	d, err := draw(set)
	if err != nil {
		return drawn(err)
	}
	return f.deliver(cmd, s, d)
}

// code is the label of a noun of the job.
func (w labelWords) code(noun string) (code.Code, bool) {
	text, ok := w.st.CodeOf(noun)
	if !ok {
		return "", false
	}
	c, err := code.Parse(string(text))
	return c, err == nil
}

func (w labelWords) card() (code.Code, error) {
	c, ok := w.code("job " + string(w.id))
	if !ok {
		return "", unknown("job %s has no card; say at a terminal: job %s, TAGS", w.id, w.id)
	}
	return c, nil
}

func (w labelWords) jobSheet(card code.Code) sheet.Job {
	return sheet.Job{Code: card, Job: string(w.id), Engine: w.st.Opened.Engine, Sections: w.sections(),
		Date: time.UnixMicro(w.j.LatestAt()), Training: w.b.training}
}

// sections are the job sheet's: the steps in order with the joints that they
// open or close, and what else has a code.
func (w labelWords) sections() []sheet.Section {
	var list []sheet.Section
	met := map[plan.JointIndex]bool{}
	for _, part := range []struct {
		name    string
		section plan.Section
	}{{"Taking apart", plan.Off}, {"Apart on the bench", plan.BenchApart}, {"Together on the bench", plan.BenchTogether}, {"Putting together", plan.On}} {
		s := sheet.Section{Name: part.name}
		for i := range w.p.Steps {
			if step := &w.p.Steps[i]; step.Section == part.section {
				s.Items = append(s.Items, w.stepItems(step, met)...)
			}
		}
		list = append(list, s)
	}
	rest := sheet.Section{Name: "Other joints"}
	for i := range w.p.Joints {
		if ix := plan.JointIndex(i); !met[ix] {
			rest.Items = append(rest.Items, w.jointItem(ix)...)
		}
	}
	for _, l := range w.st.LearnedJoints() {
		if c, ok := w.code("joint " + string(l.Joint)); ok {
			rest.Items = append(rest.Items, sheet.Item{Code: c, Name: w.joint(l.Joint), Notes: []string{"joint, not in the plan"}})
		}
	}
	list = append(list, rest)
	list = append(list, w.otherSections()...)
	with := list[:0]
	for _, s := range list {
		if len(s.Items) > 0 {
			with = append(with, s)
		}
	}
	return with
}

// stepItems are a step and the joints that nobody met before it.
func (w labelWords) stepItems(step *plan.Step, met map[plan.JointIndex]bool) []sheet.Item {
	var list []sheet.Item
	if c, ok := w.code("step " + string(step.ID)); ok {
		list = append(list, sheet.Item{Code: c, Name: upper(step.Name), Notes: []string{"step"}})
	}
	for _, seats := range [][]plan.SeatIndex{step.TakesOut, step.Parks, step.Fastens} {
		for _, s := range seats {
			if ix := w.p.Seats[s].Joint; !met[ix] {
				met[ix] = true
				list = append(list, w.jointItem(ix)...)
			}
		}
	}
	return list
}

// jointItem is a joint with the drawing of its holes, where it has more than
// two and they lie in known places or are of several sizes; nothing if it has
// no label.
func (w labelWords) jointItem(ix plan.JointIndex) []sheet.Item {
	j := &w.p.Joints[ix]
	c, ok := w.code("joint " + string(j.ID))
	if !ok {
		return nil
	}
	it := sheet.Item{Code: c, Name: upper(j.Name), Notes: []string{"joint, " + many(len(j.Seats), "hole", "holes")}}
	if where := j.Face.String(); where != "" {
		it.Notes = append(it.Notes, where)
	}
	sizes := w.sizes(j.ID)
	if pattern := w.pattern(ix); len(j.Seats) > 2 && (pattern.Placed || len(sizes) > 1) {
		it.Pattern = pattern
	}
	if len(sizes) > 1 && len(it.Pattern.Spots) > 0 {
		it.Lines = sizes
	} else if len(sizes) == 1 {
		it.Notes = append(it.Notes, sizes[0].Spec)
	}
	if j.HoldsBack != "" {
		it.Notes = append(it.Notes, "holds back "+j.HoldsBack)
	}
	return []sheet.Item{it}
}

// otherSections are loans, marks, inside spaces and audit points.
func (w labelWords) otherSections() []sheet.Section {
	var list []sheet.Section
	section := func(name, typ string, n int, item func(i int) (id, name, note string)) {
		s := sheet.Section{Name: name}
		for i := range n {
			id, title, note := item(i)
			if c, ok := w.code(typ + " " + id); ok {
				it := sheet.Item{Code: c, Name: upper(title)}
				if note != "" {
					it.Notes = []string{note}
				}
				s.Items = append(s.Items, it)
			}
		}
		list = append(list, s)
	}
	section("In for a while", "loan", len(w.p.Loans), func(i int) (string, string, string) {
		l := &w.p.Loans[i]
		if out := w.outBefore(l); len(out) > 0 {
			return string(l.ID), l.Name, "out before: " + strings.Join(out, ", ")
		}
		return string(l.ID), l.Name, ""
	})
	section("Marks", "mark", len(w.p.Marks), func(i int) (string, string, string) {
		return string(w.p.Marks[i].ID), w.p.Marks[i].Name, ""
	})
	section("Inside spaces", "cavity", len(w.p.Cavities), func(i int) (string, string, string) {
		return string(w.p.Cavities[i].ID), w.p.Cavities[i].Name, ""
	})
	section("Audit points", "audit", len(w.p.AuditPoints), func(i int) (string, string, string) {
		a := &w.p.AuditPoints[i]
		return string(a.ID), or(a.Name, string(a.ID)), ""
	})
	return list
}

// outBefore is what a loan must be out for, in words.
func (w labelWords) outBefore(l *plan.Loan) []string {
	var list []string
	for _, s := range l.Stops.Steps {
		list = addWord(list, w.p.Steps[s].Name)
	}
	for _, a := range l.Stops.Acts {
		list = addWord(list, a.String())
	}
	for _, p := range l.Stops.Removal {
		list = addWord(list, "removal of "+w.p.Parts[p].Name)
	}
	for _, a := range l.Stops.Audits {
		list = addWord(list, or(w.p.AuditPoints[a].Name, string(w.p.AuditPoints[a].ID)))
	}
	return list
}
