package kiosk

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// buyList lists what has to come from outside, the most pressing supplier
// first.
func (t *turn) buyList() {
	list := t.job.Buy()
	lines, buy, onOrder := 0, 0, 0
	var rows []string
	for _, g := range list.Groups {
		rows = append(rows, BuyHead(g, list.Today))
		for _, l := range g.Lines {
			lines++
			buy += l.Buy
			onOrder += l.Ordered
			rows = append(rows, "  "+BuyText(l, list.Today))
		}
	}
	if lines == 0 {
		t.show(Good, "Nothing has to come from outside")
	} else {
		t.show(Short, plural(buy, "piece")+" to buy, "+itoa(onOrder)+" on order, "+plural(lines, "kind"))
	}
	t.list = rows
	t.view.Ask = "supplier and a name, then ORDERED; MORE"
	t.beep(Heard)
}

// BuyHead is who a group of a buy list is bought of, and by when, as a screen
// shows it.
func BuyHead(g engine.BuyGroup, today events.Day) string {
	text := "Supplier not said"
	if g.Supplier != "" {
		text = g.Supplier
	}
	switch {
	case g.Overdue:
		text += ": order it now, it was to be ordered by " + g.OrderBy.Short(today)
	case g.OrderBy != "":
		text += ": order together by " + g.OrderBy.Short(today)
	}
	return text
}

// BuyText is one line of a buy list: how many, of what, why.
func BuyText(l engine.BuyLine, today events.Day) string {
	text := engine.Several(l.Buy, l.Name)
	if l.Buy == 0 && l.Ordered > 0 {
		text = "on order, " + engine.Several(l.Ordered, l.Name)
	} else if l.Need == 0 {
		text = "not yet, " + l.Name
	}
	var more []string
	for _, c := range l.Causes {
		more = append(more, itoa(c.Qty)+" "+c.Why)
	}
	more = append(more, l.Maybe...)
	if l.Ordered > 0 {
		more = append(more, itoa(l.Ordered)+" on order, here "+l.Coming.Words(today))
	}
	if l.Late {
		more = append(more, "later than it is needed")
	}
	if l.NeededBy != "" {
		more = append(more, "needed by "+l.NeededBy.Short(today))
	}
	if l.Overdue {
		more = append(more, "to be ordered by "+l.OrderBy.Short(today)+": overdue")
	} else if l.OrderBy != "" {
		more = append(more, "order by "+l.OrderBy.Short(today))
	}
	return text + ": " + strings.Join(more, "; ")
}

// orders lists what was ordered, or one order with every promise, or what a kit
// held.
func (t *turn) orders(said *scan.Said) {
	st := t.job.State()
	today := events.DayOf(t.at)
	if n := said.At(0, scan.Kit); n.ID != "" {
		t.kitCounted(n.ID)
		return
	}
	var rows []string
	due, n := 0, 0
	for _, o := range st.Orders() {
		if id := said.At(0, scan.Order).ID; id != "" && id != o.ID {
			continue
		}
		n++
		due += o.Due()
		rows = append(rows, OrderHead(o))
		for i := range o.Lines {
			rows = append(rows, "  "+namesOf(st).ordered(&o.Lines[i], today))
		}
		if said.Has(scan.Order) {
			for _, p := range st.Promises("order " + o.ID) {
				if r := st.Fact(p.Fact); r != nil {
					rows = append(rows, "  "+clockText(r.At)+" "+whoText(r)+": "+st.Tells(p.Promised))
				}
			}
		}
	}
	switch {
	case n == 0:
		t.show(Plain, "Nothing was ordered for this job")
	case due == 0:
		t.show(Good, plural(n, "order")+", all of it here or closed")
	default:
		t.show(Plain, plural(n, "order")+", "+plural(due, "piece")+" to come")
	}
	t.list = rows
	t.view.Ask = "order and its name, then RECEIVED or PROMISED; MORE"
	t.beep(Heard)
}

// OrderHead is an order, of whom it is and how it stands.
func OrderHead(o *engine.Order) string {
	text := "order " + o.ID
	if o.Supplier != "" {
		text += " from " + o.Supplier
	}
	text += ": " + o.State()
	if o.Why != "" {
		text += ", " + o.Why
	}
	return text
}

// ordered is one line of an order against what came of it.
func (n names) ordered(l *engine.OrderLine, today events.Day) string {
	return OrderText(n.bought(l.Kind), l, today)
}

// OrderText is one line of an order, of what has that name: ordered, received,
// sent back, and when the rest was promised.
func OrderText(name string, l *engine.OrderLine, today events.Day) string {
	text := itoa(l.Received) + " of " + engine.Several(l.Ordered, name)
	if l.Ordered == 0 {
		text = engine.Several(l.Received, name) + ", never ordered"
	} else if over := l.Received - l.Returned - l.Ordered; over > 0 {
		text += ", " + itoa(over) + " more than ordered"
	}
	if l.Returned > 0 {
		text += ", " + itoa(l.Returned) + " sent back"
	}
	if l.Short > 0 {
		text += ", " + itoa(l.Short) + " delivered short"
	}
	if l.Due() == 0 {
		return text
	}
	switch {
	case !l.Promised.Valid():
		return text + "; promised for no day"
	case l.Promised < today:
		return text + "; promised for " + l.Promised.Short(today) + " and not here"
	}
	return text + "; promised for " + l.Promised.Short(today)
}

// bought is a kind that may be a kit.
func (n names) bought(k events.Kind) string {
	if strings.HasPrefix(string(k), "kit ") {
		return string(k)
	}
	return n.kind(k)
}

// kitCounted lists what was counted of a kit against its list.
func (t *turn) kitCounted(id string) {
	st := t.job.State()
	nm := namesOf(st)
	short, extra, opened := 0, 0, 0
	var rows []string
	for _, k := range st.Kits() {
		if k.Kit != id {
			continue
		}
		opened++
		for i := range k.Lines {
			l := &k.Lines[i]
			short += l.Short()
			extra += l.Extra()
			if text := nm.kitLine(l); text != "" {
				rows = append(rows, text)
			}
		}
	}
	if opened == 0 {
		t.show(Plain, "Kit "+id+": nobody opened it")
	} else {
		t.show(Plain, "Kit "+id+": "+itoa(short)+" short, "+itoa(extra)+" will be left over")
	}
	t.list = rows
	t.view.Ask = "MORE"
	t.beep(Heard)
}

// kitLine says what is odd about one kind of a kit; empty: it is as listed.
func (n names) kitLine(l *engine.KitLine) string {
	name := n.kind(l.Kind)
	switch {
	case !l.Said:
		return name + ": listed " + itoa(l.Listed) + ", never counted"
	case l.Listed == 0:
		return engine.Several(l.Counted, name) + ", not on its list"
	case l.More() > 0:
		return engine.Several(l.Counted, name) + ", listed " + itoa(l.Listed) + ": " + itoa(l.More()) + " more"
	case l.Short() > 0:
		return engine.Several(l.Counted, name) + ", listed " + itoa(l.Listed) + ": " + itoa(l.Short()) + " short"
	case l.Counted < l.Listed:
		return engine.Several(l.Counted, name) + ", listed " + itoa(l.Listed) + ": enough for this engine"
	}
	return ""
}

// kitText says what a kit lacked or had too much by the plan, and whether it
// was opened before.
func (t *Telling) kitText(e events.KitOpened) string {
	k := t.kitOf(e)
	if k == nil {
		return ""
	}
	var odd []string
	left, silent := 0, 0
	for i := range k.Lines {
		l := &k.Lines[i]
		if !l.Said && l.Listed > 0 {
			silent++
		}
		if text := t.kitLine(l); text != "" && l.Said {
			odd = append(odd, text)
		}
		left += l.Extra() - l.More()
	}
	if silent > 0 {
		odd = append(odd, plural(silent, "kind")+" of its list not counted")
	}
	text := "; " + joinComma(odd)
	if len(odd) == 0 {
		text = ", as listed"
	}
	if left > 0 {
		text += ". " + itoa(left) + " will be left over, as expected"
	}
	return text
}

// kitOf is the count of a kit that a fact was.
func (t *Telling) kitOf(e events.KitOpened) *engine.KitCount {
	kits := t.st.Kits()
	for i := len(kits) - 1; i >= 0; i-- {
		if t.isThis(kits[i].Since) {
			return kits[i]
		}
	}
	return nil
}

// isThis says that a place in the order is that of the fact that is told.
func (t *Telling) isThis(f ledger.Fact) bool {
	r := t.st.Fact(f)
	return r != nil && r.ID() == t.Record.ID()
}

// ahead says what a fact about the time to come is to be looked at for.
func (t *Telling) ahead() (lines []string) {
	switch e := t.Record.Event.(type) {
	case events.KitOpened:
		k := t.kitOf(e)
		if k == nil {
			return nil
		}
		if o := t.st.Order(e.Order); o != nil {
			lines = append(lines, t.orderStands(o))
		}
		if k.Again {
			lines = append(lines, "Look: kit "+e.Kit+" was opened before: UNDO if this is the same one")
		}
		more, short := 0, 0
		for i := range k.Lines {
			more += k.Lines[i].More()
			short += k.Lines[i].Short()
		}
		if more > 0 {
			lines = append(lines, "Look: "+itoa(more)+" more than it lists: count again; if they are there, all is stored")
		}
		if short > 0 {
			lines = append(lines, "Look: "+itoa(short)+" short: on the buy list")
		}
	case events.HardwareReceived:
		if o := t.st.Order(e.Order); o != nil {
			lines = append(lines, t.orderStands(o))
		}
	case events.StepPlanned:
		if late := t.planLate(e); late != "" {
			lines = append(lines, late)
		}
	case events.SealantApplied:
		if b := t.st.Beads(); len(b) > 0 && b[len(b)-1].Until() > 0 && t.isThis(b[len(b)-1].Since) {
			lines = append(lines, "Close it by "+clockText(b[len(b)-1].Until()))
		}
	}
	return lines
}

// orderStands is "Order o12-b2: 3 to come" and what came otherwise.
func (t *Telling) orderStands(o *engine.Order) string {
	text := "Order " + o.ID + ": "
	if o.Due() == 0 {
		text += "all of it is here"
		for i := range o.Lines {
			if o.Lines[i].Short > 0 {
				text = "Order " + o.ID + ": nothing more comes of it"
			}
		}
	} else {
		text += plural(o.Due(), "piece") + " to come"
	}
	for i := range o.Lines {
		l := &o.Lines[i]
		if over := l.Received - l.Returned - l.Ordered; over > 0 {
			text += "; " + itoa(over) + " " + t.bought(l.Kind) + " more than ordered"
		}
	}
	return text
}

// planLate says that a step is planned for before it can start.
func (t *Telling) planLate(e events.StepPlanned) string {
	for _, n := range t.Job.WhatNow() {
		if n.Step != e.Step || n.Earliest.Now() || n.State == engine.Done || !e.Day.Valid() {
			continue
		}
		if !n.Earliest.Known {
			return "Look: nobody promised all that it waits for"
		}
		if events.DayOf(n.Earliest.At) > e.Day {
			return "Look: it can start on " + n.Earliest.Words(e.Day) + " at the earliest"
		}
	}
	return ""
}

// whenText is when a step can start at the earliest, where that is a day that
// somebody promised, or a day that nobody did though others were.
func (t *turn) whenText(w engine.When) string {
	switch {
	case w.Now():
		return ""
	case !w.Known && len(t.job.State().Orders())+len(t.job.State().Promises("")) == 0:
		return "" // nobody keeps dates in this job
	case !w.Known:
		return ". Nobody promised when"
	}
	return ". Not before " + w.Words(events.DayOf(t.at))
}

// stepWhen is one line about when a step can start, and is meant to; none where
// nothing is known of either.
func (t *turn) stepWhen(step events.Step) []string {
	_, all := t.job.When(step)
	text := strings.TrimPrefix(t.whenText(all), ". ")
	if day := t.job.PlannedStart(step); day != "" {
		if text != "" {
			text += ". "
		}
		text += "Planned for " + day.Short(events.DayOf(t.at))
	}
	if text == "" {
		return nil
	}
	return []string{text}
}
