package scope

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"countback/projections/plan"
)

// Side is one answer as plain values, for a screen or a sheet.
type Side struct {
	Steps     []string // ids, in their order
	Seats     int      // opened
	Fasteners int      // pieces out
	Parts     int      // pieces off
	Single    int      // single-use pieces used up
	Used      []Line   // what they are
	Void      []string // marks that stood and do not
	Undone    []string
	Minutes   int
	Wait      time.Duration
	Verdict   string

	Back        []string
	BackSingle  int // single-use pieces that the way back uses up besides
	BackMinutes int
	BackWait    time.Duration
	BackVerdict string
	BackLacks   []string // why there is no way back by the plan's steps
}

// Line is pieces of one kind: a fastener by its canonical text, a part by its
// name.
type Line struct {
	What  string
	Count int
}

// Hours is the work there and back, of the steps that say how long they take.
func (s *Side) Hours() float64 { return float64(s.Minutes+s.BackMinutes) / 60 }

// Side is an answer as plain values.
func (f *Finder) Side(a *Answer) Side {
	out := Side{
		Steps: f.ids(a.Steps), Seats: len(a.Tally.Seats), Fasteners: a.Tally.Fasteners, Parts: a.Tally.Parts,
		Single: a.Tally.Single(), Undone: f.ids(a.Undone), Minutes: a.Tally.Minutes, Wait: a.Wait, Verdict: a.Verdict(),
		Back: f.ids(a.Back.Steps), BackSingle: a.Back.Cost.Pieces, BackMinutes: a.Back.Cost.Minutes, BackWait: a.Back.Wait,
		BackVerdict: a.Back.Verdict(),
	}
	for _, u := range a.Tally.Used {
		what := string(u.Kind)
		if u.Part != plan.None {
			what = f.p.Parts[u.Part].Name
		}
		out.Used = append(out.Used, Line{what, u.Count})
	}
	for _, m := range a.Tally.Void {
		out.Void = append(out.Void, string(f.p.Marks[m].ID))
	}
	for _, u := range a.Back.Missing {
		out.BackLacks = append(out.BackLacks, u.Text)
	}
	return out
}

func (f *Finder) ids(steps []plan.StepIndex) []string {
	var out []string
	for _, i := range steps {
		out = append(out, string(f.p.Steps[i].ID))
	}
	return out
}

// Comparison is two answers side by side: the smaller repair and the larger,
// one way and another, now and later.
type Comparison struct {
	A, B         Side
	Both         []string // in A's order
	OnlyA, OnlyB []string
	UsedMoreByA  []Line // what A uses up beyond B, and the other way round
	UsedMoreByB  []Line
	Less         string // "A", "B", or empty where both cost the same, by pieces, minutes and steps there
}

// Compare puts two answers side by side. They may be of different states.
func (f *Finder) Compare(a, b *Answer) Comparison {
	c := Comparison{A: f.Side(a), B: f.Side(b)}
	for _, s := range c.A.Steps {
		if slices.Contains(c.B.Steps, s) {
			c.Both = append(c.Both, s)
		} else {
			c.OnlyA = append(c.OnlyA, s)
		}
	}
	for _, s := range c.B.Steps {
		if !slices.Contains(c.A.Steps, s) {
			c.OnlyB = append(c.OnlyB, s)
		}
	}
	c.UsedMoreByA, c.UsedMoreByB = beyond(c.A.Used, c.B.Used), beyond(c.B.Used, c.A.Used)
	switch {
	case a.Cost.Less(b.Cost):
		c.Less = "A"
	case b.Cost.Less(a.Cost):
		c.Less = "B"
	}
	return c
}

// beyond is what a has more of than b.
func beyond(a, b []Line) []Line {
	var out []Line
	for _, x := range a {
		n := x.Count
		for _, y := range b {
			if y.What == x.What {
				n -= y.Count
			}
		}
		if n > 0 {
			out = append(out, Line{x.What, n})
		}
	}
	return out
}

// Row is one line of a comparison in words.
type Row struct{ What, A, B string }

// Rows is the comparison line by line, for a sheet of two columns.
func (c *Comparison) Rows() []Row {
	n := strconv.Itoa
	rows := []Row{
		{"steps", n(len(c.A.Steps)), n(len(c.B.Steps))},
		{"seats opened", n(c.A.Seats), n(c.B.Seats)},
		{"fasteners out", n(c.A.Fasteners), n(c.B.Fasteners)},
		{"parts off", n(c.A.Parts), n(c.B.Parts)},
		{"single-use pieces used up", n(c.A.Single), n(c.B.Single)},
		{"marks void", n(len(c.A.Void)), n(len(c.B.Void))},
		{"steps undone", n(len(c.A.Undone)), n(len(c.B.Undone))},
		{"steps back", n(len(c.A.Back)), n(len(c.B.Back))},
		{"single-use pieces besides, on the way back", n(c.A.BackSingle), n(c.B.BackSingle)},
	}
	if c.A.Minutes+c.B.Minutes+c.A.BackMinutes+c.B.BackMinutes > 0 {
		rows = append(rows, Row{"hours there and back", hours(&c.A), hours(&c.B)})
	}
	if c.A.Wait+c.B.Wait+c.A.BackWait+c.B.BackWait > 0 {
		rows = append(rows, Row{"waiting", (c.A.Wait + c.A.BackWait).String(), (c.B.Wait + c.B.BackWait).String()})
	}
	return append(rows, Row{"how sure", c.A.Verdict, c.B.Verdict}, Row{"way back", c.A.BackVerdict, c.B.BackVerdict})
}

func hours(s *Side) string { return fmt.Sprintf("%.1f", s.Hours()) }
