package panel

import (
	"countback/kiosk"
	"countback/projections/engine"
)

// OfCores is the old parts that go back to who sold the new ones.
func OfCores(j *engine.Job) Panel {
	p := Panel{Name: "cores", Title: "Cores", Stand: "none"}
	g := Group{}
	for _, v := range j.Cores() {
		mark := Waits
		switch {
		case v.Credited != 0:
			mark = Done
		case v.Void != 0 || v.Due.Valid() && v.DaysLeft < 0 || len(v.Lacks) > 0:
			mark = Look
		}
		g.add(mark, kiosk.CoreText(&v), "")
	}
	if len(g.Rows) > 0 {
		p.Stand = plural(len(g.Rows), "old part") + " to go back"
	}
	p.with(g)
	return p
}

// OfOwner is what belongs to the owner, and what is wanted of old parts.
func OfOwner(j *engine.Job) Panel {
	o := j.Owner()
	p := Panel{Name: "owner", Title: "The owner's things", Stand: "nothing was brought, and nothing is wanted"}
	if o.Name != "" {
		p.Title = "Things of " + o.Name
	}
	g := Group{Head: "Brought"}
	for i := range o.Items {
		mark := Done
		if o.Items[i].Here > 0 {
			mark = Look
		}
		g.add(mark, kiosk.OwnerItemText(&o.Items[i]), "")
	}
	p.with(g)
	g = Group{Head: "Old parts"}
	for i := range o.Wishes {
		w := &o.Wishes[i]
		mark := Done
		if w.Wish.Open() {
			mark = Waits
			if w.Off {
				mark = Look
			}
		}
		g.add(mark, kiosk.OwnerWishText(w), "")
	}
	p.with(g)
	if len(p.Groups) > 0 {
		p.Stand = plural(len(o.Items), "kind") + " brought, " + plural(len(o.Wishes), "old part") + " asked for"
	}
	return p
}
