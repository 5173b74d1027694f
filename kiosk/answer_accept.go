package kiosk

import (
	"slices"

	"countback/kiosk/scan"
)

// answerAccept takes things over one by one, or all that are left at once.
func (t *turn) answerAccept(tok scan.Token) {
	q := t.ask
	if tok.Kind != scan.Said1 {
		t.unasked(tok)
		return
	}
	switch tok.Word {
	case scan.AcceptWord:
		q.took = append(slices.Clip(q.took), q.items[q.item:]...)
		q.item = len(q.items)
	case scan.OK, scan.Yes:
		q.took = grow(q.took, q.items[q.item])
		q.item++
	case scan.No:
		q.kept = grow(q.kept, q.items[q.item])
		q.item++
	default:
		t.unasked(tok)
		return
	}
	if q.item < len(q.items) {
		t.view = View{}
		t.beep(Heard)
		return
	}
	t.reply(scan.Reply{Took: q.took, Kept: q.kept})
}
