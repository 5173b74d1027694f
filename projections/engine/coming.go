package engine

import (
	"countback/events"
	"countback/projections/ledger/share"
	"countback/projections/plan"
)

// coming is what is on order, and which steps will have it: the first in the
// order of the work get what comes first.
type coming struct {
	lines []comingLine
	share []share.Share // by want: what it gets; Missing is not on order either
}

// comingLine is a number of pieces of one kind that are still to come.
type comingLine struct {
	order *Order // nil: in a kit that nobody opened yet, which is here
	kind  events.Kind
	kit   string // it comes in this kit
	n     int
	day   events.Day // promised for; none: nobody said
}

// when a line is here.
func (l *comingLine) when() When {
	if l.order == nil {
		return now
	}
	return onDay(l.day)
}

// expected lists what is still to come: orders that are not closed, kits among
// them as what they hold, and unopened kits.
func (s *State) expected() []comingLine {
	var list []comingLine
	add := func(o *Order, k events.Kind, n int, day events.Day) {
		kit := s.kitOf(k)
		if kit == nil {
			list = append(list, comingLine{order: o, kind: k, n: n, day: day})
			return
		}
		for i := range kit.Lines {
			if l := &kit.Lines[i]; l.Count > 0 {
				list = append(list, comingLine{o, s.kitLineKind(l), kit.ID, min(n*l.Count, events.MaxQty), day})
			}
		}
	}
	for _, o := range s.ahead.orders {
		for i := range o.Lines {
			if n := o.due(i); n > 0 {
				day := o.Lines[i].Promised
				if !day.Valid() {
					day = ""
				}
				add(o, o.Lines[i].Kind, n, day)
			}
		}
	}
	for i := range s.lay.plan.Kits {
		k := kitKind(s.lay.plan.Kits[i].ID)
		if n := s.unopened(k); n > 0 {
			add(nil, k, n, "")
		}
	}
	return list
}

// coming works out once who gets what is on order.
func (v *view) coming() *coming {
	if v.onOrder == nil {
		v.onOrder = v.allotComing()
	}
	return v.onOrder
}

// allotComing shares what is to come among what the steps lack. No piece is
// given twice, and none that is not to come. Rule R40.
func (v *view) allotComing() *coming {
	c := &coming{lines: v.s.expected()}
	h := v.hardware()
	c.share = make([]share.Share, len(h.wants))
	var needs []share.Need
	var of []int
	for w := range h.wants {
		c.share[w].Missing = h.wants[w].n - h.wants[w].got
		if c.share[w].Missing > 0 && len(c.lines) > 0 {
			if accept := c.serve(h, w); len(accept) > 0 {
				needs = append(needs, share.Need{Step: h.place[h.wants[w].step], Qty: c.share[w].Missing, Accept: accept})
				of = append(of, w)
			}
		}
	}
	if len(needs) == 0 {
		return c
	}
	supplies := make([]share.Supply, len(c.lines))
	for i := range c.lines {
		supplies[i] = share.Supply{Class: share.Class(i), Qty: int32(c.lines[i].n), Usable: true}
	}
	for i, got := range share.Among(needs, supplies).Shares {
		c.share[of[i]] = got
	}
	return c
}

// serve lists the lines that will do for a want, the soonest first: what is
// here in a kit, then by the promised day, then what nobody promised; its own
// kind before one that may stand in for it.
func (c *coming) serve(h *hardware, w int) []share.Class {
	want := h.s.book.KindName(h.wants[w].kind)
	var list []share.Class
	for i := range c.lines {
		if !alike(want, c.lines[i].kind) {
			continue
		}
		at := len(list)
		list = append(list, share.Class(i))
		for ; at > 0 && c.sooner(i, int(list[at-1]), want); at-- {
			list[at], list[at-1] = list[at-1], list[at]
		}
	}
	return list
}

func (c *coming) sooner(a, b int, want events.Kind) bool {
	x, y := &c.lines[a], &c.lines[b]
	if wx, wy := x.when(), y.when(); wx != wy {
		return wx.Known && (!wy.Known || wx.At < wy.At)
	}
	return x.kind == want && y.kind != want
}

// comes is when all that a want lacks is here, and what it is on, in words:
// "6 of order o12-b2, promised for 14 December".
func (v *view) comes(w int) (When, string) {
	c := v.coming()
	got := &c.share[w]
	when, text := now, ""
	today := v.s.today()
	for i, t := range got.From {
		l := &c.lines[t.Supply]
		when = when.later(l.when())
		if i > 0 {
			text += ", "
		}
		text += itoa(int(t.Qty)) + " " + l.words(today)
	}
	if got.Missing > 0 {
		when = v.promisedPart(w)
	}
	return when, text
}

// promisedPart is for when somebody promised a part that is not on order: its
// owner brings it.
func (v *view) promisedPart(w int) When {
	p := v.hardware().wants[w].part
	if p == plan.None {
		return When{}
	}
	return onDay(v.s.promiseOn(v.s.lay.parts[p].noun))
}

func (l *comingLine) words(today events.Day) string {
	switch {
	case l.order == nil:
		return "in kit " + l.kit + ", which nobody opened yet"
	case l.day == "":
		return "on order " + l.order.ID + ofSupplier(l.order.Supplier) + ", promised for no day"
	case l.day < today:
		return "on order " + l.order.ID + ofSupplier(l.order.Supplier) + ", promised for " + l.day.Short(today) + " and not here"
	}
	return "on order " + l.order.ID + ofSupplier(l.order.Supplier) + ", promised for " + l.day.Short(today)
}

func ofSupplier(supplier string) string {
	if supplier == "" {
		return ""
	}
	return " from " + supplier
}

// today is the day from which dates are seen: that of the clock, or of the
// job's last fact.
func (s *State) today() events.Day { return events.DayOf(s.job.moment()) }

// Today is the day from which dates are seen: that of the time which the job
// was told, or of its last fact.
func (j *Job) Today() events.Day { return events.DayOf(j.moment()) }
