package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Gate is how the check by a second person stands that a step asks for.
type Gate struct {
	Step   events.Step
	Asks   string      // how it is checked, in the plan's word: "blind-count"
	Owed   bool        // the step's work was done here, and it is not undone
	Since  ledger.Fact // the last work on what it checks
	Passed bool        // a second person agreed after that
	Check  *Check      // the last answer after that; nil: none
}

// Gates lists how every check by a second person stands, in the plan's order
// of its steps.
func (s *State) Gates() []Gate {
	var list []Gate
	for i := range s.lay.plan.Steps {
		if s.lay.plan.Steps[i].Gate != plan.None {
			list = append(list, s.gate(plan.StepIndex(i)))
		}
	}
	return list
}

// gate is owed for work that was done here: an engine as it came asks for
// none. Any later work on the same holes or parts takes it away again (rule
// R21).
func (s *State) gate(ix plan.StepIndex) Gate {
	step := &s.lay.plan.Steps[ix]
	g := Gate{Step: step.ID}
	if step.Gate == plan.None {
		return g
	}
	g.Asks = s.lay.plan.Gates[step.Gate].Asks
	whole := true
	for _, seat := range step.Fastens {
		st := &s.seats[seat]
		if st.changed != 0 && st.in != 0 {
			g.Owed = true
			g.Since = max(g.Since, st.changed)
		}
		whole = whole && (st.in == s.lay.seats[seat].full || s.now.Seat(seat) == plan.SeatAbsent)
	}
	for _, p := range step.Fits {
		if on := s.now.Part(p); s.parts[p].changed != 0 && (on == plan.PartOn || on == plan.PartPartly) {
			g.Owed = true
			g.Since = max(g.Since, s.parts[p].changed)
		}
	}
	for i := len(s.checks) - 1; i >= 0 && s.checks[i].Fact > g.Since; i-- {
		if c := &s.checks[i]; c.Step == step.ID {
			g.Check, g.Passed = c, c.Agreed && !c.First && whole
			break
		}
	}
	if !g.Passed {
		g.Passed = s.overrideAfter(noun("gate", step.ID), g.Since)
	}
	return g
}

// overrideAfter says whether a second person let an ask pass after a fact.
func (s *State) overrideAfter(ask string, since ledger.Fact) bool {
	for i := len(s.passes) - 1; i >= 0 && s.passes[i].Fact > since; i-- {
		if s.passes[i].Ask == ask {
			return true
		}
	}
	return false
}

// recounts says whether those who did the work have to count again before the
// next answer of a second person counts: else a number could be tried until it
// fits.
func (g *Gate) recounts() bool {
	return g.Check != nil && !g.Check.Agreed && !g.Check.Alone
}

func (g *Gate) words(s *State) string {
	name := s.nounWords(noun("step", g.Step))
	if g.recounts() {
		return name + ": the second count of " + string(g.Check.Second) + " on " + s.clock(g.Check.Fact) + " differs, and who did the work counts again first"
	}
	if g.Check != nil && g.Check.First {
		return name + ": " + string(g.Check.Second) + " counted again on " + s.clock(g.Check.Fact) + "; now the second person"
	}
	if g.Check != nil && !g.Check.Agreed {
		return name + ": the second count of " + string(g.Check.Second) + " on " + s.clock(g.Check.Fact) + " differs"
	}
	if g.Check != nil {
		return name + ": checked by " + string(g.Check.Second) + " on " + s.clock(g.Check.Fact) + ", and not all in"
	}
	return name + ": not checked by a second person since " + s.clock(g.Since)
}

// gatedBefore lists for every step the steps with a gate that its conditions
// name, wherever in them.
func gatedBefore(p *plan.Plan) [][]plan.StepIndex {
	list := make([][]plan.StepIndex, len(p.Steps))
	for i := range p.Steps {
		gatedIn(p, &p.Steps[i].When, &list[i])
	}
	return list
}

func gatedIn(p *plan.Plan, c *plan.Condition, list *[]plan.StepIndex) {
	if c.Op == plan.OfStep && p.Steps[c.Step].Gate != plan.None && !contains(*list, c.Step) {
		*list = append(*list, c.Step)
	}
	for i := range c.Kids {
		gatedIn(p, &c.Kids[i], list)
	}
}

// signedAudit is the last signature over an audit point that still stands: no
// fact since took its ground away. nil: none.
func (s *State) signedAudit(i plan.AuditIndex) *Signature {
	return s.signature(s.lay.plan.AuditPoints[i].ID)
}

func (s *State) signature(point events.AuditPoint) *Signature {
	for i := len(s.signed) - 1; i >= 0; i-- {
		if s.signed[i].Point == point {
			if s.groundless(s.signed[i].Fact) {
				return nil
			}
			return &s.signed[i]
		}
	}
	return nil
}

// groundless says whether work was done after a signature: pieces moved, or a
// hole was filled or emptied. A signature is never withdrawn; it only does not
// stand for what came after it.
func (s *State) groundless(f ledger.Fact) bool {
	log := s.book.Log()
	for i := len(log) - 1; i >= 0 && log[i].Fact > f; i-- {
		p := &log[i]
		if p.From != p.To && (s.book.Class(p.From) == ledger.Fitted || s.book.Class(p.To) == ledger.Fitted) {
			return true
		}
	}
	return false
}
