package plan

import (
	"strconv"

	"countback/events"
)

func (r *reader) readCavity(e *entry) Cavity {
	id := e.text("id")
	c := Cavity{
		ID: events.Cavity(id), Name: e.text("name"), Line: e.line(),
		Of:      many(e, r.p.names.parts, "of", "part"),
		LeadsTo: many(e, r.p.names.cavities, "leads-to", "cavity"),
		Carried: e.text("carried"),
	}
	if c.Name == "" {
		c.Name = spoken(id)
	}
	if n := e.get("fluid"); n != nil {
		if f := r.open(n, e.what+": fluid"); f != nil {
			c.Fluid, c.Amount = f.text("of"), f.text("amount")
			if c.Fluid == "" {
				r.fault(f.line(), CodeMissing, "%s: of is missing: oil, coolant", f.what)
			}
			f.done()
		}
	}
	open, closed := e.conditions("open-when", AnyOf), e.conditions("closed-by", NotAll)
	switch {
	case len(open.Kids) > 0 && len(closed.Kids) == 0:
		c.OpenWhen = open
	case len(closed.Kids) > 0 && len(open.Kids) == 0:
		c.OpenWhen = closed
	default:
		r.fault(e.line(), CodeMissing, "%s: one of open-when and closed-by is wanted", e.what)
		c.OpenWhen = Condition{Op: AnyOf}
	}
	e.done()
	return c
}

func (r *reader) readMark(e *entry) Mark {
	id := e.text("id")
	m := Mark{
		ID: events.Mark(id), Name: e.text("name"), Line: e.line(),
		AtArrival: e.choice("at-arrival", "void", "stands") == 1,
		Needs:     e.conditions("needs", AllOf),
		NeedsOut:  many(e, r.p.names.loans, "needs-out", "loan"),
	}
	if m.Name == "" {
		m.Name = spoken(id)
	}
	e.voidBy(&m)
	e.done()
	return m
}

const maxPieces = 10_000

func (r *reader) readLoan(e *entry) Loan {
	id := e.text("id")
	l := Loan{
		ID: events.Loan(id), Name: e.text("name"), Line: e.line(),
		Condition: e.text("condition"), Harmless: e.flag("harmless"),
		Owner: Owner(e.choice("owner", "shop", "job", "other-shop")),
		Fills: e.seatsOf("fills", everySeat),
		Pins:  many(e, r.p.names.parts, "pins", "part"),
		Note:  e.text("note"), Count: 1, In: None,
	}
	if l.Name == "" {
		l.Name = spoken(id)
	}
	if n := child(e.node, "count"); n != nil && n.Value == "as-counted" {
		e.get("count")
		l.Count = 0
	} else {
		l.Count = e.whole("count", 1, maxPieces, max(1, len(l.Fills)))
	}
	if len(l.Fills) > 0 && l.Count != len(l.Fills) {
		r.fault(e.line(), CodeCount, "%s: count is %s, it fills %d holes", e.what, countWord(l.Count), len(l.Fills))
	}
	feature := e.text("feature")
	if n := e.get("piece"); n != nil {
		_, l.Kind = e.kind(n, "piece", feature)
	}
	switch n := child(e.node, "in"); {
	case n != nil && n.Value == "any-cavity":
		e.get("in")
		l.AnyCavity = true
	default:
		l.In = one(e, r.p.names.cavities, "in", "cavity")
	}
	if n := e.get("must-be-out-for"); n != nil {
		if b := r.open(n, e.what+": must-be-out-for"); b != nil {
			l.Stops, l.Reminds = b.barrier("stops"), b.barrier("reminds")
			b.done()
		}
	}
	e.done()
	return l
}

func countWord(n int) string {
	if n == 0 {
		return "as-counted"
	}
	return strconv.Itoa(n)
}
