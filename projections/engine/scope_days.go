package engine

import (
	"time"

	"countback/events"
)

// ready says by when a way can be gone and the engine be back: what is to be
// bought has come, by the lead time of whom it is bought, and what is away with
// a slip is back as promised, then the work there and back. What nobody has said
// is listed, and may make it later.
func (s *State) ready(w *ScopeWay) {
	today := s.today()
	last := today
	for i := range w.Uses {
		u := &w.Uses[i]
		if u.Buy == 0 {
			continue
		}
		if _, days := s.supplierOf(u.Kind, s.kitWith(u.Kind)); days >= 0 {
			last = last.Later(today.Plus(days))
		} else {
			w.NoDay = append(w.NoDay, u.Name+": no lead time")
		}
	}
	for _, c := range w.Slips {
		sl := s.slip(c.Slip)
		if sl == nil {
			continue
		}
		switch day, _ := s.slipPromise(sl); {
		case !day.Valid():
			w.NoDay = append(w.NoDay, "slip "+string(c.Slip)+": no day promised")
		case day < today:
			w.NoDay = append(w.NoDay, "slip "+string(c.Slip)+": promised for "+day.Short(today)+", not kept")
		default:
			last = last.Later(day)
		}
	}
	minutes := w.Minutes + w.BackMinutes + int(w.Wait/time.Minute)
	w.Ready = startAt{day: last}.plus(minutes, max(1, s.job.Limits().DayMinutes)).day
	if last == today && minutes == 0 {
		w.Ready = today
	}
}

// ReadyWords is "14 May", or "14 May + 2 unknown": that day at the earliest, and
// later by what nobody has said.
func (w *ScopeWay) ReadyWords(today events.Day) string {
	text := w.Ready.Short(today)
	if n := len(w.NoDay); n > 0 {
		text += " + " + itoa(n) + " unknown"
	}
	return text
}
