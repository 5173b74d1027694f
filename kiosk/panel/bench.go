package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// OfBench is what lies at one bench of a job: what is not as it should be,
// what is loose there, which bags are open, and what is expected next. Numbers
// of pieces that nobody counted are not in it, and those of bags never are: a
// bag is counted without them.
func OfBench(j *engine.Job, here events.Terminal) Panel {
	st := j.State()
	n := names{st}
	p := Panel{Name: "bench", Title: "Bench " + string(here), Stand: benchStand(j)}
	red := Group{Head: "Not as it should be"}
	for _, d := range j.Differences() {
		red.add(Look, "Short "+itoa(d.No)+": "+d.Text, first(d.Look))
	}
	for _, u := range st.Uncounted() {
		if u.Cleared == 0 {
			red.add(Hidden, n.uncounted(u)+": never counted, "+n.part(u.Because)+" is off", "scan it with its bag and count")
		}
	}
	for _, c := range st.Cases() {
		if c.Open() {
			red.add(Look, "Case "+string(c.Code)+": "+n.joint(c.Joint)+" hole "+string(c.Hole)+", "+n.size(c.Kind)+" broken", "")
		}
	}
	p.with(red)
	p.with(n.loose(here))
	p.with(n.bags())
	p.with(expected(j))
	return p
}

func benchStand(j *engine.Job) string {
	if e := j.State().Ended; e != nil {
		return "the job has ended: " + string(e.How)
	}
	done, all := 0, 0
	for _, s := range j.WhatNow() {
		if s.Optional {
			continue
		}
		all++
		if s.State == engine.Done {
			done++
		}
	}
	if all == 0 {
		return "no plan: what is done here becomes one"
	}
	return itoa(done) + " of " + itoa(all) + " states stand"
}

func first(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return "look in " + list[0]
}

func (n names) uncounted(u engine.Uncounted) string {
	if u.Joint != "" {
		return n.joint(u.Joint)
	}
	return n.part(u.Part)
}

// loose lists what is loose on a bench, by the joint or part that it is of.
func (n names) loose(here events.Terminal) Group {
	g := Group{Head: "Loose on this bench"}
	book := n.st.Book()
	for a := ledger.AccountID(1); int(a) <= book.Accounts(); a++ {
		if book.Class(a) != ledger.Bench {
			continue
		}
		path := book.Path(a)
		bench, about, _ := strings.Cut(strings.TrimPrefix(string(path), "bench/"), "/")
		lines := n.st.At(path)
		if events.Terminal(bench) != here || len(lines) == 0 {
			continue
		}
		about = strings.TrimPrefix(about, "part ")
		name := "pieces of no joint"
		if about != "" {
			name = n.about(about)
		}
		if when, ok := n.last(a); ok {
			g.add(Counted, name+": "+plural(total(lines), "piece"), when)
		} else {
			g.add(Hidden, name, when)
		}
	}
	return g
}

// bags lists the bags that hold something, those that stand open first.
func (n names) bags() Group {
	g := Group{Head: "Bags"}
	for _, closed := range []bool{false, true} {
		for _, b := range n.st.Bags() {
			if b.Retired != 0 || b.Closed != closed || len(n.st.At(b.Place())) == 0 {
				continue
			}
			state, mark := "open", Now
			if closed {
				state, mark = "closed", Done
			}
			g.add(mark, string(b.Code)+" "+state+", "+n.bagOf(b), n.bagLast(b))
		}
	}
	return g
}

func (n names) bagOf(b *engine.Bag) string {
	switch {
	case b.Joint != "":
		return n.joint(b.Joint)
	case b.Part != "":
		return n.part(b.Part)
	}
	return "of nothing in particular"
}

func (n names) bagLast(b *engine.Bag) string {
	a, ok := n.st.Book().Lookup(b.Place())
	if !ok {
		return ""
	}
	when, _ := n.last(a)
	return when
}

// expected lists what is begun, and then what can be done, in the plan's order.
func expected(j *engine.Job) Group {
	g := Group{Head: "Next"}
	steps := j.WhatNow()
	for _, s := range steps {
		if s.State == engine.PartDone {
			g.add(Begun, stepName(s), leftOf(s))
		}
	}
	for _, s := range steps {
		if s.State == engine.CanStart && !s.Optional {
			g.add(Now, stepName(s), "")
		}
	}
	return g
}

// Headline is the step that is begun, in capitals, where just one is: what an
// idle screen says in its largest letters. It is empty otherwise.
func Headline(j *engine.Job) string {
	name := ""
	for _, s := range j.WhatNow() {
		if s.State == engine.PartDone {
			if name != "" {
				return ""
			}
			name = strings.ToUpper(stepName(s))
		}
	}
	return name
}
