package tightening

import (
	"math"
	"slices"
	"strings"

	"countback/projections/fastener/sequence"
	"countback/projections/plan"
)

// order puts the positions into the order in which they are turned.
func (b *builder) order(l *List, seats []plan.SeatIndex) {
	l.Seats = seats
	b.rename(l)
	said := strings.Join(b.t.Order, ", ")
	switch {
	case b.t.ByName(b.p):
		b.byName(l)
		return
	case len(seats) < 3:
	case b.placed(seats):
		if order, how, ok := worked(b.points(seats), said); ok {
			b.permute(l, order)
			l.Guided, l.How = true, how+", worked out from where the holes lie: guidance only, the maker's figure comes first"
		}
	case aroundWord(said):
		if order, err := sequence.Circle(len(seats)); err == nil {
			b.permute(l, order)
			l.Guided, l.How = true, "opposite pairs, if the holes are numbered around: guidance only, the maker's figure comes first"
		}
	}
	switch {
	case said != "" && l.How != "":
		l.How = "the plan says: " + said + "; " + l.How
	case said != "":
		l.How = "the plan says: " + said
	case l.How == "":
		l.How = "the plan gives no order: as it numbers the holes"
	}
}

func (b *builder) rename(l *List) {
	l.Names = make([]string, len(l.Seats))
	for i, s := range l.Seats {
		l.Names[i] = b.name(l, s)
	}
	seen := map[string]bool{}
	for _, n := range l.Names {
		if seen[n] { // a shared hole and an own one of one name
			for i, s := range l.Seats {
				l.Names[i] = string(b.p.Seats[s].ID)
			}
			return
		}
		seen[n] = true
	}
}

// byName is the order that the plan names. What it misses stands behind.
func (b *builder) byName(l *List) {
	var order []plan.SeatIndex
	for _, w := range b.t.Order {
		for _, s := range l.Seats {
			seat := &b.p.Seats[s]
			if (string(seat.ID) == w || string(seat.Hole) == w) && !slices.Contains(order, s) {
				order = append(order, s)
			}
		}
	}
	var missed []string
	for i, s := range l.Seats {
		if !slices.Contains(order, s) {
			order = append(order, s)
			missed = append(missed, l.Names[i])
		}
	}
	l.Seats = order
	b.rename(l)
	if len(missed) > 0 {
		l.How = "the plan's order misses " + words(missed) + ": put behind"
	}
}

func (b *builder) permute(l *List, order []int) {
	l.Seats = sequence.Names(order, l.Seats)
	b.rename(l)
}

func (b *builder) placed(seats []plan.SeatIndex) bool {
	for _, s := range seats {
		if !b.p.Seats[s].XY.Known || b.p.Seats[s].Joint != b.p.Seats[seats[0]].Joint {
			return false
		}
	}
	return true
}

func (b *builder) points(seats []plan.SeatIndex) []sequence.Point {
	out := make([]sequence.Point, len(seats))
	for i, s := range seats {
		out[i] = sequence.Point{X: b.p.Seats[s].XY.X, Y: b.p.Seats[s].XY.Y}
	}
	return out
}

// worked is the order for holes whose places are known.
func worked(points []sequence.Point, said string) (order []int, how string, ok bool) {
	var err error
	if aroundWord(said) || !middleWord(said) && circular(points) {
		if order, err = sequence.Around(points); err == nil {
			return order, "opposite pairs", true
		}
	}
	if order, err = sequence.Rows(points); err == nil {
		return order, "from the middle outwards", true
	}
	return nil, "", false
}

func aroundWord(said string) bool {
	said = strings.ToLower(said)
	return strings.Contains(said, "star") || strings.Contains(said, "opposite") || strings.Contains(said, "cross")
}

func middleWord(said string) bool {
	said = strings.ToLower(said)
	return strings.Contains(said, "middle") || strings.Contains(said, "centre") || strings.Contains(said, "center")
}

// roundPart is how far distances from the middle may differ, as a part of the
// largest, for holes to lie around a circle.
const roundPart = 0.1

// circular reports whether points lie around a circle.
func circular(points []sequence.Point) bool {
	var x, y float64
	for _, p := range points {
		x, y = x+p.X/float64(len(points)), y+p.Y/float64(len(points))
	}
	least, most := math.Inf(1), 0.0
	for _, p := range points {
		d := math.Hypot(p.X-x, p.Y-y)
		least, most = min(least, d), max(most, d)
	}
	return most > 0 && most-least <= roundPart*most
}

// loosen is how a list is loosened: as the plan says, else in reverse.
func (b *builder) loosen(l *List) {
	l.Loosen = sequence.Loosen(l.Names)
	for t := range b.p.Tightening {
		x := &b.p.Tightening[t]
		if !x.Loosen || !slices.ContainsFunc(x.Groups, func(g plan.TightenGroup) bool {
			return slices.ContainsFunc(g.Holes, func(s plan.SeatIndex) bool { return slices.Contains(l.Seats, s) })
		}) {
			continue
		}
		l.InTurn, l.Cold = true, x.Cold
		own := builder{b.p, x}
		if x.ByName(b.p) {
			o := List{Joints: l.Joints, Seats: slices.Clone(l.Seats)}
			own.rename(&o)
			own.byName(&o)
			l.Loosen = o.Names
		}
		var rounds []string
		for g := range x.Groups {
			for e := range x.Groups[g].Editions {
				for _, s := range x.Groups[g].Editions[e].Stages {
					if s.Text != "" && !slices.Contains(rounds, s.Text) {
						rounds = append(rounds, s.Text)
					}
				}
			}
		}
		l.LoosenBy = strings.Join(rounds, ", then ")
		return
	}
}

// Words is a condition in a few words, as a stage says what it wants first;
// empty where it asks for nothing.
func Words(p *plan.Plan, c *plan.Condition) string {
	switch c.Op {
	case plan.AllOf, plan.AnyOf, plan.NotAll:
		var list []string
		for i := range c.Kids {
			if w := Words(p, &c.Kids[i]); w != "" {
				list = append(list, w)
			}
		}
		if c.Op == plan.AnyOf {
			return strings.Join(list, ", or ")
		}
		text := strings.Join(list, ", and ")
		if c.Op == plan.NotAll {
			return "not " + text
		}
		return text
	case plan.OfMark:
		return p.Marks[c.Mark].Name
	case plan.OfPart:
		return p.Parts[c.Part].Name + " " + c.Is.String()
	case plan.OfLoan:
		return p.Loans[c.Loan].Name + " " + c.Is.String()
	case plan.OfCavity:
		return p.Cavities[c.Cavity].Name + " " + c.Is.String()
	case plan.OfStep:
		return p.Steps[c.Step].Name
	case plan.OfSeats, plan.OfSome:
		return p.SeatNames(c.Seats) + " " + c.Is.String()
	}
	panic("unreachable: a condition that no plan has")
}
