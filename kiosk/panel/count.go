package panel

import "countback/kiosk"

// OfCount is a count that is going on: each size with the person's own number,
// and the one that is asked now. What the book holds is not in it.
func OfCount(t kiosk.Tally, of string) Panel {
	p := Panel{Name: "count", Title: "Count", Stand: of}
	g := Group{}
	for i, size := range t.Sizes {
		switch {
		case i == t.Turn:
			g.add(Now, size, "how many?")
		case t.Got[i] == kiosk.LeftIn:
			g.add(In, size, "left in")
		case t.Got[i] == kiosk.NotYet:
			g.add(Plain, size, "")
		default:
			g.add(Counted, itoa(t.Got[i])+" "+size, "")
		}
	}
	if t.Turn < 0 {
		g.add(Now, "Scan a size, then its number", "OK ends it")
	}
	p.with(g)
	return p
}

// OfList is a list that the screen itself shows: help, what stands
// in the way, what can be corrected.
func OfList(title string, list []string) Panel {
	p := Panel{Name: "list", Title: title}
	if p.Title == "" || p.Title[0] >= 'a' {
		p.Title = "List"
	}
	g := Group{}
	for _, l := range list {
		g.add(Plain, l, "")
	}
	p.with(g)
	return p
}
