package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/fastener/stage"
)

type tightenReport struct {
	Job    string         `json:"job"`
	Joint  string         `json:"joint"` // empty where a part was asked for
	Part   string         `json:"part"`  // that is pressed in; empty where a joint was asked for
	Name   string         `json:"name"`
	Orders []tightenOrder `json:"orders"` // none: the plan has no stages for it
	head   string
}

type tightenOrder struct {
	Order    string         `json:"order"`    // id of the plan's list
	Member   string         `json:"member"`   // stud: of the studs, before what goes onto them; else empty
	How      string         `json:"how"`      // where the order of turning is from
	Guided   bool           `json:"guided"`   // it was worked out: guidance
	Editions []string       `json:"editions"` // that disagree; none: one
	Edition  int            `json:"edition"`  // which counts, from 1
	Chosen   bool           `json:"chosen"`   // by a person
	Holes    []string       `json:"holes"`    // in the order of turning
	Loosen   []string       `json:"loosen"`   // in the order of loosening
	LoosenBy string         `json:"loosenby"` // the plan's words on that
	Cold     bool           `json:"cold"`     // loosened only while the engine is cold
	Trial    []string       `json:"trial"`    // in for a trial
	Cells    []tightenCell  `json:"cells"`    // stage by stage
	Missing  []tightenOwed  `json:"missing"`  // what is due now and not done
	Later    []tightenOwed  `json:"later"`    // what falls due later
	Pause    int            `json:"pause"`    // minutes, the longest inside an angle stage; 0: none is too long, or no stage goes by angle
	PauseBy  string         `json:"pauseby"`  // plan or shop; empty: no stage goes by angle
	Scan     string         `json:"scan"`     // that records the next stage
	Past     []tightenEntry `json:"past"`     // all that was told, the first first
}

type tightenCell struct {
	Hole  string  `json:"hole"`
	Stage int     `json:"stage"`
	What  string  `json:"what"`
	State string  `json:"state"` // open, part done, done, doubtful, over
	Value float64 `json:"value"` // read, in unit; 0 where nothing was
	Unit  string  `json:"unit"`
	Read  bool    `json:"read"`
	As    string  `json:"as"` // what was read, in its digits and its unit; empty: value and unit say it
	Who   string  `json:"who"`
	When  string  `json:"when"`
	Tool  string  `json:"tool"`
	Why   string  `json:"why"`
	By    string  `json:"acceptedby"`
	Early bool    `json:"early"` // before its turn in the order
}

type tightenOwed struct {
	Hole  string `json:"hole"`
	Stage int    `json:"stage"`
	What  string `json:"what"`
	State string `json:"state"`
	Why   string `json:"why"`
}

type tightenEntry struct {
	What  string `json:"what"`
	Hole  string `json:"hole"`
	Stage int    `json:"stage"`
	Who   string `json:"who"`
	When  string `json:"when"`
}

func tightenCommand() *cobra.Command {
	return &cobra.Command{
		Use: "tighten JOB JOINT|PART", Short: "Show how a joint is tightened: holes by stages, and what is missing", GroupID: "report",
		Long: `Shows the stages of a joint hole by hole: who did each, when, with what and what
was read; what is doubtful and what clears it; what is missing and the scan that
records it; what falls due later; the order in which it is turned and loosened,
and where that order is from. Of a part that is pressed in it shows how deep each
piece is; where a joint has the same name, "part NAME" is the part. Exit status 1
while anything that is due is missing or doubtful.`,
		Example:           "  countback tighten 4K7 head\n  countback tighten 4K7 rod-1-cap --json\n  countback tighten 4K7 front-seal",
		Args:              arguments(cobra.ExactArgs(2)),
		ValidArgsFunction: completeJobThen(completeTightened),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
			r, open, err := newTightenReport(id, j, rest[0])
			if err != nil {
				return err
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if open {
				return no()
			}
			return nil
		}),
	}
}

// newTightenReport is the report on a joint, or on a part that is pressed in; and
// whether anything that is due is missing.
func newTightenReport(id events.Job, j *engine.Job, name string) (r tightenReport, open bool, err error) {
	p := j.State().Plan()
	r = tightenReport{Job: string(id), head: title(id, j), Orders: []tightenOrder{}}
	if ix, ok := p.Joint(events.Joint(strings.TrimPrefix(name, "joint "))); ok {
		r.Joint, r.Name = string(p.Joints[ix].ID), p.Joints[ix].Name
		for _, t := range j.Tightened(p.Joints[ix].ID) {
			open = open || !t.Finished()
			r.Orders = append(r.Orders, newTightenOrder(j, p.Joints[ix].ID, &t))
		}
		return r, open, nil
	}
	part := events.Part(strings.TrimPrefix(name, "part "))
	ix, ok := p.Part(part)
	if !ok {
		return r, false, unknown("job %s has no joint %s, and no part of that name%s; see: countback codes %s", id, strings.TrimPrefix(name, "joint "), nearestOf(p, strings.TrimPrefix(strings.TrimPrefix(name, "joint "), "part "), "joint", "part"), id)
	}
	r.Part, r.Name = string(part), p.Parts[ix].Name
	if t, ok := j.Pressed(part); ok {
		open = !t.Finished()
		o := newTightenOrder(j, "", &t)
		if n, ok := j.NextPress(part, nil); ok {
			if o.Scan = "part " + string(part); len(t.Spots) > 1 {
				o.Scan += ", position " + string(n.Holes[0])
			}
			o.Scan += ", STAGE, the depth in mm"
		}
		r.Orders = append(r.Orders, o)
	}
	return r, open, nil
}

// completeTightened completes joints, and parts that are pressed in.
func completeTightened(j *engine.Job) []string {
	list := completeJoints(j)
	for _, pt := range j.State().Plan().Parts {
		if _, ok := j.Pressed(pt.ID); ok {
			list = append(list, string(pt.ID))
		}
	}
	return list
}

func newTightenOrder(j *engine.Job, joint events.Joint, t *engine.Tightened) tightenOrder {
	o := tightenOrder{Order: t.Order, Member: t.Member, How: t.How, Guided: t.Guided, Editions: append([]string{}, t.Editions...), Edition: t.Edition, Chosen: t.Chosen != 0,
		Holes: []string{}, Loosen: append([]string{}, t.Loosen...), LoosenBy: t.LoosenBy, Cold: t.Cold, Trial: []string{}, Cells: []tightenCell{}, Missing: owed(t.Owed), Later: owed(t.Later), Past: []tightenEntry{}}
	for _, s := range t.Spots {
		o.Holes = append(o.Holes, s.Name)
		if s.Trial {
			o.Trial = append(o.Trial, s.Name)
		}
	}
	for _, row := range t.Rows {
		for i, c := range row.Cells {
			if c.Is {
				o.Cells = append(o.Cells, tightenCell{Hole: t.Spots[i].Name, Stage: row.Number, What: c.What, State: c.State.String(), Value: c.Value, Unit: c.Unit,
					Read: c.Read, As: c.As, Who: c.Who, When: moment(c.At), Tool: c.Tool, Why: c.Why, By: c.Accepted, Early: c.Early})
			}
		}
	}
	if slices.ContainsFunc(t.Rows, func(r engine.StageRow) bool { return slices.ContainsFunc(r.Cells, angled) }) {
		o.Pause, o.PauseBy = int(t.Pause/time.Minute), "shop"
		if t.Planned {
			o.PauseBy = "plan"
		}
	}
	n, ok := j.NextStage(joint, nil)
	if d, doubtful := j.DoubtBefore(&n, joint, nil); doubtful && d.Order == t.Order {
		o.Scan = "joint " + string(joint) + ", " + d.Clears()
	} else if ok && n.Order == t.Order {
		o.Scan = "joint " + string(joint)
		for _, h := range n.Holes {
			o.Scan += ", hole " + string(h)
		}
		o.Scan += ", STAGE"
	}
	for _, e := range t.History {
		if e.What != "mark" && e.What != "unmark" {
			o.Past = append(o.Past, tightenEntry{e.What, e.Position, e.Stage, e.Who, moment(e.At)})
		}
	}
	return o
}

// angled reports whether a cell is a stage by angle.
func angled(c engine.Cell) bool { return c.Is && c.Unit == stage.Angle.Unit() }

func owed(list []engine.Turn) []tightenOwed {
	out := []tightenOwed{}
	for _, t := range list {
		out = append(out, tightenOwed{t.Name, t.Number, t.What, t.State.String(), t.Why})
	}
	return out
}

func moment(at time.Time) string {
	if at.IsZero() {
		return ""
	}
	return at.UTC().Format(time.RFC3339)
}

func (r tightenReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. %s (%s)\n", r.head, r.Name, r.Joint+r.Part)
	if len(r.Orders) == 0 && r.Part != "" {
		fmt.Fprintln(w, "The plan reads no depth of it.")
		return
	}
	if len(r.Orders) == 0 {
		fmt.Fprintln(w, "The plan has no stages for it. countback torque SPEC works out guidance.")
	}
	for i := range r.Orders {
		r.Orders[i].text(w)
	}
}

func (o *tightenOrder) text(w io.Writer) {
	if len(o.Loosen) == 0 { // pressed in, each for itself
		fmt.Fprintf(w, "\nPositions: %s\n", strings.Join(o.Holes, " "))
	} else if o.Member != "" {
		fmt.Fprintf(w, "\nThe studs, each by its own list before what goes onto it: %s\n", strings.Join(o.Holes, " "))
	} else {
		fmt.Fprintf(w, "\nTurned in this order: %s\n", strings.Join(o.Holes, " "))
		if o.How != "" {
			fmt.Fprintf(w, "  %s\n", o.How)
		}
		fmt.Fprintf(w, "Loosened in this:     %s\n", strings.Join(o.Loosen, " "))
		if o.LoosenBy != "" {
			fmt.Fprintf(w, "  %s\n", o.LoosenBy)
		}
		if o.Cold {
			fmt.Fprintln(w, "  only while the engine is cold; what the maker says comes first")
		}
	}
	switch {
	case o.PauseBy == "":
	case o.Pause == 0:
		fmt.Fprintln(w, "No pause inside an angle is too long: by the shop's setting.")
	default:
		by := "the plan gives none: the shop's setting"
		if o.PauseBy == "plan" {
			by = "by the plan"
		}
		fmt.Fprintf(w, "An angle that is gone on with after more than %d min is begun anew (%s).\n", o.Pause, by)
	}
	for i, e := range o.Editions {
		mark := "  "
		if i+1 == o.Edition {
			mark = "> "
		}
		fmt.Fprintf(w, "%sedition %d: %s\n", mark, i+1, e)
	}
	if len(o.Editions) > 0 && !o.Chosen {
		fmt.Fprintln(w, "  they disagree, and nobody has chosen: EDITION at the bench")
	}
	stage := -1
	for _, c := range o.Cells {
		if c.Stage != stage {
			fmt.Fprintf(w, "\nStage %d\n", c.Stage)
			stage = c.Stage
		}
		fmt.Fprintf(w, "  %-8s %-22s %-9s %s\n", c.Hole, c.What, c.State, c.said())
	}
	owedText(w, "Missing", o.Missing)
	owedText(w, "Falls due later", o.Later)
	if o.Scan != "" {
		fmt.Fprintf(w, "\nNext: %s\n", o.Scan)
	}
}

// said is who did it, when, with what, what was read and what is wrong with it.
func (c *tightenCell) said() string {
	var list []string
	switch {
	case c.Read && c.As != "":
		list = append(list, "read "+c.As)
	case c.Read:
		list = append(list, fmt.Sprintf("read %g %s", c.Value, c.Unit))
	}
	if c.Who != "" {
		list = append(list, c.Who)
	}
	if c.When != "" {
		list = append(list, strings.Replace(strings.TrimSuffix(c.When, "Z"), "T", " ", 1))
	}
	if c.Tool != "" {
		list = append(list, "with "+c.Tool)
	}
	if c.Early {
		list = append(list, "before its turn")
	}
	if c.By != "" {
		list = append(list, "accepted by "+c.By)
	}
	if c.Why != "" {
		list = append(list, c.Why)
	}
	return strings.Join(list, ", ")
}

// owedText groups what is owed by stage and reason.
func owedText(w io.Writer, head string, list []tightenOwed) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s: %d\n", head, len(list))
	for len(list) > 0 {
		n := 1
		holes := []string{list[0].Hole}
		for n < len(list) && list[n].Stage == list[0].Stage && list[n].Why == list[0].Why && list[n].What == list[0].What && list[n].State == list[0].State {
			holes = append(holes, list[n].Hole)
			n++
		}
		text := fmt.Sprintf("  stage %d, %s: %s", list[0].Stage, list[0].What, strings.Join(holes, ", "))
		if list[0].State != stage.Open.String() {
			text += " " + list[0].State
		}
		if list[0].Why != "" {
			text += ": " + list[0].Why
		}
		fmt.Fprintln(w, text)
		list = list[n:]
	}
}
