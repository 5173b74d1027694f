package sheet

import (
	"strings"

	"countback/projections/plan"
)

// conditions writes the entries of a list of conditions; which of them must
// hold the column says.
func (w *writer) conditions(c *plan.Condition) string {
	var out []string
	for i := range c.Kids {
		out = append(out, w.condition(&c.Kids[i], 0))
	}
	return strings.Join(out, "; ")
}

// How tightly what stands around a condition binds.
const (
	loose = iota // nothing around it
	inOr
	inAnd
)

func (w *writer) condition(c *plan.Condition, around int) string {
	switch c.Op {
	case plan.AnyOf:
		return w.joined(c, " or ", "never", inOr, around >= inOr)
	case plan.AllOf:
		return w.joined(c, " and ", "always", inAnd, around >= inAnd)
	case plan.OfStep:
		return markedID(string(w.p.Steps[c.Step].ID))
	case plan.OfPart:
		return "part " + markedID(string(w.p.Parts[c.Part].ID)) + " is " + c.Is.String()
	case plan.OfSeats:
		return "seats " + w.seats(c.Seats, held, "+") + " are " + c.Is.String()
	case plan.OfSome:
		return "some " + w.seats(c.Seats, held, "+") + " are " + c.Is.String()
	case plan.OfLoan:
		return "loan " + markedID(string(w.p.Loans[c.Loan].ID)) + " is " + c.Is.String()
	case plan.OfCavity:
		return "cavity " + markedID(string(w.p.Cavities[c.Cavity].ID)) + " is " + c.Is.String()
	case plan.OfMark:
		return "mark " + markedID(string(w.p.Marks[c.Mark].ID))
	}
	panic("unreachable: a condition that no plan file has")
}

func (w *writer) joined(c *plan.Condition, by, none string, inside int, brackets bool) string {
	if len(c.Kids) == 0 {
		return none
	}
	if len(c.Kids) == 1 {
		return w.condition(&c.Kids[0], inside)
	}
	var out []string
	for i := range c.Kids {
		out = append(out, w.condition(&c.Kids[i], inside))
	}
	text := strings.Join(out, by)
	if brackets {
		text = "(" + text + ")"
	}
	return text
}
