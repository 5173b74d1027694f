package projections

import (
	"countback/events"
	"countback/projections/engine"
)

// Cursor is a place in the journal: the number of the last record that was
// applied. 0 is before the first.
type Cursor uint64

// Runner holds every job of a shop and folds the journal into them. The zero
// Runner is empty and ready. It is not safe for several goroutines at once.
type Runner struct {
	jobs  map[events.Job]*engine.Job
	order []events.Job // in the order of their first record
	at    Cursor
	heard map[events.Terminal]*counter
	names []events.Terminal // in the order of their first record

	given map[events.Job]*contribution // what each job adds to the views of the shop
}

// Applied is what one record did.
type Applied struct {
	Job    events.Job
	Passed bool // it lies at or before the cursor: it was applied before, and nothing happened
	Change engine.Change
}

// Apply takes the record at a place in the journal. Records come in the order of
// their places, each once; a place at or before the cursor is passed over, so a
// reader may start again anywhere before it. Folding never fails.
func (r *Runner) Apply(at Cursor, rec *events.Record) Applied {
	if at <= r.at {
		return Applied{Job: rec.Job, Passed: true}
	}
	r.at = at
	r.hear(rec)
	return Applied{Job: rec.Job, Change: r.job(rec.Job).Apply(rec)}
}

// Load applies many records at once, those of places from the one after the
// cursor on, and moves the cursor to upTo. It gives the same as applying them
// one by one, faster.
func (r *Runner) Load(records []events.Record, upTo Cursor) {
	byJob := make(map[events.Job][]events.Record)
	var order []events.Job
	for i := range records {
		rec := &records[i]
		r.hear(rec)
		if _, ok := byJob[rec.Job]; !ok {
			order = append(order, rec.Job)
		}
		byJob[rec.Job] = append(byJob[rec.Job], *rec)
	}
	for _, id := range order {
		r.job(id).Load(byJob[id])
	}
	r.at = max(r.at, upTo)
}

func (r *Runner) job(id events.Job) *engine.Job {
	if j, ok := r.jobs[id]; ok {
		return j
	}
	if r.jobs == nil {
		r.jobs = make(map[events.Job]*engine.Job)
	}
	j := &engine.Job{}
	r.jobs[id] = j
	r.order = append(r.order, id)
	return j
}

// At is the place in the journal up to which everything is folded.
func (r *Runner) At() Cursor { return r.at }

// Job finds one job; false if no record named it.
func (r *Runner) Job(id events.Job) (*engine.Job, bool) { j, ok := r.jobs[id]; return j, ok }

// Jobs lists the jobs in the order of their first records. What belongs to the
// shop and to no job is not among them.
func (r *Runner) Jobs() []events.Job {
	list := make([]events.Job, 0, len(r.order))
	for _, id := range r.order {
		if id != events.ShopJob {
			list = append(list, id)
		}
	}
	return list
}

// Forget drops a job from memory. Its next record would start it anew, so
// whoever forgets a job reads it from the journal again before.
func (r *Runner) Forget(id events.Job) {
	delete(r.jobs, id)
	delete(r.given, id)
	for i, o := range r.order {
		if o == id {
			r.order = append(r.order[:i:i], r.order[i+1:]...)
			return
		}
	}
}
