package kiosk

import (
	"countback/events"
	"countback/projections/engine"
)

// batchNotes says what is on the parts of a coat of paint that must not be
// painted.
func batchNotes(told *Telling) []string {
	e, ok := told.Record.Event.(events.BatchOpened)
	if !ok {
		return nil
	}
	b, ok := told.st.Batch(e.Batch)
	if !ok {
		return nil
	}
	if on := told.st.NotPainted(b); len(on) > 0 {
		return []string{"Look: still on them, mask or take off what is not painted: " + shorten(told.lines(on), 80)}
	}
	return nil
}

// batches lists the batches of this job.
func (t *turn) batches() {
	st := t.job.State()
	open := 0
	var list []string
	for _, b := range st.Batches() {
		list = append(list, batchLine(st, b))
		if b.Closed == 0 {
			open++
		}
	}
	word := " batches"
	if len(list) == 1 {
		word = " batch"
	}
	t.show(Plain, itoa(len(list))+word+" of this job, "+itoa(open)+" open")
	t.list = list
	t.view.Ask = "MORE, or scan a batch and CLOSE"
	t.beep(Heard)
}

func batchLine(st *engine.State, b *engine.Batch) string {
	nm := namesOf(st)
	var parts []string
	for _, p := range b.Parts {
		parts = append(parts, lower(nm.part(p)))
	}
	text := "Batch " + b.Name + ", " + b.What + ": " + joinAnd(parts) + "; "
	if b.Closed == 0 {
		// how many are on is not shown before they are counted off
		return text + "OPEN, its plugs and masks are not counted off"
	}
	text += "closed " + clockText(st.Fact(b.Closed).At)
	if b.Cured != 0 {
		text += ", cures until " + clockText(b.Cured)
	}
	return text
}
