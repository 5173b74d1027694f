package plan

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"countback/events"
)

// conditions reads a key with one condition or a list of them, which op
// joins. Nothing given is a condition of op without kids.
func (e *entry) conditions(key string, op Op) Condition {
	n := e.get(key)
	c := Condition{Op: op}
	if n == nil || isNull(n) {
		return c
	}
	c.Line = n.Line
	list := []*yaml.Node{n}
	if n.Kind == yaml.SequenceNode {
		list = n.Content
	}
	for _, k := range list {
		if kid, ok := e.r.condition(k, e.what+": "+key); ok {
			c.Kids = append(c.Kids, kid)
		}
	}
	return c
}

// condition reads one condition: the name of a step, or a mapping.
func (r *reader) condition(n *yaml.Node, where string) (Condition, bool) {
	if n.Kind == yaml.ScalarNode {
		s, ok := resolve(r, r.p.names.steps, ref{n.Value, n.Line}, where, "step")
		return Condition{Op: OfStep, Step: s, Line: n.Line}, ok
	}
	e := r.open(n, where)
	if e == nil {
		return Condition{}, false
	}
	c, ok := r.conditionOf(e)
	c.Line = n.Line
	if ok {
		e.done()
	}
	return c, ok
}

var conditionKeys = []string{"part", "seats", "loan", "cavity", "mark", "step", "any", "all"}

func (r *reader) conditionOf(e *entry) (Condition, bool) {
	n := &r.p.names
	at := slices.IndexFunc(conditionKeys, func(k string) bool { return child(e.node, k) != nil })
	if at < 0 {
		near := ""
		if len(e.node.Content) > 0 {
			near = Nearest(e.node.Content[0].Value, conditionKeys)
		}
		r.faultNear(e.line(), CodeMissing, near, "%s: a condition is a step, or has one of %s", e.what, strings.Join(conditionKeys, ", "))
		return Condition{}, false
	}
	switch conditionKeys[at] {
	case "part":
		c := Condition{Op: OfPart, Part: one(e, n.parts, "part", "part")}
		return c, r.is(e, "is", &c, IsOn, IsOff, IsAway, IsHere) && c.Part != None
	case "seats":
		c := Condition{Op: OfSeats}
		key := "are"
		if child(e.node, "some-are") != nil {
			c.Op, key = OfSome, "some-are"
		}
		c.Seats = e.seatsOf("seats", heldSeat)
		return c, r.is(e, key, &c, IsEmpty, IsOut, IsParked, IsFilled, IsFinished) && len(c.Seats) > 0
	case "loan":
		c := Condition{Op: OfLoan, Loan: one(e, n.loans, "loan", "loan")}
		return c, r.is(e, "is", &c, IsIn, IsOut) && c.Loan != None
	case "cavity":
		c := Condition{Op: OfCavity, Cavity: one(e, n.cavities, "cavity", "cavity")}
		return c, r.is(e, "is", &c, IsOpen, IsClosed, IsDrained, IsWet) && c.Cavity != None
	case "mark":
		c := Condition{Op: OfMark, Mark: one(e, n.marks, "mark", "mark"), Is: IsStanding}
		return c, c.Mark != None
	case "step":
		c := Condition{Op: OfStep, Step: one(e, n.steps, "step", "step")}
		return c, c.Step != None
	case "any":
		return e.conditions("any", AnyOf), true
	}
	return e.conditions("all", AllOf), true
}

// is reads the state that a condition asks for.
func (r *reader) is(e *entry, key string, c *Condition, may ...Is) bool {
	n := e.get(key)
	words := make([]string, len(may))
	for i, m := range may {
		words[i] = m.String()
	}
	if n != nil && n.Kind == yaml.ScalarNode {
		if at := slices.Index(words, n.Value); at >= 0 {
			c.Is = may[at]
			return true
		}
		r.faultNear(n.Line, CodeValue, Nearest(n.Value, words), "%s: %s is %q; one of %s is wanted", e.what, key, n.Value, strings.Join(words, ", "))
		return false
	}
	r.fault(e.line(), CodeMissing, "%s: %s is missing: one of %s", e.what, key, strings.Join(words, ", "))
	return false
}

var actWords = []string{Turning.String(), Cranking.String(), SendingOut.String()}

// voidBy reads what voids a mark: acts by their word, and conditions.
func (e *entry) voidBy(m *Mark) {
	m.VoidBy = Condition{Op: AnyOf}
	n := e.get("void-by")
	if n == nil || isNull(n) {
		return
	}
	list := []*yaml.Node{n}
	if n.Kind == yaml.SequenceNode {
		list = n.Content
	}
	m.VoidBy.Line = n.Line
	for _, k := range list {
		if act := slices.Index(actWords, k.Value); k.Kind == yaml.ScalarNode && act >= 0 {
			m.VoidActs = append(m.VoidActs, Act(act))
			continue
		}
		if c, ok := e.r.condition(k, e.what+": void-by"); ok {
			m.VoidBy.Kids = append(m.VoidBy.Kids, c)
		}
	}
}

// barrier reads what a loan must be out for: acts, steps and audit points by
// their word, {removal: part} and {finished: joint}.
func (e *entry) barrier(key string) Barrier {
	var b Barrier
	n := e.get(key)
	if n == nil || isNull(n) {
		return b
	}
	list := []*yaml.Node{n}
	if n.Kind == yaml.SequenceNode {
		list = n.Content
	}
	for _, k := range list {
		if k.Kind == yaml.ScalarNode {
			e.barrierWord(&b, ref{k.Value, k.Line}, key)
			continue
		}
		x := e.r.open(k, e.what+": "+key)
		if x == nil {
			continue
		}
		if i := one(x, e.r.p.names.parts, "removal", "part"); i != None {
			b.Removal = append(b.Removal, i)
		}
		if i := one(x, e.r.p.names.joints, "finished", "joint"); i != None {
			b.Finished = append(b.Finished, i)
		}
		x.done()
	}
	return b
}

func (e *entry) barrierWord(b *Barrier, at ref, key string) {
	n := &e.r.p.names
	if act := slices.Index(actWords, at.text); act >= 0 {
		b.Acts = append(b.Acts, Act(act))
		return
	}
	if a, ok := n.audits[events.AuditPoint(at.text)]; ok {
		b.Audits = append(b.Audits, a)
		return
	}
	if _, ok := n.steps[events.Step(at.text)]; !ok {
		if near := Nearest(at.text, actWords); near != "" {
			e.r.faultNear(at.line, CodeID, near, "%s: %s: no act, step or audit point %q", e.what, key, at.text)
			return
		}
	}
	if s, ok := resolve(e.r, n.steps, at, e.what+": "+key, "act, step or audit point"); ok {
		b.Steps = append(b.Steps, s)
	}
}
