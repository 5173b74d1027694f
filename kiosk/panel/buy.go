package panel

import (
	"countback/events"
	"countback/kiosk"
	"countback/projections/engine"
)

// OfBuy is the buy list: by supplier what is to be ordered together and by
// when, each line with why it is there and which step waits for it.
func OfBuy(j *engine.Job) Panel {
	n := of(j)
	list := j.Buy()
	p := Panel{Name: "buy", Title: "Buy list"}
	buy, ordered := 0, 0
	for _, g := range list.Groups {
		rows := Group{Head: kiosk.BuyHead(g, list.Today)}
		for _, l := range g.Lines {
			buy += l.Buy
			ordered += l.Ordered
			mark := Now
			switch {
			case l.Overdue || l.Late:
				mark = Look
			case l.Buy == 0 && l.Need > 0:
				mark = Waits
			case l.Need == 0:
				mark = Carried
			}
			more := ""
			for i, s := range l.Steps {
				if i > 0 {
					more += ", "
				}
				more += n.step(s)
			}
			if more != "" {
				more = "for " + more
			}
			rows.add(mark, kiosk.BuyText(l, list.Today), more)
		}
		p.with(rows)
	}
	p.Stand = plural(buy, "piece") + " to buy, " + itoa(ordered) + " on order"
	if len(p.Groups) == 0 {
		p.Stand = "nothing has to come from outside"
	}
	return p
}

// OfOrders is what was ordered and what came of it, seen from a day; one order
// comes with every promise that was given for it.
func OfOrders(j *engine.Job, one string, today events.Day) Panel {
	n := of(j)
	p := Panel{Name: "orders", Title: "Orders"}
	due := 0
	for _, o := range n.st.Orders() {
		if one != "" && o.ID != one {
			continue
		}
		g := Group{Head: capital(kiosk.OrderHead(o))}
		due += o.Due()
		for i := range o.Lines {
			l := &o.Lines[i]
			mark := Done
			switch {
			case o.Closed != 0:
				mark = Plain
			case l.Due() > 0 && (!l.Promised.Valid() || l.Promised < today):
				mark = Look
			case l.Due() > 0:
				mark = Waits
			case l.Received-l.Returned > l.Ordered:
				mark = Look
			}
			g.add(mark, kiosk.OrderText(n.bought(l.Kind), l, today), "")
		}
		if one != "" {
			for _, pr := range n.st.Promises("order " + o.ID) {
				if r := n.st.Fact(pr.Fact); r != nil {
					g.add(Plain, day(r.At)+" "+who(r)+": "+n.st.Tells(pr.Promised), "")
				}
			}
		}
		p.with(g)
	}
	p.Stand = plural(due, "piece") + " to come"
	if len(p.Groups) == 0 {
		p.Stand = "nothing was ordered for this job"
	}
	return p
}

// bought is a kind that may be a kit.
func (n names) bought(k events.Kind) string {
	if len(k) > 4 && k[:4] == "kit " {
		return string(k)
	}
	return n.size(k)
}
