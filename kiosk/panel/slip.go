package panel

import (
	"strconv"

	"countback/events"
	"countback/kiosk"
	"countback/projections/engine"
)

// OfSlips is every slip: what is away and where, since when, what it blocks and
// how long that may take; by shop.
func OfSlips(j *engine.Job) Panel {
	p := Panel{Name: "slips", Title: "Slips"}
	n := of(j)
	views := j.Slips()
	var shops []string
	away := 0
	for i := range views {
		if !has(shops, views[i].Shop) {
			shops = append(shops, views[i].Shop)
		}
		if views[i].Returned == 0 {
			away++
		}
	}
	p.Stand = itoa(len(views)) + " went out, " + itoa(away) + " away"
	for _, shop := range shops {
		g := Group{Head: "To " + shop}
		if shop == "" {
			g.Head = "To a shop that nobody named"
		}
		for i := range views {
			if v := &views[i]; v.Shop == shop {
				g.add(slipMark(v), "Slip "+string(v.Code)+": "+n.partList(v.Parts)+n.slipSince(v), slipMore(v))
			}
		}
		p.with(g)
	}
	return p
}

// OfSlip is one slip: the work asked, line by line what went, came and lacks,
// what is to be looked over, what it blocks, and readings from before and after.
func OfSlip(j *engine.Job, code events.Code) Panel {
	p := Panel{Name: "slip", Title: "Slip " + string(code)}
	v, ok := j.SlipNow(code)
	if !ok {
		p.Stand = "nothing went out with it"
		return p
	}
	n := of(j)
	if v.Shop != "" {
		p.Title += " to " + v.Shop
	}
	p.Stand = n.partList(v.Parts) + n.slipSince(&v)
	g := Group{Head: "Work"}
	if v.Scope != "" {
		g.add(Plain, v.Scope, "")
	}
	if v.Limits != "" {
		g.add(Look, v.Limits, "")
	}
	p.with(g)
	g = Group{Head: "Looked over?"}
	for _, id := range v.Unlooked {
		g.add(Look, n.part(id)+": back, and nobody has looked it over", "faces, bores, threads; then LOOKED")
	}
	p.with(g)
	g = Group{Head: "What went"}
	for i := range v.Lines {
		g.add(slipLineMark(&v.Lines[i]), kiosk.LineText(&v.Lines[i]), "")
	}
	p.with(g)
	if v.Returned == 0 {
		g = Group{Head: capital(kiosk.SlackText(&v))}
		for _, b := range v.Blocks {
			if b.Direct {
				g.add(Waits, b.Name, "")
			}
		}
		p.with(g)
	}
	g = Group{Head: "Measured, before and after"}
	for _, r := range v.Readings {
		g.add(Plain, r.Measurement+at(r.At)+": "+reading(r.Before)+", "+reading(r.After), "")
	}
	p.with(g)
	return p
}

func at(h events.Hole) string {
	if h == "" {
		return ""
	}
	return " at " + string(h)
}

func reading(r *engine.Reading) string {
	if r == nil {
		return "not measured"
	}
	return strconv.FormatFloat(r.Value, 'f', -1, 64) + " " + r.Unit
}

func slipMark(v *engine.SlipView) Mark {
	switch {
	case v.Overdue > 0 || len(v.Unlooked) > 0:
		return Look
	case v.Returned != 0:
		return Done
	}
	return Waits
}

func slipMore(v *engine.SlipView) string {
	if v.Returned == 0 {
		return kiosk.SlackText(v)
	}
	if len(v.Unlooked) > 0 {
		return "look it over: LOOKED"
	}
	return ""
}

func slipLineMark(l *engine.SlipLine) Mark {
	switch {
	case l.Missing != 0:
		return Look
	case l.Away > 0:
		return Waits
	}
	return Done
}

func (n names) slipSince(v *engine.SlipView) string {
	if v.Returned != 0 {
		return ", back since " + day(v.Returned)
	}
	text := ", away for " + plural(v.DaysAway, "day")
	if v.Partial {
		text = ", " + n.partList(v.Out) + " still away for " + plural(v.DaysAway, "day")
	}
	return text + kiosk.DueText(v)
}

func (n names) partList(parts []events.Part) string {
	text := ""
	for i, id := range parts {
		if i > 0 {
			text += ", "
		}
		text += n.part(id)
	}
	return text
}
