package kiosk

import (
	"slices"
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// mending is a correction under way: which fact, why, what instead.
type mending struct {
	list    []events.FactID
	wrong   events.FactID
	event   events.Event // as it stands
	reason  scan.Word
	instead events.Event // nil: nothing
	row     *scan.Sentence
}

var reasons = []scan.Word{scan.DidNotHappen, scan.Miscount, scan.WrongBag, scan.WrongJoint, scan.WrongJob, scan.Test}

// correct shows the list of what can be corrected.
func (t *turn) correct() {
	if t.pending() {
		t.no("CORRECT is for what is stored; the sentence on the screen is not", "CANCEL drops it")
		return
	}
	recent := t.recent()
	if len(recent) == 0 {
		t.no("Nothing is stored that could be corrected", "Scan the bag or part first")
		return
	}
	m := &mending{}
	for _, r := range recent {
		m.list = append(m.list, r.ID())
	}
	t.question, t.mend = nil, m
	t.show(Plain, "Which one was wrong?")
	t.list = t.deedList()
	t.view.Ask = "Scan its number; MORE, CANCEL"
	t.beep(Heard)
}

// mendNumber chooses the fact.
func (t *turn) mendNumber(n int) {
	m := *t.mend
	if m.event != nil || n < 1 || n > len(m.list) {
		t.no("No number "+itoa(n)+" on the list", "CORRECT shows it again")
		return
	}
	m.wrong = m.list[n-1]
	ev, _ := t.job.Standing(m.wrong)
	m.event = ev
	t.mend = &m
	t.show(Plain, "Wrong is: "+t.job.State().Tells(ev))
	t.view.Ask = "Why? " + wordsText(reasons)
	t.beep(Heard)
}

// mendWord takes the reason. A miscount asks for the right numbers, a wrong
// bag for the right one; any other means that it did not happen.
func (t *turn) mendWord(w scan.Word) {
	if t.mend.event == nil || !slices.Contains(reasons, w) {
		t.no(string(w)+" is no reason", "Why? "+wordsText(reasons))
		return
	}
	m := *t.mend
	m.reason = w
	t.mend = &m
	said := &scan.Said{Job: t.job, Dir: t.dir, Here: t.here, Who: t.badge}
	switch kinds := kindsOf(m.event); {
	case w == scan.Miscount && len(kinds) > 0:
		t.mendAsk(said, scan.Ask{Key: "sizes", Kind: scan.AskSizes, Prompt: "How many of each size was it?", Sizes: func(*scan.Said) []events.Kind { return kinds }})
	case w == scan.WrongBag && rebag(m.event, "bag/x") != nil:
		t.mendAsk(said, scan.Ask{Key: "bag", Kind: scan.AskNoun, Prompt: "Scan the right bag, rack or place", Types: []scan.Type{scan.Bag, scan.Rack, scan.Place, scan.Bench}})
	default:
		t.mendPreview()
	}
}

func (t *turn) mendAsk(said *scan.Said, a scan.Ask) {
	m := *t.mend
	m.row = &scan.Sentence{Verb: scan.Correct, Asks: []scan.Ask{a}}
	t.mend, t.row, t.said, t.ask = &m, m.row, said, newAsking(a, said)
	t.view = View{}
	t.beep(Heard)
}

// mendReply makes what should have been recorded out of the answer.
func (t *turn) mendReply() {
	m := *t.mend
	if r := t.said.Reply("sizes"); r.Key != "" {
		m.instead = recount(m.event, r.Lines)
	}
	if r := t.said.Reply("bag"); r.Key != "" {
		m.instead = rebag(m.event, scan.PlaceOf(r.Noun))
	}
	m.row = nil
	t.clear()
	t.mend = &m
	t.mendPreview()
}

// mendPreview shows what the correction would change, before OK confirms it.
func (t *turn) mendPreview() {
	m := t.mend
	text := "Nothing instead: it did not happen"
	if m.instead != nil {
		text = "Instead: " + t.job.State().Tells(m.instead)
	}
	lines := append([]string{text}, t.changes(events.Corrected{Wrong: m.wrong, Instead: m.instead, Why: m.why()})...)
	t.show(Plain, lines...)
	t.view.Ask = "OK corrects it; CANCEL leaves it"
	t.beep(Heard)
}

func (m *mending) why() string { return strings.ToLower(string(m.reason)) }

// mendOK stores the correction.
func (t *turn) mendOK() {
	m := t.mend
	if m.reason == "" {
		t.no("OK to what?", "Choose by its number, then say why")
		return
	}
	t.send(correction(events.Corrected{Wrong: m.wrong, Instead: m.instead, Why: m.why()}), &flight{undo: -1, redo: -1, mend: true})
}

// kindsOf are the sizes that a fact counted, where another number can take the
// place of each.
func kindsOf(ev events.Event) []events.Kind {
	lines := engine.LinesOf(ev)
	if e, ok := ev.(events.PartRemoved); ok && (e.Counted > 0 || e.NoneCame) {
		lines = []events.Line{{Kind: events.Kind(e.Part), Qty: e.Counted}}
	}
	if len(lines) == 0 || recount(ev, lines) == nil {
		return nil
	}
	kinds := make([]events.Kind, len(lines))
	for i, l := range lines {
		kinds[i] = l.Kind
	}
	return kinds
}

// recount is the same fact with other numbers.
func recount(ev events.Event, lines []events.Line) events.Event {
	switch e := ev.(type) {
	case events.PiecesOut:
		e.Lines = lines
		return e
	case events.PiecesFitted:
		e.Lines = lines
		return e
	case events.Counted:
		e.Lines = lines
		return e
	case events.BagClosed:
		e.Lines = lines
		return e
	case events.BagSplit:
		e.Lines = lines
		return e
	case events.PiecesMoved:
		e.Lines = lines
		return e
	case events.PiecesScrapped:
		e.Lines = lines
		return e
	case events.PiecesKept:
		e.Lines = lines
		return e
	case events.HardwareReceived:
		e.Lines = lines
		return e
	case events.KitOpened:
		e.Lines = lines
		return e
	case events.LossReported:
		e.Lines = lines
		return e
	case events.Ordered:
		e.Lines = lines
		return e
	case events.HardwareSentBack:
		e.Lines = lines
		return e
	case events.PartRemoved:
		e.Counted, e.NoneCame = lines[0].Qty, lines[0].Qty == 0
		return e
	}
	return nil
}

// rebag is the same fact with another container; nil if it has none.
func rebag(ev events.Event, to events.Place) events.Event {
	bag, isBag := strings.CutPrefix(string(to), "bag/")
	switch e := ev.(type) {
	case events.PiecesOut:
		e.To = to
		return e
	case events.PiecesFitted:
		e.From = to
		return e
	case events.Counted:
		e.Place = to
		return e
	case events.PartRemoved:
		e.To = to
		return e
	case events.HardwareReceived:
		e.To = to
		return e
	case events.KitOpened:
		e.To = to
		return e
	case events.HardwareSentBack:
		e.From = to
		return e
	case events.PiecesMoved:
		e.To = to
		return e
	case events.BagClosed:
		e.Bag = events.Code(bag)
		return given(isBag, e)
	case events.BagOpened:
		e.Bag = events.Code(bag)
		return given(isBag, e)
	case events.BagsMerged:
		e.Into = events.Code(bag)
		return given(isBag, e)
	}
	return nil
}

func given(ok bool, ev events.Event) events.Event {
	if !ok {
		return nil
	}
	return ev
}
