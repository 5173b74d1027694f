package panel

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// OfTrays is the trays of a job: where each stands or who has it, how full it
// is, and which bags lie in it. How many of a size lie in one is not shown.
func OfTrays(j *engine.Job, shop scan.Directory) Panel {
	n := of(j)
	p := Panel{Name: "trays", Title: "Trays"}
	list := n.st.Trays()
	p.Stand = plural(len(list), "tray") + " of this job"
	for i := range list {
		p.with(n.tray(&list[i], shop))
	}
	return p
}

// tray is one tray under its name and its custody.
func (n names) tray(t *engine.Tray, shop scan.Directory) Group {
	g := Group{Head: capital(n.custody(t.Place))}
	now := shop.InTray(t.Place)
	holds := now.Holds
	if holds == 0 {
		holds = t.Holds
	}
	lines := n.st.At(t.Place)
	if qty := total(lines); holds > 0 {
		mark := Plain
		if qty > holds {
			mark = Look
		}
		g.draw(mark, "Takes "+plural(holds, "piece"), n.st.TooMany(t.Place, now.Holds), way("full", float64(qty), float64(holds), "pieces"))
	}
	kinds := make([]events.Kind, len(lines))
	for i := range lines {
		kinds[i] = lines[i].Kind
	}
	if len(kinds) > 0 {
		g.add(Hidden, strings.Join(n.sizes(kinds), ", "), "")
	}
	if now.Others != "" {
		mark := Plain
		if len(lines) > 0 {
			mark = Look
		}
		g.add(mark, "Of other jobs: "+now.Others, "two jobs in one tray: take one of them out")
	}
	for _, b := range n.st.Bags() {
		if in, ok := n.st.Tray(b.Place()); ok && in.At == t.Place && b.Retired == 0 {
			g.add(Shut, string(b.Code)+" "+n.bagOf(b), n.bagLast(b))
		}
	}
	if len(g.Rows) == 0 {
		g.add(Plain, "Nothing of this job is in it", "")
	}
	return g
}

// custody is a place with who has it: "tray 7 is on bench b2 since 12 May".
func (n names) custody(at events.Place) string {
	if up := n.st.Holder(at); len(up) > 0 {
		return strings.Join(up, "; ")
	}
	return placeName(at) + ": nobody said where it is"
}

// placeName is a place as people say it: "tray 7", "shelf", "bag B2KCZ6EE".
func placeName(at events.Place) string {
	word, rest, _ := strings.Cut(string(at), "/")
	if word == "place" || word == "" {
		return engine.PlaceName(rest)
	}
	return word + " " + rest
}

// OfTray is one tray: who has it, and what lies in it without its numbers.
func OfTray(j *engine.Job, shop scan.Directory, at events.Place) Panel {
	n := of(j)
	p := Panel{Name: "tray", Title: capital(placeName(at)), Stand: "nobody said where it is"}
	if up := n.st.Holder(at); len(up) > 0 {
		p.Stand = strings.Join(up, "; ")
	}
	t, ok := n.st.Tray(at)
	if !ok {
		t = engine.Tray{Place: at}
	}
	g := n.tray(&t, shop)
	g.Head = "In it"
	p.with(g)
	p.with(n.carriedPast(at))
	return p
}

// carriedPast is through whose hands it went, the last first.
func (n names) carriedPast(at events.Place) Group {
	g := Group{Head: "Where it was"}
	facts := n.job.Facts()
	for i := len(facts) - 1; i >= 0; i-- {
		ev, ok := n.job.Standing(facts[i].ID())
		if e, carried := ev.(events.Carried); ok && carried && e.What == at {
			g.add(Plain, day(facts[i].At)+" "+who(&facts[i])+": "+n.st.Tells(ev), "")
		}
	}
	return g
}

// OfSort is what lies mixed in a place, size by size, and where each piece
// goes: the piles under their letters, and what stays, because it is right
// there or nothing lacks it.
func OfSort(j *engine.Job, at events.Place, here events.Terminal) Panel {
	n := of(j)
	p := Panel{Name: "sort", Title: "Mixed in " + placeName(at)}
	so := j.Sort(at, here)
	piles := len(so.Into)
	stays := 0
	for _, s := range so.Stays {
		stays += total(s.Lines)
	}
	sorted := 0
	for _, pl := range so.Into {
		sorted += total(pl.Lines)
	}
	p.Stand = plural(sorted, "piece") + " into " + plural(piles, "place") + ", " + itoa(stays) + " stay"
	if sorted+stays == 0 {
		p.Stand = "empty by the book"
		return p
	}
	kinds := sortedKinds(&so)
	sizes := n.sizes(kinds)
	words := func(lines []events.Line) string {
		list := make([]string, len(lines))
		for i, l := range lines {
			list[i] = engine.Several(l.Qty, sizes[kindIndex(kinds, l.Kind)])
		}
		return strings.Join(list, ", ")
	}
	p.with(sortTable(&so, kinds, sizes))
	p.with(sortPiles(&so, words))
	left := Group{Head: "Stays"}
	for _, s := range so.Stays {
		left.add(staysMark(s), words(s.Lines), s.Why)
	}
	lacks := Group{Head: "Still missing"}
	for _, l := range so.Lacks {
		more := ""
		if len(l.Or) > 0 {
			more = "or of " + strings.Join(l.Or, ", or of ") + ": they are equal"
		}
		lacks.add(Look, engine.Several(l.Qty, n.size(l.Kind))+" of "+l.Name, more)
	}
	p.with(lacks)
	p.with(left)
	mixed := Group{Head: "Tell apart by eye"}
	for _, k := range so.Mixed {
		mixed.add(Look, "Old and new "+n.size(k)+" lie together, and some are missing", "")
	}
	p.with(mixed)
	return p
}

func staysMark(s engine.Pile) Mark {
	if s.To != "" {
		return Done
	}
	return Look
}

// mostPiles is how many piles have a column of their own.
const mostPiles = 8

// sortedKinds are the kinds that lie there, each once.
func sortedKinds(so *engine.Sorted) []events.Kind {
	var kinds []events.Kind
	for _, list := range [][]engine.Pile{so.Into, so.Stays} {
		for _, p := range list {
			for _, l := range p.Lines {
				if kindIndex(kinds, l.Kind) < 0 {
					kinds = append(kinds, l.Kind)
				}
			}
		}
	}
	return kinds
}

// sortTable has a row for each size that lies there, and a column for each pile
// and for what stays.
func sortTable(so *engine.Sorted, kinds []events.Kind, sizes []string) Group {
	g := Group{Heads: []string{"in it"}}
	into := so.Into[:min(len(so.Into), mostPiles)]
	for i := range into {
		g.Heads = append(g.Heads, letter(i))
	}
	rest := len(so.Into) > len(into)
	if rest {
		g.Heads = append(g.Heads, "more")
	}
	g.Heads = append(g.Heads, "stays", "all")
	for i, k := range kinds {
		cells := []string{sizes[i]}
		all, more := 0, 0
		for at := range so.Into {
			q := qtyOf(so.Into[at].Lines, k)
			if all += q; at < len(into) {
				cells = append(cells, some(q))
			} else {
				more += q
			}
		}
		if rest {
			cells = append(cells, some(more))
		}
		stays, mark := 0, Now
		for _, s := range so.Stays {
			q := qtyOf(s.Lines, k)
			if stays += q; q > 0 && s.To == "" {
				mark = Look
			}
		}
		if all == 0 && mark == Now {
			mark = Done
		}
		g.cells(mark, "", append(cells, some(stays), itoa(all+stays))...)
	}
	return g
}

// sortPiles says what each letter is.
func sortPiles(so *engine.Sorted, words func([]events.Line) string) Group {
	g := Group{Head: "Goes into"}
	for i := range so.Into {
		pl := &so.Into[i]
		name := placeName(pl.To)
		if pl.Fresh {
			name = "a bag of its own"
		}
		if pl.Name != "" {
			name += " (" + pl.Name + ")"
		}
		if i < mostPiles {
			name = letter(i) + "  " + name
		}
		g.add(Now, name, words(pl.Lines))
	}
	return g
}

func letter(i int) string { return string(rune('A' + i)) }

// some is a number of pieces; none is a dot.
func some(q int) string {
	if q == 0 {
		return "."
	}
	return itoa(q)
}

func qtyOf(lines []events.Line, k events.Kind) int {
	q := 0
	for _, l := range lines {
		if l.Kind == k {
			q += l.Qty
		}
	}
	return q
}
