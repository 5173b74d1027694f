package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// OfCase is one broken fastener: how it stands, which method comes next and
// when to stop, the whole ladder with what was tried, and the cautions that
// must be confirmed before flame or weld.
func OfCase(j *engine.Job, code events.Code) Panel {
	st := j.State()
	n := of(j)
	p := Panel{Name: "case", Title: "Case " + string(code)}
	c, ok := st.Case(code)
	if !ok {
		p.Stand = "nothing is known of it"
		return p
	}
	p.Title = "Case " + n.caseNo(c) + ": " + n.joint(c.Joint) + ", hole " + string(c.Hole)
	p.Stand = n.caseStand(c)
	if !c.Open() {
		p.with(Group{Rows: []Row{{Mark: Done, Text: "Out since " + since(st, c.Closed) + "; the hole is " + string(c.Hole1)}}})
		return p
	}
	advice, _ := j.Ladder(code, engine.AccessUnknown)
	p.with(nextMethod(advice))
	switch {
	case advice.Next.Hot: // the card is read before anything else
		p.with(cautions(c))
		p.with(ladder(c, advice))
	case hotAhead(advice):
		p.with(ladder(c, advice))
		p.with(cautions(c))
	default:
		p.with(ladder(c, advice))
	}
	return p
}

// caseNo is a case's number, as it is typed.
func (n names) caseNo(c *engine.Case) string {
	for i, k := range n.st.Cases() {
		if k == c {
			return itoa(i + 1)
		}
	}
	return string(c.Code)
}

// caseStand says what broke, where the stub ends, and what was tried.
func (n names) caseStand(c *engine.Case) string {
	text := n.size(c.Kind) + ", stub " + string(c.Stub)
	switch c.OtherEnd {
	case "":
		text += ", the other end was not asked for"
	case "not-found":
		text += ", THE OTHER END IS MISSING"
	}
	methods, minutes := c.Failed()
	if len(c.Tries) > 0 {
		text += "; " + plural(methods, "method") + " failed, " + itoa(minutes) + " minutes"
	}
	return text
}

func nextMethod(a engine.Advice) Group {
	g := Group{Head: "Next"}
	mark := Now
	if a.Stop {
		mark = Stop
	} else if a.Next.Hot {
		mark = Hot
	}
	g.add(mark, capital(a.Next.Name), a.Next.When)
	if a.Sleeve {
		g.add(Look, "Weld through a sleeve", "the bore stays clean")
	}
	if a.Next.Stop != "" {
		g.add(Stop, "when "+a.Next.Stop, "")
	}
	if a.Next.Care != "" {
		g.add(Look, capital(a.Next.Care), "")
	}
	for _, w := range a.Why {
		g.add(Plain, "because "+w, "")
	}
	return g
}

func hotAhead(a engine.Advice) bool {
	for _, m := range a.Then {
		if m.Hot {
			return true
		}
	}
	return false
}

// cautions lists the card before flame or weld, confirmed or not.
func cautions(c *engine.Case) Group {
	g := Group{Head: "Before flame or weld: HOT WORK confirms each line"}
	for _, k := range engine.Cautions() {
		mark := Hot
		if has(c.Cautions, k.ID) {
			mark = Done
		}
		g.add(mark, k.Text, k.Why)
	}
	return g
}

// ladder lists every method, the gentlest first, with what came of it.
func ladder(c *engine.Case, a engine.Advice) Group {
	g := Group{Head: "The ladder"}
	open := map[string]bool{a.Next.ID: true}
	for _, m := range a.Then {
		open[m.ID] = true
	}
	for _, m := range engine.Methods() {
		mark, more := Plain, ""
		switch tries, moved := triesOf(c, m.ID); {
		case moved:
			mark, more = Done, "it moved"
		case m.ID == a.Next.ID && a.Stop:
			mark = Stop
		case m.ID == a.Next.ID:
			mark, more = Now, triedText(tries)
		case tries > 0:
			mark, more = Failed, triedText(tries)
		case !open[m.ID] && !a.Stop:
			more = "not here"
		}
		name := capital(m.Name)
		if m.Hot {
			name += " (HOT)"
		}
		g.add(mark, name, strings.TrimSpace(more))
	}
	return g
}

func triesOf(c *engine.Case, method string) (n int, moved bool) {
	for _, t := range c.Tries {
		if t.Method == method {
			n++
			moved = moved || t.Moved
		}
	}
	return n, moved
}

func triedText(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "tried once"
	}
	return "tried " + itoa(n) + " times"
}
