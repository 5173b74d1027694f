package kiosk

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// whose says which holes and bags could want a fastener that was found.
func (t *turn) whose(said *scan.Said) {
	if at := said.Container(0); at != "" {
		t.whoseTray(at)
		return
	}
	m, err := said.Found()
	if no, ok := err.(*engine.Refusal); ok {
		t.no(capital(no.Fact), capital(no.Next))
		return
	}
	h := t.job.Whose(m)
	nm := namesOf(t.job.State())
	list := h.List
	if len(list) == 0 {
		t.show(Short, h.Text)
		list = h.Near
	} else {
		t.show(Plain, h.Text)
	}
	for i := range list {
		t.list = append(t.list, nm.home(&list[i]))
	}
	t.view.Ask = capital(h.Next)
	t.beep(Heard)
}

// whoseTray says where what lies mixed in a place belongs.
func (t *turn) whoseTray(at events.Place) {
	so := t.job.Sort(at, t.here)
	piles, rest := t.job.State().SortWords(&so)
	nm := namesOf(t.job.State())
	if len(piles)+len(rest) == 0 {
		t.no(capital(nm.place(at))+" is empty by the book, or all in it is where it belongs", "Count it: scan it, then COUNT")
		return
	}
	t.show(Plain, capital(nm.place(at))+": "+plural(len(piles), "pile"))
	for _, text := range append(piles, rest...) {
		t.list = append(t.list, capital(text))
	}
	t.view.Ask = "Move them, then scan " + nm.place(at) + ", SORT"
	if len(piles) == 0 {
		t.view.Ask = "Keep it apart"
	}
	t.beep(Heard)
}

// home is one line of the answer: "front cover: M8x1.25x30, 1 short, holes 3, 9; bag B2KCZ6EE".
func (n names) home(h *engine.Home) string {
	text := h.Name + ": " + n.kind(h.Kind)
	if h.Like.Differ != 0 {
		text += ", differs in " + h.Like.Differ.String()
	}
	switch {
	case h.Short > 0:
		text += ", " + itoa(h.Short) + " short"
	case len(h.Shorts) > 0:
		text += ", short by a count"
	case len(h.Want) == 0:
		text += ", all in"
	}
	if len(h.Want) > 0 && h.Own {
		text += ", hole " + holeWords(h.Want)
	}
	if len(h.Kept) > 0 {
		text += "; " + n.place(h.Kept[0])
	}
	if h.Equal != 0 {
		text += " (equal: " + string(rune('A'+(h.Equal-1)%26)) + ")"
	}
	return text
}

// holeWords lists holes, the first few of many.
func holeWords(holes []events.Hole) string {
	const few = 8
	var words []string
	for _, h := range holes[:min(few, len(holes))] {
		words = append(words, string(h))
	}
	text := strings.Join(words, ", ")
	if len(holes) > few {
		text += " and " + itoa(len(holes)-few) + " more"
	}
	return text
}
