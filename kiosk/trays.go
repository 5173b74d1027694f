package kiosk

import (
	"strings"

	"countback/kiosk/scan"
)

// trayNotes says what is wrong with a tray that something was put into: pieces
// of another job in it, or more than it takes. What was told is stored all the
// same.
func (t *turn) trayNotes(f *flight) []string {
	if f.said == nil || f.row == nil || t.job == nil {
		return nil
	}
	var notes []string
	for i := range f.said.Nouns {
		n := f.said.Nouns[i]
		if n.Type != scan.TrayNoun {
			continue
		}
		at := scan.PlaceOf(n)
		now := t.dir.InTray(at)
		if len(t.job.State().At(at)) > 0 && now.Others != "" {
			notes = append(notes, "Look: tray "+n.ID+" holds "+now.Others+" too: two jobs in one tray. Take one of them out")
		}
		if text := t.job.State().TooMany(at, now.Holds); text != "" {
			notes = append(notes, "Look: "+text)
		}
	}
	return notes
}

// oncePlaced says where a part was by the book until it is put into another
// place: it can be in one place only.
func (t *turn) oncePlaced(f *flight) []string {
	if f.said == nil || f.row == nil || f.row.Event != "pieces-moved" || !f.said.Has(scan.Part) {
		return nil
	}
	var notes []string
	st := t.job.State()
	for _, p := range f.said.Parts() {
		was, to := st.PartAt(p), f.said.Container(0)
		if was == "" || was == to || strings.HasPrefix(string(was), "bench/") {
			continue
		}
		nm := namesOf(st)
		text := capital(nm.part(p)) + " was in " + nm.place(was)
		if up := st.Holder(was); len(up) > 0 {
			text += " (" + up[len(up)-1] + ")"
		}
		notes = append(notes, text+" until now")
	}
	return notes
}

// trays lists where the trays of this job are, who has them, and what is in
// them.
func (t *turn) trays() {
	st := t.job.State()
	nm := namesOf(st)
	var list []string
	for _, tr := range st.Trays() {
		text := capital(nm.place(tr.Place)) + ": " + nm.lines(st.At(tr.Place))
		if up := st.Holder(tr.Place); len(up) > 0 {
			text += "; " + strings.Join(up, "; ")
		} else {
			text += "; nobody said where it is"
		}
		if many := st.TooMany(tr.Place, t.dir.InTray(tr.Place).Holds); many != "" {
			text += "; " + many
		}
		list = append(list, text)
	}
	t.show(Plain, plural(len(list), "tray")+" of this job")
	t.list = list
	t.view.Ask = "MORE, or scan a tray and the bench, shelf or tray where it stands"
	t.beep(Heard)
}
