package tool

import (
	"slices"
	"strings"

	"countback/events"
)

// Tool is one tool as the register has it.
type Tool struct {
	events.ToolIssued
	Issued bool // somebody put it on the register
	Out    bool // somebody has it
	By     events.Badge
	Job    events.Job
	Step   events.Step
	Since  int64 // when it was taken, microseconds since 1970 UTC
}

// Register holds the tools of a shop. The zero Register is empty and ready.
type Register struct {
	facts []events.Record // of tools, and corrections; in their order
	tools map[events.Tool]*Tool
	old   bool // facts have come since tools was worked out
}

// Apply takes one fact, in whatever order they come. Facts that are not about
// tools are passed over.
func (r *Register) Apply(rec *events.Record) {
	switch rec.Event.(type) {
	case events.ToolIssued, events.ToolTaken, events.ToolBack, events.Corrected:
	default:
		return
	}
	at, there := slices.BinarySearchFunc(r.facts, rec, func(a events.Record, b *events.Record) int {
		switch {
		case a.Before(b):
			return -1
		case b.Before(&a):
			return 1
		}
		return 0
	})
	if !there {
		r.facts, r.old = slices.Insert(r.facts, at, *rec), true
	}
}

// standing is what stands in the place of each fact: its own event, what the
// last correction of it says, or nothing.
func (r *Register) standing() []events.Event {
	index := make(map[events.FactID]int, len(r.facts))
	list := make([]events.Event, len(r.facts))
	for i := range r.facts {
		index[r.facts[i].ID()] = i
		list[i] = r.facts[i].Event
	}
	// the last correction of a fact stands; one that was itself taken back does not
	for i := len(r.facts) - 1; i >= 0; i-- {
		c, ok := list[i].(events.Corrected)
		if !ok {
			continue
		}
		at, known := index[c.Wrong]
		if !known || at >= i {
			continue
		}
		list[at] = c.Instead
		delete(index, c.Wrong) // an earlier correction of it is overtaken
	}
	return list
}

func (r *Register) fold() map[events.Tool]*Tool {
	if r.tools != nil && !r.old {
		return r.tools
	}
	r.tools, r.old = map[events.Tool]*Tool{}, false
	for i, ev := range r.standing() {
		rec := &r.facts[i]
		switch e := ev.(type) {
		case events.ToolIssued:
			t := r.of(e.Tool)
			t.ToolIssued, t.Issued = e, true
		case events.ToolTaken:
			t := r.of(e.Tool)
			t.Out, t.By, t.Job, t.Step, t.Since = true, rec.Operator, rec.Job, e.Step, rec.At
		case events.ToolBack:
			if t := r.of(e.Tool); t.Out && t.Job == rec.Job {
				t.Out, t.By, t.Job, t.Step, t.Since = false, "", "", "", 0
			}
		}
	}
	return r.tools
}

func (r *Register) of(id events.Tool) *Tool {
	t, ok := r.tools[id]
	if !ok {
		t = &Tool{ToolIssued: events.ToolIssued{Tool: id}}
		r.tools[id] = t
	}
	return t
}

// Find is the tool of an id; false if nobody issued it and nobody took it.
func (r *Register) Find(id events.Tool) (Tool, bool) {
	t, ok := r.fold()[id]
	if !ok {
		return Tool{}, false
	}
	return *t, true
}

// List lists the tools by their ids.
func (r *Register) List() []Tool {
	list := make([]Tool, 0, len(r.fold()))
	for _, t := range r.fold() {
		list = append(list, *t)
	}
	slices.SortFunc(list, func(a, b Tool) int { return strings.Compare(string(a.Tool), string(b.Tool)) })
	return list
}

// Away says which of the wanted tools cannot be had for a job on a day, and
// why: another job has it, or its calibration is overdue. Wanted is the id of
// a tool, or a kind of which any will do. A tool that the register does not
// know is not spoken of.
func (r *Register) Away(job events.Job, wanted []string, day events.Day) map[string]string {
	var away map[string]string
	for _, w := range wanted {
		why, known := "", false
		for _, t := range r.List() {
			if string(t.Tool) != w && t.Kind != w {
				continue
			}
			known = true
			if why = t.whyNot(job, day); why == "" {
				break
			}
		}
		if known && why != "" {
			if away == nil {
				away = map[string]string{}
			}
			away[w] = why
		}
	}
	return away
}

// whyNot says why a tool cannot be had for a job; empty: it can.
func (t *Tool) whyNot(job events.Job, day events.Day) string {
	if t.Out && t.Job != job {
		return t.Holder()
	}
	return t.overdue(day)
}

// Holder says who has it: "with Ole for job 4K9"; empty: nobody.
func (t *Tool) Holder() string {
	if !t.Out {
		return ""
	}
	who := string(t.By)
	if who == "" {
		who = "somebody"
	}
	return "with " + who + " for job " + string(t.Job)
}
