package engine

import "countback/events"

// slipPromise is the day by which a slip was promised back, by the last word
// given, and how often a word was given.
func (s *State) slipPromise(sl *Slip) (events.Day, int) {
	on, words := noun("slip", sl.Code), 0
	for _, p := range s.ahead.promises {
		if p.On == on && p.Day.Valid() {
			words++
		}
	}
	return s.promiseOn(on), words
}

// overdueWords is ", promised 20 May, 3 days overdue".
func (s *State) overdueWords(sl *Slip) string {
	day, _ := s.slipPromise(sl)
	if day == "" {
		return ""
	}
	today := events.DayOf(s.job.moment())
	text := ", promised for " + day.Short(today)
	if n := day.Until(today); n > 0 {
		text += ", " + plural(n, "day") + " overdue"
	}
	return text
}

func ofLimits(limits string) string {
	if limits == "" {
		return ""
	}
	return ", " + limits
}

// isBack says whether a return says nothing new: all that it is about has come
// back with the slip before, and nothing was counted.
func (s *State) isBack(e *events.Returned) bool {
	sl := s.slip(e.Slip)
	if sl == nil || len(e.Lines) > 0 {
		return false
	}
	if len(e.Parts) == 0 {
		return len(sl.Out) == 0
	}
	for _, id := range e.Parts {
		if contains(sl.Out, id) || !contains(sl.Parts, id) {
			return false
		}
	}
	return true
}
