package kiosk

import "countback/events"

// lotNotes questions a lot that is used after its day.
func lotNotes(told *Telling) []string {
	e, ok := told.Record.Event.(events.SealantApplied)
	if !ok || e.Lot == "" {
		return nil
	}
	if text := told.st.LotLate(e.Lot, events.DayOf(told.Record.At)); text != "" {
		return []string{"Look: " + lower(text) + ": take it off and use a good one"}
	}
	return nil
}

// ageing lists what gets no better by lying.
func (t *turn) ageing() {
	due := 0
	var list []string
	for _, a := range t.job.Ageing() {
		text := a.Text
		if a.Due {
			due++
			text = "DUE: " + text + ": " + a.Scan
		}
		list = append(list, text)
	}
	sign := Good
	if due > 0 {
		sign = Short
	}
	t.show(sign, plural(due, "thing")+" due, "+itoa(len(list)-due)+" kept")
	t.list = list
	t.view.Ask = "MORE, or scan what was done, PRESERVED"
	t.beep(Heard)
}
