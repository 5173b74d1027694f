package main

import (
	"strings"
	"time"

	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// labelWords writes labels in the shop's words, from one job.
type labelWords struct {
	b  *books
	id events.Job
	j  *engine.Job
	st *engine.State
	p  *plan.Plan
}

func (b *books) words(id events.Job, j *engine.Job) labelWords {
	return labelWords{b, id, j, j.State(), j.State().Plan()}
}

// bagWords finds the job of a bag.
func (b *books) bagWords(text string) (w labelWords, c code.Code, err error) {
	if c, err = code.Parse(text); err != nil {
		return w, c, unknown("%w", err)
	}
	if c.Type() != code.Bag {
		return w, c, usage("%s is the code of a %s, not of a bag", c, c.Type())
	}
	for _, id := range b.Jobs() {
		j, _ := b.Job(id)
		if _, ok := j.State().Bag(events.Code(c)); ok {
			return b.words(id, j), c, nil
		}
	}
	return w, c, unknown("no job has met bag %s; print blank labels with: countback label roll", c)
}

func (w labelWords) joint(id events.Joint) string {
	if ix, ok := w.p.Joint(id); ok {
		return upper(w.p.Joints[ix].Name)
	}
	for _, l := range w.st.LearnedJoints() {
		if l.Joint == id && l.Name != "" {
			return upper(l.Name)
		}
	}
	return string(id)
}

func (w labelWords) part(id events.Part) string {
	if ix, ok := w.p.Part(id); ok {
		return upper(w.p.Parts[ix].Name)
	}
	return string(id)
}

// kind is a fastener by its whole spec, which is how it is told from its
// likes, and a part by its name.
func (w labelWords) kind(k events.Kind) string {
	if ix, ok := w.p.Part(events.Part(k)); ok {
		return w.p.Parts[ix].Name
	}
	return string(k)
}

// by is when and by whom a fact was told, as labels have it.
func (w labelWords) by(f ledger.Fact) (time.Time, string) {
	r := w.st.Fact(f)
	if r == nil {
		return time.Time{}, ""
	}
	return time.UnixMicro(r.At), w.initials(r.Operator)
}

// initials are those of a badge, or the first letters of its name.
func (w labelWords) initials(who events.Badge) string {
	for _, b := range w.b.Badges() {
		if b.Badge == who && b.Initials != "" {
			return b.Initials
		}
	}
	letters := ""
	for _, word := range strings.Fields(string(who)) {
		letters += string([]rune(word)[:1])
	}
	return letters
}
