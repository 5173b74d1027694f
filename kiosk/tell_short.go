package kiosk

import (
	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// shorts tells how a short, an over or a disagreement ended.
func (t *Telling) shorts(ev events.Event) string {
	switch e := ev.(type) {
	case events.ShortEnded:
		return t.ended(e)
	case events.DisagreementSettled:
		return "Settled: what bench " + string(e.Falls.Terminal) + " told falls" + why(e.Why)
	case events.Corrected:
		return t.corrected(e)
	case events.Overridden:
		return "Let pass by " + string(e.Second) + ": " + e.Ask + why(e.Why) + ". It stays on the record"
	}
	return ""
}

func why(text string) string {
	if text == "" {
		return ""
	}
	return ", " + text
}

func (t *Telling) ended(e events.ShortEnded) string {
	k := t.st.Short(e.Short)
	en := t.st.Book().Entry(k)
	if en.No == 0 {
		return "That difference is not there any more"
	}
	n := int(en.Qty)
	if e.Qty > 0 {
		n = e.Qty
	}
	what := engine.Several(n, t.kind(t.st.Book().ItemName(en.Item).Kind))
	rest := ""
	if en.Open > 0 {
		rest = ". " + capital(entryWord(en)) + " " + itoa(int(k)) + ": " + itoa(int(en.Open)) + " still open"
	} else if len(t.st.OpenShorts()) == 0 {
		rest = ". Nothing short"
	}
	switch e.How {
	case events.Found:
		if e.To == "" {
			return capital(what) + " found" + rest
		}
		return capital(what) + " into " + t.place(e.To) + rest
	case events.StillIn:
		text := capital(what) + " still in"
		for i, h := range e.Holes {
			text += map[bool]string{true: ", hole ", false: ", "}[i == 0] + string(h)
		}
		return text + rest
	case events.NeverThere:
		return capital(what) + " never there: the shop did not lose it" + rest
	case events.Miscount:
		return capital(entryWord(en)) + " " + itoa(int(k)) + " was a miscount" + rest
	case events.PlanWrong:
		return capital(entryWord(en)) + " " + itoa(int(k)) + ": the plan is wrong about " + what + rest
	case events.Paired:
		return "Short " + itoa(int(k)) + " and over " + itoa(int(t.st.Short(e.With))) + " were one act" + rest
	case events.Borrowed:
		return capital(what) + " in job " + string(e.Job) + rest
	}
	return capital(what) + " given up, " + string(e.Second) + " signed" + rest
}

func (t *Telling) corrected(e events.Corrected) string {
	r, ok := t.Job.Find(e.Wrong)
	if !ok {
		return "Corrected"
	}
	if c, ok := r.Event.(events.Corrected); ok && e.Instead == nil {
		if o, ok := t.Job.Find(c.Wrong); ok {
			return "Put back: " + t.st.Tells(o.Event)
		}
	}
	if e.Instead == nil {
		return "Taken back: " + t.st.Tells(r.Event)
	}
	return "Corrected: " + t.st.Tells(e.Instead) + ", instead of " + t.st.Tells(r.Event)
}

// difference says of the differences that a fact showed when each is first
// missing, when it was last known there, and where to look.
func (t *Telling) difference() string {
	if len(t.Opened) == 0 {
		return ""
	}
	e := t.Opened[0]
	if e.Disputed() {
		return "Two benches disagree about " + t.place(t.st.Book().Path(e.Place)) + ": count it again, then SETTLE"
	}
	if e.Sign == ledger.Over {
		if _, ok := t.Record.Event.(events.CavityLooked); ok {
			return ""
		}
		if _, ok := t.Record.Event.(events.PiecesOut); !ok {
			return "More than the book had there: from another place, or a miscount?"
		}
		return "More than the book: one hole more than the plan, from another joint, left here by somebody, or a miscount?"
	}
	text := "First missing now; last known there: " + t.lastKnown(e) + "."
	switch t.Record.Event.(type) {
	case events.OtherEndTold, events.FastenerBroken:
		text = t.openNow()
	case events.LossReported:
		text = "Short " + itoa(int(e.No)) + " open since now."
	}
	if look := t.lookHere(); look != "" {
		text += " " + look
	}
	return text
}

// openNow names what is open since the fact: "Short 1 open: other end of
// M8x1.25x45 stud".
func (t *Telling) openNow() string {
	var list []string
	for _, e := range t.Opened {
		list = append(list, "short "+itoa(int(e.No))+": "+t.kind(t.st.Book().ItemName(e.Item).Kind))
	}
	return "Open: " + joinComma(list) + "."
}

// lastKnown is when a count last had it, or that only the plan says so.
func (t *Telling) lastKnown(e ledger.Entry) string {
	if from, _ := t.st.LostBetween(e.No); from != 0 {
		return "counted " + clockText(from)
	}
	return "presumed"
}

// lookHere names the two likeliest places to look.
func (t *Telling) lookHere() string {
	id := t.st.ShortID(t.Opened[0].No)
	for _, d := range t.Job.Differences() {
		if d.Short == id && len(d.Look) > 0 {
			return "Look first: " + joinComma(d.Look[:min(2, len(d.Look))])
		}
	}
	return ""
}
