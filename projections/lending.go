package projections

import (
	"slices"
	"strings"

	"countback/events"
)

// Lending is one loan of hardware between two jobs: lent and borrowed are two
// facts with one number. Half of it is a line on both jobs.
type Lending struct {
	Ref      string
	From, To events.Job
	Lines    []events.Line // what was lent, or borrowed where nobody said lent
	Lent     events.FactID // zero: the lending half is not here
	Borrowed events.FactID // zero: the borrowing half is not here
	Differ   []events.Line // pieces that were lent and not borrowed; below zero: the other way
	At       int64         // the first half, microseconds since 1970 UTC
}

// Whole says that both halves are here and agree.
func (l *Lending) Whole() bool {
	return l.Lent != events.FactID{} && l.Borrowed != events.FactID{} && len(l.Differ) == 0
}

// Concerns says whether a lending is between a job and another.
func (l *Lending) Concerns(id events.Job) bool { return l.From == id || l.To == id }

// String tells a lending and what is missing of it.
func (l *Lending) String() string {
	var words []string
	for _, x := range l.Lines {
		words = append(words, itoa(x.Qty)+" "+string(x.Kind))
	}
	text := strings.Join(words, ", ") + " lent by job " + string(l.From) + " to job " + string(l.To) + ", number " + l.Ref
	switch {
	case l.Lent == events.FactID{}:
		return text + ": job " + string(l.From) + " does not know of it"
	case l.Borrowed == events.FactID{}:
		return text + ": job " + string(l.To) + " does not know of it"
	case len(l.Differ) > 0:
		return text + ": the two numbers differ"
	}
	return text
}

// half is one side of a lending.
type half struct {
	ref      string
	from, to events.Job
	lines    []events.Line
	fact     events.FactID
	at       int64
	lent     bool
}

// Lendings lists the hardware that jobs lent each other, by number and then by
// the jobs.
func (r *Runner) Lendings() []Lending {
	var list []Lending
	for _, id := range r.order {
		for _, h := range r.contribution(id).halves {
			list = join(list, h)
		}
	}
	for i := range list {
		list[i].Differ = differ(r, &list[i])
	}
	slices.SortStableFunc(list, func(a, b Lending) int {
		return strings.Compare(a.Ref+"\x00"+string(a.From)+"\x00"+string(a.To), b.Ref+"\x00"+string(b.From)+"\x00"+string(b.To))
	})
	return list
}

// join adds a half to the lending that it belongs to.
func join(list []Lending, h half) []Lending {
	for i := range list {
		l := &list[i]
		if l.Ref != h.ref || l.From != h.from || l.To != h.to {
			continue
		}
		if h.lent && l.Lent == (events.FactID{}) {
			l.Lent, l.Lines = h.fact, h.lines
			l.At = min(l.At, h.at)
			return list
		}
		if !h.lent && l.Borrowed == (events.FactID{}) {
			l.Borrowed = h.fact
			l.At = min(l.At, h.at)
			return list
		}
	}
	l := Lending{Ref: h.ref, From: h.from, To: h.to, Lines: h.lines, At: h.at}
	if h.lent {
		l.Lent = h.fact
	} else {
		l.Borrowed = h.fact
	}
	return append(list, l)
}

// differ compares the lines of both halves, kind by kind in the order of the
// kinds.
func differ(r *Runner, l *Lending) []events.Line {
	if l.Lent == (events.FactID{}) || l.Borrowed == (events.FactID{}) {
		return nil
	}
	sum := make(map[events.Kind]int)
	for _, x := range l.Lines {
		sum[x.Kind] += x.Qty
	}
	for _, h := range r.contribution(l.To).halves {
		if h.fact == l.Borrowed {
			for _, x := range h.lines {
				sum[x.Kind] -= x.Qty
			}
		}
	}
	var list []events.Line
	for k, n := range sum {
		if n != 0 {
			list = append(list, events.Line{Kind: k, Qty: n})
		}
	}
	slices.SortFunc(list, func(a, b events.Line) int { return strings.Compare(string(a.Kind), string(b.Kind)) })
	return list
}
