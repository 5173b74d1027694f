package kiosk

import (
	"countback/events"
	"countback/projections/engine"
)

// cores lists the old parts that go back.
func (t *turn) cores() {
	open := 0
	var list []string
	for _, v := range t.job.Cores() {
		if v.Open() {
			open++
		}
		list = append(list, CoreText(&v))
	}
	t.show(Plain, plural(len(list), "core")+", "+itoa(open)+" not credited")
	t.list = list
	t.view.Ask = "Next: scan a noun"
	t.beep(Heard)
}

// CoreText is how one core stands, in one line.
func CoreText(v *engine.CoreView) string {
	text := v.Name
	if v.Supplier != "" {
		text += " to " + v.Supplier
	}
	if v.Deposit > 0 {
		text += ", " + engine.Money{Amount: v.Deposit, Currency: v.Currency}.String()
	}
	switch {
	case v.Credited != 0:
		text += ": credited " + engine.Money{Amount: v.Credit.Credit, Currency: v.Credit.Currency}.String()
		for _, d := range v.Credit.Off {
			text += ", less " + engine.Money{Amount: d.Amount, Currency: v.Credit.Currency}.String() + " " + d.Why
		}
		switch {
		case v.Unexplained < 0:
			text += "; " + engine.Money{Amount: -v.Unexplained, Currency: v.Currency}.String() + " more than the deposit"
		case v.Unexplained > 0:
			text += "; " + engine.Money{Amount: v.Unexplained, Currency: v.Currency}.String() + " without a reason"
		}
		return text
	case v.Sent != 0:
		return text + ": sent back, nothing credited yet"
	}
	text += coreDue(v)
	if v.Void != 0 {
		return text + "; CREDIT VOID: " + v.VoidBy + " came off"
	}
	if v.Whole {
		text += "; DO NOT STRIP"
	}
	for _, l := range v.Lacks {
		text += "; " + l
	}
	return text
}

func coreDue(v *engine.CoreView) string {
	switch {
	case !v.Due.Valid():
		return ": no day was said"
	case v.DaysLeft < 0:
		return ": " + plural(-v.DaysLeft, "day") + " PAST its day"
	}
	return ": " + plural(v.DaysLeft, "day") + " left, by " + v.Due.Words()
}

// ownersThings lists what belongs to the owner, and what is wanted of old parts.
func (t *turn) ownersThings() {
	o := t.job.Owner()
	here, wanted := 0, 0
	t.list = nil // what was listed before is no part of this
	for i := range o.Items {
		here += o.Items[i].Here
		t.list = append(t.list, OwnerItemText(&o.Items[i]))
	}
	for i := range o.Wishes {
		if o.Wishes[i].Wish.Open() {
			wanted++
		}
		t.list = append(t.list, OwnerWishText(&o.Wishes[i]))
	}
	list := t.list
	who := "the owner"
	if o.Name != "" {
		who = o.Name
	}
	t.show(Plain, "Of "+who+": "+plural(len(o.Items), "kind")+" brought, "+plural(here, "piece")+" here and not fitted, "+plural(wanted, "old part")+" wanted")
	t.list = list
	t.view.Ask = "Next: scan a noun"
	t.beep(Heard)
}

// OwnerItemText is "2 water pump, opened: 1 fitted, 1 here in shelf".
func OwnerItemText(it *engine.OwnerItem) string {
	text := engine.Several(it.In, lower(it.Name))
	switch it.Sealed {
	case events.SealWhole:
		text += ", sealed"
	case events.SealOpen:
		text += ", OPENED when it came: not under this shop's warranty"
	}
	text += ": " + itoa(it.Fitted) + " fitted"
	if it.Consumed > 0 {
		text += ", " + itoa(it.Consumed) + " used up"
	}
	if it.Out > 0 {
		text += ", " + itoa(it.Out) + " given back"
	}
	if it.Here > 0 {
		text += ", " + itoa(it.Here) + " here in " + joinAnd(it.Places)
	}
	return text
}

// OwnerWishText is how it stands with an old part that the owner wants.
func OwnerWishText(w *engine.OwnerWishView) string {
	text := "old " + lower(w.Name)
	switch {
	case w.Wish.Wish == "":
		return text + ": not wanted any more"
	case w.Given != 0:
		return text + ": given back"
	case w.Shown != 0 && !w.Return:
		return text + ": shown"
	case w.Gone != 0:
		return text + ": THROWN AWAY before it was " + map[bool]string{true: "given back", false: "shown"}[w.Return]
	case w.Return:
		text += ": to be given back"
	default:
		text += ": to be shown"
	}
	switch {
	case len(w.Where) > 0:
		return text + ", it lies in " + joinAnd(w.Where)
	case !w.Off:
		return text + ", if it is replaced"
	}
	return text
}
