package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// query answers a sentence that stores nothing.
func (t *turn) query() {
	row, said := t.row, t.said
	q := t.question
	t.clear()
	if row.Verb != scan.DoNotKnow {
		t.question = nil
	}
	if row.Verb == scan.CanI && said.Has(scan.Case) {
		t.mayTry(said)
		return
	}
	if row.Verb == scan.CanI && said.Part() != "" && said.Joint() == "" {
		t.nextDepth(said)
		return
	}
	if row.Verb == scan.CanI && said.Has(scan.Joint) {
		t.nextTurn(said)
		return
	}
	switch row.Verb {
	case scan.TorqueAsk:
		t.guidance(said)
	case scan.DoNotKnow:
		t.doNotKnow(said, q)
	case scan.WhatNow:
		t.whatNow()
	case scan.Missing:
		t.missing()
	case scan.CanI:
		t.blocked("can start", t.job.Can(events.Step(said.At(0, scan.Step).ID)), said.At(0, scan.Step))
	case scan.TurnOver:
		t.blocked("Turn it", t.job.MayDo(events.Turning), scan.Noun{Type: scan.Act, ID: string(events.Turning)})
	case scan.Crank:
		t.blocked("Crank it", t.job.MayDo(events.Cranking), scan.Noun{Type: scan.Act, ID: string(events.Cranking)})
	case scan.Heat, scan.HotWork:
		t.blocked("Heat is allowed", t.job.MayDo(events.Heating), scan.Noun{Type: scan.Act, ID: string(events.Heating)})
	case scan.ThisOne:
		t.thisOne(said)
	case scan.WhereIs:
		t.whereIs(said)
	case scan.AuditWord:
		t.audit(said)
	case scan.BuyListWord:
		t.buyList()
	case scan.OrdersWord:
		t.orders(said)
	case scan.Whose:
		t.whose(said)
	case scan.Cores:
		t.cores()
	case scan.OwnersThings:
		t.ownersThings()
	case scan.SlipsWord:
		t.slips(said)
	case scan.AgeingWord:
		t.ageing()
	case scan.BatchesWord:
		t.batches()
	case scan.TraysWord:
		t.trays()
	case scan.ToolsWord:
		t.tools(said)
	case scan.MustComeOff:
		t.mustComeOff(said)
	case scan.Against:
		t.against(said)
	case scan.MayStart:
		t.blocked("Start it", t.job.MayStart(), scan.Noun{Type: scan.Act, ID: string(events.Cranking)})
	case scan.RunWord:
		t.runs()
	case scan.Findings:
		t.findings()
	case scan.Worksheet:
		t.worksheet(said)
	}
}

// doNotKnow leaves a difference open and red, and goes on to the next one.
func (t *turn) doNotKnow(said *scan.Said, q *question) {
	st := t.job.State()
	n := said.At(0, scan.Short)
	en := st.Book().Entry(st.Short(n.Short))
	no := itoa(int(en.No))
	t.show(Short, capital(entryWord(en))+" "+no+" open: "+engine.Several(int(en.Open), namesOf(st).kind(st.Book().ItemName(en.Item).Kind)))
	switch {
	case en.Disputed():
		t.view.Ask = "Later: count it again, then short " + no + ", SETTLE"
	case en.Sign == ledger.Over:
		t.view.Ask = "Explained later: short " + no + ", MISCOUNT or PLAN WRONG; or the short that it answers, short " + no + ", PAIR"
	default:
		t.view.Ask = "Found later: scan short " + no + ", a bag, FOUND"
	}
	if q != nil && q.then != nil {
		t.asks(q.then)
		t.beep(Heard)
		return
	}
	t.question = nil
	t.beep(Heard)
}

// entryWord is what a difference is called.
func entryWord(en ledger.Entry) string {
	switch {
	case en.Disputed():
		return "disagreement"
	case en.Sign == ledger.Over:
		return "over"
	}
	return "short"
}

// blocked answers may I: yes, or each fact that stands in the way and what
// clears it.
func (t *turn) blocked(yes string, why []engine.Blocker, step scan.Noun) {
	if len(why) == 0 {
		if step.Type == scan.Step {
			yes = capital(namesOf(t.job.State()).step(events.Step(step.ID))) + " " + yes
		}
		lines := []string{"Yes: " + lower(yes)}
		if step.Type == scan.Act {
			lines = append(lines, "By common practice; what the maker says comes first")
		}
		t.show(Good, lines...)
		t.view.Ask = "Next: scan a noun"
		t.beep(Heard)
		return
	}
	lines := make([]string, len(why))
	for i, b := range why {
		lines[i] = b.Text
	}
	if step.Type == scan.Step {
		lines = append(lines, t.stepWhen(events.Step(step.ID))...)
	}
	t.show(Stop, append([]string{"No: " + plural(len(why), "thing") + " first"}, lines...)...)
	t.view.Ask = capital(why[0].Clear)
	if step.ID != "" {
		t.question = &question{subject: []scan.Noun{step}, offers: []scan.Word{scan.Override}, text: t.view.Ask}
	}
	for _, b := range why {
		t.list = append(t.list, b.String())
	}
	if step.Type == scan.Step {
		t.list = append(t.list, t.stepWhen(events.Step(step.ID))...)
	}
	t.beep(Refusing)
}

// whatNow lists the steps that can start, and what the others wait for.
func (t *turn) whatNow() {
	if e := t.job.State().Ended; e != nil {
		t.show(Plain, "The job has ended: "+string(e.How)+". Nothing is next")
		t.view.Ask = "Scan another job's card; or this one's, " + string(scan.Resume)
		t.beep(Heard)
		return
	}
	var can, part, wait []string
	for _, s := range t.job.WhatNow() {
		name := s.Name
		if name == "" {
			name = string(s.Step)
		}
		switch s.State {
		case engine.CanStart:
			can = append(can, "can start: "+name)
		case engine.PartDone:
			part = append(part, "begun: "+name+", left: "+shorten(joinComma(s.Left), 60))
		case engine.Blocked:
			if len(s.Blockers) > 0 {
				wait = append(wait, "waits: "+name+": "+s.Blockers[0].String()+t.whenText(s.Earliest))
			}
		}
	}
	t.show(Plain, itoa(len(can))+" steps can start, "+itoa(len(part))+" are begun, "+itoa(len(wait))+" wait")
	work := t.findingWork()
	if len(work) > 0 {
		t.view.Lines = append(t.view.Lines, plural(len(work), "decision")+" of findings to be worked off")
	}
	t.list = append(append(append(append(t.decided(), work...), part...), can...), wait...)
	t.view.Ask = "MORE, or scan a step and CAN I?"
	t.beep(Heard)
}

// missing lists what is missing before each step on.
func (t *turn) missing() {
	nm := namesOf(t.job.State())
	n := 0
	var list []string
	for _, m := range t.job.Missing() {
		if m.Missing == 0 {
			continue
		}
		n += m.Missing
		list = append(list, m.Name+": "+engine.Several(m.Missing, nm.kind(m.Kind))+" of "+itoa(m.Need))
	}
	if n == 0 {
		t.show(Good, "Nothing is missing for any step on")
	} else {
		t.show(Short, itoa(n)+" pieces missing for steps on")
	}
	t.list = list
	t.view.Ask = "MORE"
	t.beep(Heard)
}

// thisOne says whether what is in the hand belongs in a hole.
func (t *turn) thisOne(said *scan.Said) {
	kind := said.InHand()
	if kind == "" {
		t.no("This what?", "Scan a size, or the bag that it is from")
		return
	}
	a := t.job.ThisOne(said.Joint(), said.Holes()[0], kind, said.Container(0))
	if a.OK {
		t.show(Good, a.Text)
		t.beep(Heard)
	} else {
		t.show(Stop, a.Text)
		t.beep(Refusing)
	}
	t.view.Ask = capital(a.Next)
}

// whereIs says where a thing is and what happened to it.
func (t *turn) whereIs(said *scan.Said) {
	if said.Has(scan.Tool) {
		t.toolIs(said)
		return
	}
	n := said.Nouns[len(said.Nouns)-1]
	text := n.Text()
	switch n.Type {
	case scan.TrayNoun:
		text = string(engine.TrayPlace(n.ID))
		text = "place " + text[len("place/"):]
	case scan.Position:
		text = "part " + string(said.Part())
	case scan.Hole:
		text = "hole " + string(events.SeatOf(said.Joint(), said.Holes()[len(said.Holes())-1]))
	case scan.Size:
		text = "kind " + n.ID
	}
	w := t.job.Where(text)
	name := w.Name
	if name == "" {
		name = n.Text()
	}
	lines, rest := []string{capital(name)}, w.Now
	for len(rest) > 0 && (len(lines) < MaxLines-2 || len(lines)+len(rest) < MaxLines) {
		lines, rest = append(lines, capital(rest[0])), rest[1:]
	}
	if len(rest) > 0 {
		lines = append(lines, "And in "+plural(len(rest), "more place")+": see the list")
	}
	if w.Seen != 0 {
		lines = append(lines, "Last seen "+clockText(w.Seen))
	}
	t.show(Plain, lines...)
	if len(rest) > 0 || n.Type == scan.Size { // the list has all of them
		for _, now := range w.Now {
			t.list = append(t.list, capital(now))
		}
	}
	for _, h := range w.History {
		t.list = append(t.list, clockText(h.Time)+" "+h.Who+": "+h.Text)
	}
	t.view.Ask = "Next: scan a noun"
	t.beep(Heard)
}
