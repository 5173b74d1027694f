package main

import (
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/sheet"
	"countback/projections/engine"
)

func labelTrayCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "tray JOB TRAY", Short: "A filled tray: what is in it with counts, and who has it",
		Long: `Draws what is in a tray by the book, with counts, the bags that lie in it, and who
has it: as a sheet with a column to count into and lines for whoever takes it
over, or with --size as a label. The code is that of the tray where it has one,
and that of the job's card where it has none.`,
		Example: `  countback label tray 4K7 7 --to tray-7.pdf
  countback label tray 4K7 7 --size 100x60 --printer bench`,
		Args: arguments(cobra.ExactArgs(2)), ValidArgsFunction: completeJobThen(completeTrays),
	}
	f.addSheet(cmd)
	cmd.Flags().StringVar(&f.size, "size", "", "draw a label of this width and height in mm, not a sheet")
	f.symbols = "both"
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if f.size == "" {
			return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) {
				t, err := w.trayNamed(args[1])
				if err != nil {
					return page.Document{}, err
				}
				return w.traySheet(t).Draw(set)
			})
		}
		if f.paper != "" {
			return usage("a label has its own size; leave out --paper, or --size for a sheet")
		}
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		id, j, err := b.find(args[0])
		if err != nil {
			return err
		}
		w := b.words(id, j)
		t, err := w.trayNamed(args[1])
		if err != nil {
			return err
		}
		p, err := f.target(s)
		if err != nil {
			return err
		}
		d, err := f.labels(p, []labels.Label{w.trayLabel(t)})
		if err != nil {
			return err
		}
		return f.deliver(cmd, s, d)
	}
	return cmd
}

func completeTrays(j *engine.Job) []string {
	var list []string
	for _, t := range j.State().Trays() {
		list = append(list, trayName(t.Place))
	}
	return list
}

func trayName(at events.Place) string {
	return strings.TrimPrefix(string(at), string(engine.TrayPlace("")))
}

// filled is a tray with the code that stands for it.
type filled struct {
	engine.Tray
	code    code.Code
	custody string
}

// trayNamed finds a tray of the job; "7" and "tray 7" are the same.
func (w labelWords) trayNamed(name string) (filled, error) {
	name = strings.TrimPrefix(name, "tray ")
	list := w.st.Trays()
	at := slices.IndexFunc(list, func(t engine.Tray) bool { return t.Place == engine.TrayPlace(name) })
	if at < 0 {
		return filled{}, unknown("job %s has nothing in a tray %s, and nobody said where it is; there are: %s", w.id, name,
			or(strings.Join(completeTrays(w.j), ", "), "none"))
	}
	t := filled{Tray: list[at]}
	t.custody = strings.TrimPrefix(strings.Join(w.st.Holder(t.Place), "; "), "tray "+name+" is ")
	if t.custody == "" {
		t.custody = "nobody said where it is"
	}
	if t.Holds == 0 {
		for _, o := range w.b.Jobs() {
			other, _ := w.b.Job(o)
			if said, ok := other.State().Tray(t.Place); ok && said.Holds > 0 {
				t.Holds = said.Holds
			}
		}
	}
	var ok bool
	if t.code, ok = w.code("tray " + name); ok {
		return t, nil
	}
	c, err := w.card()
	t.code = c
	return t, err
}

// trayBags are the bags that lie in a tray.
func (w labelWords) trayBags(at events.Place) []*engine.Bag {
	var list []*engine.Bag
	for _, b := range w.st.Bags() {
		if in, ok := w.st.Tray(b.Place()); ok && in.At == at && b.Retired == 0 {
			list = append(list, b)
		}
	}
	return list
}

// traySheet lists the loose pieces of a tray, then each bag with what is in it,
// then through whose hands the tray went.
func (w labelWords) traySheet(t filled) sheet.Tally {
	out := sheet.Tally{Kind: "TRAY", Code: t.code, Job: string(w.id), Engine: w.st.Opened.Engine, Name: "Tray " + trayName(t.Place),
		Notes: []string{t.custody}, Count: "in it", Back: "counted", Date: time.UnixMicro(w.j.LatestAt()), Training: w.b.training,
		Sign: []string{"given by, date", "taken by, counted, date"}}
	if t.Holds > 0 {
		out.Notes = append(out.Notes, "takes "+many(t.Holds, "piece", "pieces"))
	}
	if text := w.st.TooMany(t.Place, t.Holds); text != "" {
		out.Notes = append(out.Notes, "TOO MANY: "+text)
	}
	out.Groups = append(out.Groups, sheet.TallyPart{Name: "Loose in it", Lines: w.tallyLines(w.st.At(t.Place), 0), Sum: true, None: "nothing is loose in it"})
	var bags []sheet.SlipLine
	for _, b := range w.trayBags(t.Place) {
		bags = append(bags, sheet.SlipLine{What: "Bag " + string(b.Code) + w.bagFor(b), Count: 1})
		bags = append(bags, w.tallyLines(w.st.At(b.Place()), 1)...)
	}
	if len(bags) > 0 {
		out.Groups = append(out.Groups, sheet.TallyPart{Name: "Bags in it", Lines: bags})
	}
	if past := w.trayPast(t.Place); len(past) > 0 {
		out.Lists = []sheet.HandOverPart{{Name: "Where it was", Shape: page.Disc, Lines: past}}
	}
	return out
}

func (w labelWords) tallyLines(lines []events.Line, level int) []sheet.SlipLine {
	var list []sheet.SlipLine
	for _, l := range lines {
		note := string(l.Cond)
		if l.Lot != "" {
			note = strings.TrimPrefix(note+", lot "+string(l.Lot), ", ")
		}
		list = append(list, sheet.SlipLine{What: w.kind(l.Kind), Count: l.Qty, Level: level, Note: note})
	}
	return list
}

// bagFor says what a bag is for.
func (w labelWords) bagFor(b *engine.Bag) string {
	switch {
	case b.Joint != "":
		return ", " + w.joint(b.Joint)
	case b.Part != "":
		return ", " + w.part(b.Part)
	}
	return ""
}

// mostPast is how many of the last facts about a tray its sheet has.
const mostPast = 8

// trayPast is who told where a tray went, the last first.
func (w labelWords) trayPast(at events.Place) []string {
	var list []string
	facts := w.j.Facts()
	for i := len(facts) - 1; i >= 0 && len(list) < mostPast; i-- {
		ev, ok := w.j.Standing(facts[i].ID())
		if e, carried := ev.(events.Carried); ok && carried && e.What == at {
			who := or(string(facts[i].Operator), "bench "+string(facts[i].Terminal))
			list = append(list, time.UnixMicro(facts[i].At).UTC().Format("2 Jan 15:04")+" "+who+": "+w.st.Tells(ev))
		}
	}
	return list
}

func (w labelWords) trayLabel(t filled) labels.Tray {
	out := labels.Tray{Code: t.code, Job: string(w.id), Engine: w.st.Opened.Engine, Name: "Tray " + trayName(t.Place), Custody: upper(t.custody),
		Holds: t.Holds, Training: w.b.training}
	for _, l := range w.st.At(t.Place) {
		out.Lines = append(out.Lines, labels.Line{Spec: w.kind(l.Kind), Count: l.Qty})
	}
	for _, b := range w.trayBags(t.Place) {
		out.Bags = append(out.Bags, string(b.Code)+w.bagFor(b))
	}
	out.Date, out.Initials = w.by(t.Since)
	if out.Date.IsZero() {
		out.Date = time.UnixMicro(w.j.LatestAt())
	}
	return out
}
