package kiosk

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// follow asks what the fact left open.
func (t *turn) follow(f *flight, told *Telling) {
	var list []*question
	for i := range told.Opened {
		if q := t.asksAbout(told.Opened[i]); q != nil {
			list = append(list, q)
		}
	}
	if len(told.Opened) > 0 && askedAlready(told.Record.Event) {
		list = nil
	}
	for i := len(list) - 2; i >= 0; i-- {
		list[i].then = list[i+1]
	}
	if len(list) > 0 {
		t.asks(list[0])
		return
	}
	if q := t.afterwards(f, told); q != nil {
		t.asks(q)
		return
	}
	t.view.Ask = "Next: scan a noun"
}

func (t *turn) asks(q *question) {
	t.question = q
	t.view.Ask = q.text
}

// askedAlready: what ends a difference is not asked about again.
func askedAlready(ev events.Event) bool {
	switch ev.(type) {
	case events.ShortEnded, events.DisagreementSettled, events.Corrected, events.LossReported, events.FastenerBroken, events.OtherEndTold:
		return true
	}
	return false
}

// asksAbout is the question after a short or an over.
func (t *turn) asksAbout(e ledger.Entry) *question {
	st := t.job.State()
	id := st.ShortID(e.No)
	if id.N == 0 || e.Open == 0 {
		return nil
	}
	q := &question{subject: []scan.Noun{{Type: scan.Short, ID: itoa(int(e.No)), Short: id}}}
	what := engine.Several(int(e.Open), namesOf(st).kind(st.Book().ItemName(e.Item).Kind))
	no := "Short " + itoa(int(e.No)) + ", " + what + ": "
	switch {
	case e.Disputed():
		q.offers = []scan.Word{scan.Settle, scan.DoNotKnow}
		q.text = "Disagreement " + itoa(int(e.No)) + ", " + what + ": count it again, then SETTLE; or DO NOT KNOW"
	case e.Sign == ledger.Over:
		q.offers = []scan.Word{scan.PlanWrong, scan.Miscount, scan.DoNotKnow}
		q.text = "Over " + itoa(int(e.No)) + ", " + what + ": PLAN WRONG, MISCOUNT or DO NOT KNOW?"
		t.mayPair(q, e)
	case cameShort(st, e):
		q.offers = []scan.Word{scan.StillToCome, scan.StillIn, scan.NeverThere, scan.DoNotKnow}
		q.text = no + "STILL TO COME, STILL IN, NEVER THERE or DO NOT KNOW?"
	case st.Book().Class(e.Place) == ledger.Fitted:
		q.offers = []scan.Word{scan.StillIn, scan.Broken, scan.NeverThere, scan.DoNotKnow}
		q.text = no + "STILL IN, BROKEN, NEVER THERE or DO NOT KNOW?"
	case e.After == 0:
		q.offers = []scan.Word{scan.FoundWord, scan.NeverThere, scan.Miscount, scan.DoNotKnow}
		q.text = no + "FOUND, NEVER THERE, MISCOUNT or DO NOT KNOW?"
	default:
		q.offers = []scan.Word{scan.FoundWord, scan.Miscount, scan.DoNotKnow}
		q.text = no + "FOUND, MISCOUNT or DO NOT KNOW?"
	}
	return q
}

// cameShort reports whether fewer came back of a slip than went with it.
func cameShort(st *engine.State, e ledger.Entry) bool {
	r := st.Fact(e.Shown)
	if r == nil || e.Sign != ledger.Short {
		return false
	}
	_, back := r.Event.(events.Returned)
	return back
}

// mayPair offers PAIR where one open short, and only one, is of the same kind
// as an over.
func (t *turn) mayPair(q *question, over ledger.Entry) {
	st := t.job.State()
	var match []ledger.Entry
	for _, k := range st.OpenShorts() {
		if e := st.Book().Entry(k); e.Sign == ledger.Short && st.Book().KindOf(e.Item) == st.Book().KindOf(over.Item) {
			match = append(match, e)
		}
	}
	if len(match) != 1 {
		return
	}
	q.pair = []scan.Noun{{Type: scan.Short, ID: itoa(int(match[0].No)), Short: st.ShortID(match[0].No)}, q.subject[0]}
	q.offers = append(q.offers, scan.Pair)
	q.text = "Is it what short " + itoa(int(match[0].No)) + " lacks? PAIR. Or " + q.text
}

// afterwards is what a fact without a difference makes one ask.
func (t *turn) afterwards(f *flight, told *Telling) *question {
	nm := namesOf(t.job.State())
	switch e := told.Record.Event.(type) {
	case events.FastenerBroken:
		if e.OtherEnd == "" {
			return &question{subject: []scan.Noun{{Type: scan.Case, ID: string(e.Case)}}, offers: []scan.Word{scan.Yes, scan.No},
				text: "Have you the other end? YES or NO"}
		}
	case events.PiecesFitted:
		if e.All && told.Record.Known == events.Claimed && e.From != "" {
			return &question{text: "Scan " + nm.place(e.From) + ": EMPTY, or COUNT how many are left"}
		}
	case events.Counted:
		if bag, ok := strings.CutPrefix(string(e.Place), "bag/"); ok {
			if q := t.gateOf(events.Code(bag)); q != nil {
				return q
			}
		}
	case events.Measured:
		if q := t.readAgain(e); q != nil {
			return q
		}
	case events.Returned:
		if v, ok := t.job.SlipNow(e.Slip); ok && len(v.Unlooked) > 0 {
			return &question{subject: []scan.Noun{{Type: scan.Slip, ID: string(e.Slip)}}, offers: []scan.Word{scan.Looked},
				text: "Look it over before it is fitted: faces, bores, threads. Then LOOKED; or the part, FINDING"}
		}
	case events.ShortEnded:
		if f.row != nil && f.row.Verb == scan.Broken {
			return &question{text: "Which hole is it? Scan the hole, then BROKEN"}
		}
	}
	return t.gateNow(f)
}

// gateOf asks for the second person after the count of a bag, where all of a
// step with a gate is in that the bag's pieces went to.
func (t *turn) gateOf(bag events.Code) *question {
	st := t.job.State()
	joint, _ := scan.BagOf(t.job, bag)
	for _, g := range st.Gates() {
		ix, ok := st.Plan().Step(g.Step)
		if !ok || !g.Owed || g.Passed || !st.Now().IsDone(ix) {
			continue
		}
		for _, seat := range st.Plan().Steps[ix].Fastens {
			if st.Plan().Joints[st.Plan().Seats[seat].Joint].ID == joint {
				return t.gateAsks(g.Step)
			}
		}
	}
	return nil
}

func (t *turn) gateAsks(step events.Step) *question {
	return &question{subject: []scan.Noun{{Type: scan.Step, ID: string(step)}}, offers: []scan.Word{scan.Gate},
		text: capital(namesOf(t.job.State()).step(step)) + " waits for a second person: GATE, then the second badge"}
}

// gateNow asks for the second person when a step with a gate has come to its end.
func (t *turn) gateNow(f *flight) *question {
	st := t.job.State()
	for _, g := range st.Gates() {
		if !g.Owed || g.Passed || f.before == nil || f.before.gates[string(g.Step)] {
			continue
		}
		if ix, ok := st.Plan().Step(g.Step); ok && st.Now().IsDone(ix) {
			return t.gateAsks(g.Step)
		}
	}
	return nil
}
