package plan

import (
	"fmt"
	"strings"
)

// Unmet is one reason why something cannot be done now, and what clears it.
type Unmet struct {
	Text  string      // the fact in plain words: "Oil pan: on"
	Clear string      // what to do next: "do pan-off"; empty: nothing that the plan knows
	Cond  Condition   // the condition that does not hold
	Seats []SeatIndex // the holes it is about
	By    []StepIndex // the steps that clear it, in the plan's order
	Any   [][]Unmet   // alternatives of which each would do; Text names them together
}

// Explain is why a condition does not hold; nil where it holds.
func (c *Condition) Explain(s *Present) []Unmet { return c.explain(nil, s) }

// explain adds to a list why a condition does not hold.
func (c *Condition) explain(out []Unmet, s *Present) []Unmet {
	if c.Eval(s) {
		return out
	}
	switch c.Op {
	case AllOf:
		for i := range c.Kids {
			out = c.Kids[i].explain(out, s)
		}
		return out
	case AnyOf:
		return append(out, s.explainAny(c))
	case NotAll:
		return append(out, s.explainNot(c)...)
	case OfPart:
		return append(out, s.explainPart(c))
	case OfSeats, OfSome:
		return append(out, s.explainSeats(c))
	case OfLoan:
		return append(out, s.explainLoan(c))
	case OfCavity:
		return append(out, s.explainCavity(c))
	case OfMark:
		by := s.p.clears.sets[c.Mark]
		return append(out, Unmet{Text: s.p.Marks[c.Mark].Name + ": not done, or void", Clear: s.doOne(by), Cond: *c, By: by})
	case OfStep:
		return append(out, s.explainStep(c))
	}
	panic("unreachable: condition op")
}

func (s *Present) explainAny(c *Condition) Unmet {
	u := Unmet{Cond: *c}
	var texts, clears []string
	for i := range c.Kids {
		why := c.Kids[i].Explain(s)
		u.Any = append(u.Any, why)
		u.By = addBy(u.By, why)
		texts = append(texts, joinTexts(why, " and ", func(x Unmet) string { return x.Text }))
		clears = append(clears, joinTexts(why, ", ", func(x Unmet) string { return x.Clear }))
	}
	u.Text = strings.Join(texts, ", or ")
	u.Clear = strings.Join(clears, "; or ")
	return u
}

// explainNot is why something still holds that must not.
func (s *Present) explainNot(c *Condition) []Unmet {
	either := Condition{Op: AnyOf, Kids: opposites(c.Kids), Line: c.Line}
	switch len(either.Kids) {
	case 0:
		return []Unmet{{Text: "void as things are", Cond: *c}}
	case 1:
		return either.Kids[0].Explain(s)
	}
	return []Unmet{s.explainAny(&either)}
}

func addBy(by []StepIndex, why []Unmet) []StepIndex {
	for _, x := range why {
		for _, step := range x.By {
			addOnce(&by, step)
		}
	}
	return by
}

func joinTexts(list []Unmet, sep string, text func(Unmet) string) string {
	var out []string
	for _, u := range list {
		if t := text(u); t != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, sep)
}

var partWords = [...]string{PartOff: "off", PartPartly: "only partly on", PartOn: "on", PartAway: "away", PartAbsent: ""}

func (s *Present) explainPart(c *Condition) Unmet {
	p := s.p
	u := Unmet{Cond: *c}
	u.Text = p.guide.asIs[c.Part][s.parts[c.Part]]
	switch {
	case s.parts[c.Part] == PartAway:
		u.By = p.clears.takeBack[c.Part]
		if c.Is == IsOn {
			u.By = append(append([]StepIndex{}, u.By...), p.clears.fits[c.Part]...)
		}
	case c.Is == IsOn:
		u.By = p.clears.fits[c.Part]
	case c.Is == IsOff:
		u.By = p.clears.removes[c.Part]
	case c.Is == IsAway:
		u.By = p.clears.sendsOut[c.Part]
	}
	u.Clear = s.doOne(u.By)
	return u
}

var seatsWords = [...]string{IsEmpty: "not empty", IsOut: "still in", IsParked: "not parked", IsFilled: "not in", IsFinished: "not finished", IsStanding: ""}

func (s *Present) explainSeats(c *Condition) Unmet {
	u := Unmet{Cond: *c}
	for _, seat := range c.Seats {
		if state := s.seats[seat]; state != SeatAbsent && !state.is(c.Is) {
			u.Seats = append(u.Seats, seat)
		}
	}
	u.Text = s.p.SeatNames(u.Seats) + ": " + seatsWords[c.Is]
	by := s.p.clears.fastens
	switch c.Is {
	case IsEmpty, IsOut:
		by = s.p.clears.empties
	case IsParked:
		by = s.p.clears.parks
	}
	for _, seat := range u.Seats {
		for _, step := range by[seat] {
			addOnce(&u.By, step)
		}
	}
	u.Clear = s.doOne(u.By)
	if c.Is == IsFinished && len(u.By) == 0 {
		u.Clear = "tighten to the end"
	}
	return u
}

func (s *Present) explainLoan(c *Condition) Unmet {
	l := &s.p.Loans[c.Loan]
	if c.Is == IsOut {
		text := l.Name + ": in"
		if n := s.loans[c.Loan]; n > 1 {
			text = fmt.Sprintf("%s: %d in", l.Name, n)
		}
		return Unmet{Text: text, Clear: "take it out", Cond: *c, By: s.p.clears.loanOut[c.Loan]}
	}
	text := l.Name + ": not in"
	if n := s.loans[c.Loan]; n > 0 {
		text = fmt.Sprintf("%s: %d of %d in", l.Name, n, l.Count)
	}
	by := s.p.clears.loanIn[c.Loan]
	u := Unmet{Text: text, Clear: s.doOne(by), Cond: *c, By: by}
	if u.Clear == "" {
		u.Clear = "put it in"
	}
	return u
}

func (s *Present) explainCavity(c *Condition) Unmet {
	cav := &s.p.Cavities[c.Cavity]
	u := Unmet{Cond: *c}
	switch c.Is {
	case IsOpen:
		u.Text = cav.Name + ": closed"
		for _, why := range cav.OpenWhen.Explain(s) {
			u.Any = append(u.Any, why.Any...)
		}
		for _, way := range u.Any {
			u.By = addBy(u.By, way)
		}
	case IsClosed:
		u.Text = cav.Name + ": open"
		u.By = s.closers(c.Cavity)
	case IsDrained:
		u.Text = cav.Name + ": filled"
		u.By = s.p.clears.drains[c.Cavity]
	default:
		u.Text = cav.Name + ": not filled"
		u.By = s.p.clears.fills[c.Cavity]
	}
	u.Clear = s.doOne(u.By)
	return u
}

// closers is the steps that say they close a cavity and are not done.
func (s *Present) closers(c CavityIndex) []StepIndex {
	var out []StepIndex
	for i := range s.p.Steps {
		for _, x := range s.p.Steps[i].Closes {
			if x == c && !s.IsDone(StepIndex(i)) {
				out = append(out, StepIndex(i))
			}
		}
	}
	return out
}

func (s *Present) explainStep(c *Condition) Unmet {
	step := &s.p.Steps[c.Step]
	u := s.p.guide.undone[c.Step]
	u.Cond = *c
	if s.HowDone(c.Step) == NotDone {
		return u
	}
	done := s.Done(c.Step)
	u.Seats = done.Seats
	var open []string
	for _, part := range done.Parts {
		open = append(open, s.p.Parts[part].Name)
	}
	if len(done.Seats) > 0 {
		open = append(open, s.p.SeatNames(done.Seats))
	}
	for _, cav := range done.Cavities {
		open = append(open, s.p.Cavities[cav].Name)
	}
	for _, m := range done.Marks {
		open = append(open, s.p.Marks[m].Name)
	}
	for _, l := range done.Loans {
		open = append(open, s.p.Loans[l].Name)
	}
	u.Text = step.Name + ": part done; not yet " + strings.Join(open, ", ")
	return u
}

// doOne is the next action where one of several steps clears something.
func (s *Present) doOne(by []StepIndex) string {
	switch len(by) {
	case 0:
		return ""
	case 1:
		return s.p.guide.does[by[0]]
	}
	n := len("do ")
	for _, step := range by {
		n += len(s.p.Steps[step].ID) + len(" or ")
	}
	text := append(make([]byte, 0, n), "do "...)
	for i, step := range by {
		if i > 0 {
			text = append(text, " or "...)
		}
		text = append(text, s.p.Steps[step].ID...)
	}
	return string(text)
}

// buildSays words what is said of parts and steps again and again.
func (p *Plan) buildSays() {
	p.guide.asIs = make([][]string, len(p.Parts))
	for i := range p.Parts {
		for _, word := range partWords {
			p.guide.asIs[i] = append(p.guide.asIs[i], p.Parts[i].Name+": "+word)
		}
	}
	p.guide.undone = make([]Unmet, len(p.Steps))
	for i := range p.Steps {
		p.guide.undone[i] = Unmet{Text: p.Steps[i].Name + ": not done", Clear: p.guide.does[i], By: []StepIndex{StepIndex(i)}}
	}
}

// SeatNames names holes for people, those of one joint together: "Front cover
// to block 2, 4, 8, 11".
func (p *Plan) SeatNames(seats []SeatIndex) string {
	var b strings.Builder
	last := JointIndex(None)
	for i, seat := range seats {
		s := &p.Seats[seat]
		switch {
		case s.Joint != last && i > 0:
			b.WriteString("; " + p.Joints[s.Joint].Name + " ")
		case s.Joint != last:
			b.WriteString(p.Joints[s.Joint].Name + " ")
		default:
			b.WriteString(", ")
		}
		b.WriteString(string(s.Hole))
		last = s.Joint
	}
	return b.String()
}
