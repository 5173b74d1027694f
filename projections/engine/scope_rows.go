package engine

import (
	"time"

	"countback/events"
)

// WayRow is one line of a comparison: what, and for each way its value.
type WayRow struct {
	What  string
	Cells []string
}

// WayRows puts ways beside each other line by line: the smaller repair and the
// larger, one way and another, early and late. Lines that say nothing of any way
// are left out. today is the day from which days are seen.
func WayRows(ways []ScopeWay, today events.Day) []WayRow {
	var rows []WayRow
	add := func(what string, always bool, cell func(*ScopeWay) (string, bool)) {
		row, says := WayRow{What: what}, always
		for i := range ways {
			text, ok := cell(&ways[i])
			row.Cells, says = append(row.Cells, text), says || ok
		}
		if says {
			rows = append(rows, row)
		}
	}
	number := func(what string, always bool, n func(*ScopeWay) int) {
		add(what, always, func(w *ScopeWay) (string, bool) { return itoa(n(w)), n(w) > 0 })
	}
	number("steps there", true, func(w *ScopeWay) int { return len(w.Steps) })
	number("steps back", true, func(w *ScopeWay) int { return len(w.Back) })
	number("holes opened", true, func(w *ScopeWay) int { return w.Seats })
	number("fasteners out", true, func(w *ScopeWay) int { return w.Fasteners })
	number("parts off", true, func(w *ScopeWay) int { return w.Parts })
	number("single-use fasteners used up", true, func(w *ScopeWay) int { return w.used(false) })
	number("gaskets, seals and other single-use parts used up", true, func(w *ScopeWay) int { return w.used(true) })
	number("of these to buy", true, (*ScopeWay).Buy)
	number("steps to be done again", true, func(w *ScopeWay) int { return len(w.Again) })
	number("marks void", false, func(w *ScopeWay) int { return len(w.Void) })
	number("slips concerned", false, func(w *ScopeWay) int { return len(w.Slips) })
	add("hours there and back", false, func(w *ScopeWay) (string, bool) {
		return HoursWords(w.Minutes + w.BackMinutes), w.Minutes+w.BackMinutes > 0
	})
	add("waiting besides", false, func(w *ScopeWay) (string, bool) {
		return HoursWords(int(w.Wait / time.Minute)), w.Wait > 0
	})
	add("planned finish moves to", false, func(w *ScopeWay) (string, bool) {
		return w.Finish.Words(), w.Finish.Valid()
	})
	add("back at the earliest", true, func(w *ScopeWay) (string, bool) { return w.ReadyWords(today), true })
	add("single-use pieces cost", false, func(w *ScopeWay) (string, bool) { return w.Money.PiecesWords(), w.Pieces() > 0 })
	add("work costs", true, func(w *ScopeWay) (string, bool) { return w.Money.WorkWords(), true })
	add("together", true, func(w *ScopeWay) (string, bool) { return w.Money.SumWords(), true })
	number("risks", true, func(w *ScopeWay) int { return len(w.Risks) })
	add("how sure", true, func(w *ScopeWay) (string, bool) { return w.Verdict, true })
	add("way back", true, func(w *ScopeWay) (string, bool) { return w.BackVerdict, true })
	return rows
}

// used is how many single-use pieces a way uses up, of parts or of fasteners.
func (w *ScopeWay) used(parts bool) int {
	n := 0
	for _, u := range w.Uses {
		if u.Part == parts {
			n += u.Used
		}
	}
	return n
}
