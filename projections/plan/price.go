package plan

import (
	"countback/events"
	"countback/projections/money"
)

// Price is what one piece of a part or of a fastener costs. A currency that is
// not said is the shop's.
type Price struct {
	Part PartIndex   // None: Kind says what
	Kind events.Kind // empty: Part says what
	Each money.Money
	Line int
}

// PartPrice is what one piece of a part costs; false where the plan does not
// say.
func (p *Plan) PartPrice(i PartIndex) (money.Money, bool) {
	for k := range p.Prices {
		if p.Prices[k].Part == i && i != None {
			return p.Prices[k].Each, true
		}
	}
	return money.Money{}, false
}

// KindPrice is what one piece of a kind of fastener costs; false where the plan
// does not say.
func (p *Plan) KindPrice(kind events.Kind) (money.Money, bool) {
	for k := range p.Prices {
		if p.Prices[k].Part == None && p.Prices[k].Kind == kind {
			return p.Prices[k].Each, true
		}
	}
	return money.Money{}, false
}

// readPrices reads what pieces cost. What has two prices is a fault: nobody
// could say which counts.
func (r *reader) readPrices(list []*entry) {
	lines := map[Price]int{}
	for _, e := range list {
		x := Price{Part: one(e, r.p.names.parts, "part", "part"), Line: e.line()}
		feature := e.text("feature")
		if n := e.get("piece"); n != nil {
			_, x.Kind = e.kind(n, "piece", feature)
		}
		if (x.Part == None) == (x.Kind == "") {
			r.fault(e.line(), CodeMissing, "price: part or piece: what it is the price of")
			e.text("each")
			e.done()
			continue
		}
		text := e.text("each")
		each, ok := money.Parse(text)
		if !ok {
			r.fault(e.line(), CodeValue, "price: each is %q; an amount of at most two decimals is wanted, with its currency: 12.50 EUR", text)
		}
		x.Each = each
		what := Price{Part: x.Part, Kind: x.Kind}
		if first, ok := lines[what]; ok {
			r.fault(e.line(), CodeDuplicate, "price: of this there is one already in line %d", first)
		}
		lines[what] = e.line()
		r.p.Prices = append(r.p.Prices, x)
		e.done()
	}
}
