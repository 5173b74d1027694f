package engine

import "countback/events"

// mending finds out what stands in the place of each fact when corrections
// are among them. Rule R3: a correction takes the place of what it corrects,
// in the order; of several, the last in the order stands; a correction can be
// corrected. One that names a fact later than itself, or one that its terminal
// had not seen, corrects nothing. nil: no correction at all.
// by is the last correction of each fact that was corrected, both by index.
func (j *Job) mending() (stands func(i int) (events.Event, bool), by map[int]int) {
	if !j.mended {
		return nil, nil
	}
	by = make(map[int]int)
	for i := range j.facts {
		c, ok := j.facts[i].Event.(events.Corrected)
		if !ok {
			continue
		}
		wrong := j.index(c.Wrong)
		if wrong >= 0 && wrong < i && j.facts[i].Saw(&j.facts[wrong]) {
			by[wrong] = i
		}
	}
	stands = func(i int) (events.Event, bool) {
		own := j.facts[i].Event
		c, ok := by[i]
		if !ok {
			return own, true
		}
		// A correction stands as itself, as another correction, or not at all.
		as, ok := stands(c)
		if !ok {
			return own, true
		}
		mend, isCorrection := as.(events.Corrected)
		if !isCorrection {
			return own, true
		}
		return mend.Instead, mend.Instead != nil
	}
	return stands, by
}

// Standing is what the fold reads in the place of a fact: its own event, what
// a correction says instead, or nothing (false).
func (j *Job) Standing(id events.FactID) (events.Event, bool) {
	i := j.index(id)
	if i < 0 {
		return nil, false
	}
	if stands, _ := j.mending(); stands != nil {
		return stands(i)
	}
	return j.facts[i].Event, true
}
