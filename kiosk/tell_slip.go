package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// returned tells what came back, what is still away, and what differs from what
// went.
func (t *Telling) returned(e events.Returned) string {
	text := "Slip " + string(e.Slip) + " is back"
	if v, ok := t.Job.SlipNow(e.Slip); ok && len(v.Out) > 0 {
		text = "Slip " + string(e.Slip) + ": " + lower(t.partList(e.Parts)) + " back, " + lower(t.partList(v.Out)) + " still away"
	}
	if len(t.Opened) == 0 {
		return text + ", all as it went"
	}
	var what []string
	for _, en := range t.Opened {
		word := " missing"
		if en.Sign > 0 {
			word = " more than went"
		}
		what = append(what, engine.Several(int(en.Qty), t.kind(t.st.Book().ItemName(en.Item).Kind))+word)
	}
	return text + ", but for " + joinAnd(what)
}

// partList names parts in a sentence.
func (t *Telling) partList(parts []events.Part) string {
	var names []string
	for _, p := range parts {
		names = append(names, lower(t.part(p)))
	}
	return joinAnd(names)
}

// backBefore says of a return that nothing was stored for that the slip came
// back before, and when.
func (t *turn) backBefore() string {
	if t.flight == nil || t.flight.said == nil || t.flight.row == nil || t.flight.row.Verb != scan.Back || t.job == nil {
		return ""
	}
	v, ok := t.job.SlipNow(events.Code(t.flight.said.At(0, scan.Slip).ID))
	if !ok || v.Returned == 0 {
		return ""
	}
	return "Slip " + string(v.Code) + " came back on " + clockText(v.Returned) + ": so already, nothing stored. What differs is counted in its place"
}

// slipStand is how a slip stands, in one line.
func (s *Screen) slipStand(v *engine.SlipView) string {
	text := "Slip " + string(v.Code)
	if v.Shop != "" {
		text += " to " + v.Shop
	}
	if v.Returned != 0 {
		return text + ": back since " + clockText(v.Returned)
	}
	return text + ": " + s.partsText(v.Out) + " away for " + plural(v.DaysAway, "day") + DueText(v)
}

// partsText names parts in the middle of a sentence.
func (s *Screen) partsText(parts []events.Part) string {
	var names []string
	for _, p := range parts {
		names = append(names, lower(namesOf(s.job.State()).part(p)))
	}
	return joinAnd(names)
}

// DueText is ", promised for 20 May, 3 days overdue".
func DueText(v *engine.SlipView) string {
	switch {
	case v.Promised == "" || v.Returned != 0:
		return ""
	case v.Overdue > 0:
		return ", promised for " + v.Promised.Short(events.DayOf(v.Sent)) + ", " + plural(v.Overdue, "day") + " overdue"
	}
	return ", promised for " + v.Promised.Short(events.DayOf(v.Sent))
}

// SlackText says how long a slip may be away before all waits for it.
func SlackText(v *engine.SlipView) string {
	if len(v.Blocks) == 0 {
		return "blocks no step"
	}
	text := "blocks " + plural(len(v.Blocks), "step")
	switch {
	case v.SlackWork.Steps == 0:
		text += ": everything waits for it"
	case v.SlackWork.Minutes > 0:
		text += "; meanwhile " + plural(v.SlackWork.Steps, "step") + " can be done, " + engine.HoursWords(v.SlackWork.Minutes) + " of work"
	default:
		text += "; meanwhile " + plural(v.SlackWork.Steps, "step") + " can be done"
	}
	if v.NeededBy == "" {
		return text
	}
	text += "; needed on " + v.NeededBy.Short(events.DayOf(v.Sent))
	switch {
	case v.SlackDays < 0:
		return text + ", " + plural(-v.SlackDays, "day") + " too late"
	case v.SlackDays == 0:
		return text + ", not a day to spare"
	}
	return text + ", " + plural(v.SlackDays, "day") + " to spare"
}

// LineText is what became of one line of a slip.
func LineText(l *engine.SlipLine) string {
	text := engine.Several(l.Went, lower(l.Name))
	switch {
	case l.Missing > 0 && l.Away == 0 && l.Came == 0:
		return text + ": NONE CAME"
	case l.Missing > 0:
		return text + ": " + itoa(l.Came) + " came, " + itoa(l.Missing) + " MISSING"
	case l.Missing < 0:
		return text + ": " + itoa(-l.Missing) + " MORE came"
	case l.Away > 0 && l.Came > 0:
		return text + ": " + itoa(l.Came) + " came, " + itoa(l.Away) + " still away"
	case l.Away > 0:
		return text + ": away"
	}
	return text + ": came"
}

// slips lists what is away, or one slip line by line.
func (t *turn) slips(said *scan.Said) {
	if n := said.At(0, scan.Slip); n.ID != "" {
		v, ok := t.job.SlipNow(events.Code(n.ID))
		if !ok {
			t.no("No slip "+n.ID+" went out", "Scan the slip again")
			return
		}
		last := capital(SlackText(&v))
		if v.Returned != 0 {
			last = ""
		}
		if len(v.Unlooked) > 0 {
			last = "Not looked over: " + t.partsText(v.Unlooked)
		}
		t.show(Plain, t.slipStand(&v), v.Scope, v.Limits, last)
		for i := range v.Lines {
			t.list = append(t.list, LineText(&v.Lines[i]))
		}
		t.view.Ask = "Next: scan a noun"
		t.beep(Heard)
		return
	}
	away, late := 0, 0
	t.list = nil // what was listed before is no part of this
	for _, v := range t.job.Slips() {
		if v.Returned == 0 {
			away++
		}
		if v.Overdue > 0 {
			late++
		}
		text := t.slipStand(&v)
		if v.Returned == 0 {
			text += "; " + SlackText(&v)
		}
		if len(v.Unlooked) > 0 {
			text += "; not looked over: " + t.partsText(v.Unlooked)
		}
		t.list = append(t.list, text)
	}
	lines := t.list
	t.show(Plain, plural(away, "slip")+" away, "+itoa(late)+" overdue")
	t.list = lines
	t.view.Ask = "MORE, or scan a slip and SLIPS"
	t.beep(Heard)
}
