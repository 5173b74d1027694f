package panel

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// OfBench is what lies at one bench of a job: what is not as it should be,
// what is loose there, which bags are open, and what is expected next. Numbers
// of pieces that nobody counted are not in it, and those of bags never are: a
// bag is counted without them.
func OfBench(j *engine.Job, here events.Terminal) Panel {
	st := j.State()
	n := of(j)
	p := Panel{Name: "bench", Title: "Bench " + string(here), Stand: benchStand(j)}
	red := Group{Head: "Not as it should be"}
	for _, d := range j.Differences() {
		red.add(Look, d.Text, first(d.Look))
	}
	for _, u := range st.Uncounted() {
		if u.Cleared == 0 {
			red.add(Hidden, n.uncounted(u)+": never counted, "+n.part(u.Because)+" is off", "scan it with its bag and count")
		}
	}
	for _, c := range st.Cases() {
		if c.Open() {
			red.add(Look, "Case "+n.caseNo(c)+": "+n.joint(c.Joint)+" hole "+string(c.Hole)+", "+n.size(c.Kind)+" broken", "")
		}
	}
	p.with(red)
	loose, bags := n.loose(here), n.bags()
	if len(loose.Rows)+len(bags.Rows) == 0 {
		loose.add(Plain, "Nothing is loose here, and no bag holds anything", "")
	}
	p.with(loose)
	p.with(bags)
	p.with(expected(j))
	return p
}

func benchStand(j *engine.Job) string {
	if e := j.State().Ended; e != nil {
		return "the job has ended: " + string(e.How)
	}
	begun, can := 0, 0
	steps := j.WhatNow()
	for _, s := range steps {
		switch {
		case s.State == engine.PartDone:
			begun++
		case s.State == engine.CanStart && !s.Optional:
			can++
		}
	}
	if len(steps) == 0 {
		return "no plan: what is done here becomes one"
	}
	return plural(begun, "step") + " begun, " + itoa(can) + " can be done now"
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
		name := "pieces of no joint"
		if part, ok := strings.CutPrefix(about, "part "); ok {
			name = n.part(events.Part(part))
		} else if about != "" {
			name = "fasteners of " + n.about(about)
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
			mark := Open
			if closed {
				mark = Shut
			}
			g.add(mark, string(b.Code)+" "+n.bagOf(b), n.bagLast(b))
		}
	}
	return g
}

func (n names) bagOf(b *engine.Bag) string {
	switch joint, part := scan.BagOf(n.job, b.Code); {
	case joint != "":
		return n.joint(joint)
	case part != "":
		return n.part(part)
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

// expected lists what is begun, in the direction of the last hand first, and
// then what can be done, in the plan's order.
func expected(j *engine.Job) Group {
	g := Group{Head: "Next"}
	if j.State().Ended != nil {
		return g
	}
	steps := j.WhatNow()
	apart, _ := apartNow(j)
	for _, same := range []bool{true, false} {
		for _, s := range steps {
			if s.State == engine.PartDone && same == (apart == takesApart(s)) {
				g.add(Begun, stepName(s), leftOf(s))
			}
		}
	}
	for _, s := range steps {
		if s.State == engine.CanStart && !s.Optional {
			g.add(Now, stepName(s), "")
		}
	}
	return g
}

func takesApart(s engine.StepNow) bool { return s.Section == plan.Off || s.Section == plan.BenchApart }

// Headline is the step that is under way, in capitals: the one that is begun,
// in the direction in which the last hand worked, where just one is. It is
// what an idle screen says in its largest letters; empty otherwise.
func Headline(j *engine.Job) string {
	apart, known := apartNow(j)
	if !known {
		return ""
	}
	name := ""
	for _, s := range j.WhatNow() {
		if s.State != engine.PartDone || apart != takesApart(s) {
			continue
		}
		if name != "" {
			return ""
		}
		name = strings.ToUpper(stepName(s))
	}
	return name
}

// apartNow says whether the last hand at the engine took apart or put
// together.
func apartNow(j *engine.Job) (apart, known bool) {
	facts := j.Facts()
	for i := len(facts) - 1; i >= 0; i-- {
		switch facts[i].Event.(type) {
		case events.PiecesOut, events.PartRemoved, events.PiecesLoosened:
			return true, true
		case events.PiecesFitted, events.PartFitted, events.PiecesParked, events.StageRecorded, events.PartPressed:
			return false, true
		}
	}
	return false, false
}
