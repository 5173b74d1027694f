package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/plan"
)

type planReport struct {
	File      string       `json:"file"`
	ID        string       `json:"id"`
	Family    string       `json:"family"`
	Edition   int          `json:"edition"`
	Invented  bool         `json:"invented"` // demo data: nobody may build from it
	Hash      string       `json:"hash"`     // SHA-256 of the text
	Fasteners int          `json:"fasteners"`
	Threaded  int          `json:"threaded"` // bolts, screws, plugs, switches
	Studs     int          `json:"studs"`
	Nuts      int          `json:"nuts"`
	Washers   int          `json:"washers"`
	Seats     int          `json:"seats"` // holes that hold fasteners
	Parts     int          `json:"parts"` // pieces of parts
	PartIDs   int          `json:"partids"`
	Pieces    int          `json:"pieces"` // fasteners and parts
	Steps     planSteps    `json:"steps"`
	Joints    int          `json:"joints"`
	Cavities  int          `json:"cavities"`
	Marks     int          `json:"marks"`
	Loans     int          `json:"loans"`
	Variants  []planChoice `json:"variants"`
	Kinds     []planKind   `json:"kinds"` // fasteners, most of them first
}

type planSteps struct {
	Off   int `json:"off"`
	Bench int `json:"bench"`
	On    int `json:"on"`
}

type planChoice struct {
	ID      string   `json:"id"`
	Layouts []string `json:"layouts"`
	Default string   `json:"default"`
}

type planKind struct {
	Kind string `json:"kind"`
	Qty  int    `json:"qty"`
}

func planShowCommand() *cobra.Command {
	return &cobra.Command{
		Use: "show FILE", Short: "Show what a plan adds up to",
		Long: `Adds up everything that a whole engine of this plan has: pieces by kind, seats,
parts, steps. Numbers are those of the default layouts with all optional parts.`,
		Example:           "  countback plan show my-engine.yaml\n  countback plan show --json my-engine.yaml",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completePlanFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			p, err := loadPlan(args[0])
			if err != nil {
				return err
			}
			return write(cmd, s, showPlan(p))
		},
	}
}

// loadPlan reads a plan that is to be used; a broken one is refused with the
// way to see all that is wrong with it.
func loadPlan(file string) (*plan.Plan, error) {
	p, err := plan.Load(file)
	if faults, ok := err.(plan.Faults); ok {
		return nil, &failure{statusNo, fmt.Errorf("plan cannot be used: %s; see all of it with: countback plan check %s", faults[0], file)}
	}
	return p, err
}

func showPlan(p *plan.Plan) planReport {
	sum := plan.NewPresent(p).Sum()
	r := planReport{
		File: p.File, ID: p.ID, Family: p.Family, Edition: p.Edition, Invented: p.Demo, Hash: p.Hash,
		Fasteners: sum.Fasteners, Threaded: sum.Threaded, Studs: sum.Studs, Nuts: sum.Nuts, Washers: sum.Washers,
		Seats: sum.Seats, Parts: sum.Parts, PartIDs: len(p.Parts), Pieces: sum.Pieces,
		Joints: len(p.Joints), Cavities: len(p.Cavities), Marks: len(p.Marks), Loans: len(p.Loans),
		Variants: []planChoice{}, Kinds: []planKind{},
	}
	for i := range p.Steps {
		switch p.Steps[i].Section {
		case plan.Off:
			r.Steps.Off++
		case plan.On:
			r.Steps.On++
		default:
			r.Steps.Bench++
		}
	}
	for _, v := range p.Variants {
		choice := planChoice{ID: v.ID, Layouts: []string{}}
		for _, o := range v.Options {
			choice.Layouts = append(choice.Layouts, o.ID)
		}
		choice.Default = choice.Layouts[v.Default]
		r.Variants = append(r.Variants, choice)
	}
	for kind, qty := range sum.ByKind {
		if _, isPart := p.Part(events.Part(kind)); !isPart {
			r.Kinds = append(r.Kinds, planKind{string(kind), qty})
		}
	}
	slices.SortFunc(r.Kinds, func(a, b planKind) int {
		if a.Qty != b.Qty {
			return b.Qty - a.Qty
		}
		return strings.Compare(a.Kind, b.Kind)
	})
	return r
}

func (r planReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s, edition %d (%s)\n", r.Family, r.Edition, r.ID)
	if r.Invented {
		fmt.Fprintln(w, "INVENTED NUMBERS: nobody may build from them.")
	}
	fmt.Fprintln(w)
	t := newTable(w)
	t.row("pieces", r.Pieces)
	t.row("  fasteners", r.Fasteners, fmt.Sprintf("%d bolts and plugs, %s, %s, %s, in %s",
		r.Threaded, many(r.Studs, "stud", "studs"), many(r.Nuts, "nut", "nuts"), many(r.Washers, "washer or seal ring", "washers and seal rings"), many(r.Seats, "seat", "seats")))
	t.row("  parts", r.Parts, fmt.Sprintf("pieces of %d names", r.PartIDs))
	t.row("joints", r.Joints)
	t.row("steps", r.Steps.Off+r.Steps.Bench+r.Steps.On, fmt.Sprintf("%d off, %d on the bench, %d on", r.Steps.Off, r.Steps.Bench, r.Steps.On))
	t.row("loans", r.Loans)
	t.row("marks", r.Marks)
	t.row("cavities", r.Cavities)
	for _, v := range r.Variants {
		t.row("layout", v.ID, fmt.Sprintf("%v, usually %s", v.Layouts, v.Default))
	}
	t.end()
	fmt.Fprintln(w, "\nFasteners by kind:")
	t = newTable(w)
	for _, k := range r.Kinds {
		t.row("  ", k.Qty, k.Kind)
	}
	t.end()
}
