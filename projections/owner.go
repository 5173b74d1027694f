package projections

import (
	"slices"

	"countback/events"
	"countback/projections/engine"
)

// Owner is the job that a label belongs to, and what it is on there. ShopJob
// owns the labels of the shop.
type Owner struct {
	Job  events.Job
	Noun string // "part head", "bag B2KCZ6EE", "badge Ole"
}

// Owner finds the job that a code belongs to: a tag, a bag, a case or a slip of
// it. Two engines of one family open at once have look-alike parts, so a code of
// another job is noticed by this.
func (r *Runner) Owner(code events.Code) (Owner, bool) {
	for _, id := range r.order {
		if n, ok := nounIn(r.jobs[id].State(), code); ok {
			return Owner{id, n}, true
		}
	}
	for _, b := range r.Badges() {
		if b.Code == code {
			return Owner{events.ShopJob, "badge " + string(b.Badge)}, true
		}
	}
	return Owner{}, false
}

func nounIn(s *engine.State, code events.Code) (string, bool) {
	if n, ok := s.Tag(code); ok {
		return n, true
	}
	if _, ok := s.Bag(code); ok {
		return "bag " + string(code), true
	}
	if _, ok := s.Case(code); ok {
		return "case " + string(code), true
	}
	for _, sl := range s.Slips() {
		if sl.Code == code {
			return "slip " + string(code), true
		}
	}
	return "", false
}

// Twins are other open jobs of a job's family: the same parts lie there.
func (r *Runner) Twins(id events.Job) []events.Job {
	j, ok := r.jobs[id]
	if !ok || j.State().Opened.Family == "" {
		return nil
	}
	var list []events.Job
	for _, o := range r.Jobs() {
		if s := r.jobs[o].State(); o != id && s.Ended == nil && s.Opened.Family == j.State().Opened.Family {
			list = append(list, o)
		}
	}
	return list
}

// Explain says what may have happened to the shorts and overs of a job: within
// it, and between it and the open jobs of its family.
func (r *Runner) Explain(id events.Job) []engine.Explanation {
	j, ok := r.jobs[id]
	if !ok {
		return nil
	}
	var twins []*engine.Job
	for _, o := range r.Twins(id) {
		twins = append(twins, r.jobs[o])
	}
	return j.ExplainWith(twins...)
}

// Badge is one person's badge.
type Badge struct {
	Code     events.Code
	Badge    events.Badge
	Initials string
}

// Badges lists the badges of the shop, the last one issued for a code, in the
// order of the codes.
func (r *Runner) Badges() []Badge {
	byCode := make(map[events.Code]Badge)
	r.shopFacts(func(ev events.Event) {
		switch e := ev.(type) {
		case events.BadgeIssued:
			byCode[e.Code] = Badge(e)
		case events.TagVoided:
			delete(byCode, e.Code)
		}
	})
	list := make([]Badge, 0, len(byCode))
	for _, b := range byCode {
		list = append(list, b)
	}
	slices.SortFunc(list, func(a, b Badge) int {
		if a.Code < b.Code {
			return -1
		}
		return 1
	})
	return list
}

// Ranges lists the two characters of label codes that each terminal prints or
// hands out from, in the order in which they were reserved. The first terminal
// that reserved a range has it.
func (r *Runner) Ranges() []events.RangeReserved {
	var list []events.RangeReserved
	r.shopFacts(func(ev events.Event) {
		if e, ok := ev.(events.RangeReserved); ok &&
			!slices.ContainsFunc(list, func(o events.RangeReserved) bool { return o.Range == e.Range }) {
			list = append(list, e)
		}
	})
	return list
}

// shopFacts goes through what stands of the shop's own facts, in their order.
func (r *Runner) shopFacts(do func(events.Event)) {
	j, ok := r.jobs[events.ShopJob]
	if !ok {
		return
	}
	for _, f := range j.Facts() {
		if ev, ok := j.Standing(f.ID()); ok {
			do(ev)
		}
	}
}
