package engine

import (
	"slices"
	"strings"
	"time"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// HandItem is one thing that the next person has to know of and takes over.
type HandItem struct {
	About   string // one of the About constants
	Text    string // what is so; an item is known by it
	Next    string // what to do about it; empty: it is only to be known
	Restart bool   // it was broken off by the hand-over: it is begun anew
	With    events.Badge
	Since   ledger.Fact // of With: since which hand-over it stays with that person
}

// What an item of a hand-over is about, in the order in which they are read.
const (
	AboutBegun   = "begun"
	AboutTight   = "in, not tightened to the end"
	AboutClock   = "clocks that run"
	AboutInside  = "in it, and does not belong there"
	AboutCount   = "short, over, never counted"
	AboutBag     = "open bags"
	AboutCase    = "broken fasteners"
	AboutDecide  = "holds, findings, second counts"
	AboutMeasure = "measured, and open"
	AboutAway    = "away"
	AboutRun     = "after the first start"
	AboutOther   = "besides"
)

// handAbout sorts red lines; what is in none is AboutOther.
var handAbout = map[string]string{
	RedShort: AboutCount, RedOver: AboutCount, RedDisagreement: AboutCount, RedUncounted: AboutCount, RedLeftOver: AboutCount, RedMixed: AboutCount,
	RedLoan: AboutInside, RedTrial: AboutInside, RedParked: AboutInside, RedOddKind: AboutInside, RedNoStud: AboutInside, RedReused: AboutInside, RedCondemned: AboutInside, RedTurned: AboutInside,
	RedCase: AboutCase, RedOtherEnd: AboutCase, RedPastStop: AboutCase,
	RedHold: AboutDecide, RedFinding: AboutDecide, RedWork: AboutDecide, RedGate: AboutDecide,
	RedMeasure: AboutMeasure, RedSlip: AboutAway, RedStart: AboutRun, RedRunRead: AboutRun, RedObligation: AboutRun,
}

// handOrder is the order in which items are read.
var handOrder = []string{AboutBegun, AboutTight, AboutClock, AboutInside, AboutCount, AboutBag, AboutCase, AboutDecide, AboutMeasure, AboutAway, AboutRun, AboutOther}

// handing is what the fold keeps of hand-overs.
type handing struct {
	last events.HandedOver
	from events.Badge
	fact ledger.Fact
	left map[string]leftWith // what was not accepted, by its text
}

type leftWith struct {
	who  events.Badge
	fact ledger.Fact
}

// handedOver notes who accepted what. What was not accepted stays with the one
// who hands over, until it is accepted later or is no more (rule R59).
func (s *State) handedOver(e *events.HandedOver) {
	h := &s.hand
	h.last, h.from, h.fact = *e, s.rec.Operator, s.fact
	if h.left == nil {
		h.left = map[string]leftWith{}
	}
	for _, text := range e.Open {
		delete(h.left, text)
	}
	for _, text := range e.Left {
		if _, ok := h.left[text]; !ok {
			h.left[text] = leftWith{s.rec.Operator, s.fact}
		}
	}
}

// HandOver lists what the next person takes over, in the order in which it is
// read: what is begun and what is not tightened to the end, clocks that run,
// what is in and does not belong there, shorts, open bags, cases, decisions,
// measurements, what is away. A stage of turning that is begun and not done on
// all its holes is broken off by the hand-over, and begun anew by the one who
// takes it over.
func (j *Job) HandOver() []HandItem {
	s := j.State()
	var list []HandItem
	add := func(about, text, next string) { list = append(list, HandItem{About: about, Text: text, Next: next}) }
	for _, n := range j.WhatNow() {
		if n.State == PartDone {
			add(AboutBegun, n.Name+": begun, left "+wordList(n.Left), "")
		}
	}
	list = append(list, s.turning()...)
	for _, b := range s.ahead.beads {
		if b.Closed == 0 {
			text := "Sealant of " + s.nounWords(noun("step", b.Step)) + " since " + s.clock(b.Since)
			if until := b.Until(); until != 0 {
				text += ", open until " + time.UnixMicro(until).UTC().Format("15:04")
			}
			add(AboutClock, text, "close it in time, or clean it off")
		}
	}
	for _, l := range j.Red() {
		if l.Code == RedLeft {
			continue
		}
		about, ok := handAbout[l.Code]
		if !ok {
			about = AboutOther
		}
		add(about, l.Text, l.Scan)
	}
	for _, b := range s.bagList {
		if b.Retired == 0 && !b.Closed && len(s.At(b.Place())) > 0 {
			add(AboutBag, capital(s.placeWords(b.Place()))+" is open"+s.bagFor(b), "CLOSE it, with its count")
		}
	}
	for i := range list {
		if l, ok := s.hand.left[list[i].Text]; ok {
			list[i].With, list[i].Since = l.who, l.fact
		}
	}
	slices.SortStableFunc(list, func(a, b HandItem) int { return slices.Index(handOrder, a.About) - slices.Index(handOrder, b.About) })
	return list
}

func (s *State) bagFor(b *Bag) string {
	switch {
	case b.Joint != "":
		return ", of " + s.jointWords(string(b.Joint))
	case b.Part != "":
		return ", of " + s.partWords(string(b.Part))
	}
	return ""
}

// turning lists the joints that are in and not turned to the end, and the stages
// that are done on some of their holes only.
func (s *State) turning() []HandItem {
	var list []HandItem
	var seen []string
	p := s.lay.plan
	for i := range p.Joints {
		for _, t := range s.job.Tightened(p.Joints[i].ID) {
			if contains(seen, t.Order) {
				continue
			}
			seen = append(seen, t.Order)
			for _, row := range t.Rows {
				if item, ok := s.brokenOff(&t, &row); ok {
					list = append(list, item)
				}
			}
		}
		var seats []plan.SeatIndex
		for _, ix := range p.Joints[i].Seats[:p.Joints[i].Own] {
			if s.now.Seat(ix) == plan.SeatFilled {
				seats = append(seats, ix)
			}
		}
		if len(seats) > 0 {
			list = append(list, HandItem{About: AboutTight, Text: p.SeatNames(seats) + ": in, not tightened to the end", Next: "tighten them and scan STAGE"})
		}
	}
	for _, u := range s.unset() {
		text, scan := u.words(s)
		list = append(list, HandItem{About: AboutTight, Text: text, Next: scan})
	}
	for _, u := range s.unpressed() {
		text, scan := u.words(s)
		list = append(list, HandItem{About: AboutTight, Text: text, Next: scan})
	}
	return list
}

// brokenOff is a stage that some holes of the order have and some have not. One
// by angle is begun anew by other hands.
func (s *State) brokenOff(t *Tightened, row *StageRow) (HandItem, bool) {
	done, open, what := 0, 0, ""
	for i, c := range row.Cells {
		if !c.Is || !t.Spots[i].In || t.Spots[i].Absent {
			continue
		}
		switch {
		case c.State == stage.Open:
			open++
		case !c.Presumed:
			done++
		}
		what = c.What
	}
	if done == 0 || open == 0 || row.Due != "" {
		return HandItem{}, false
	}
	item := HandItem{About: AboutTight, Text: t.Order + ", stage " + itoa(row.Number) + ", " + what + ": done on " + itoa(done) + " of " + itoa(done+open),
		Next: "go on with STAGE"}
	if strings.Contains(what, "angle") || strings.Contains(what, "deg") {
		item.Restart, item.Next = true, "other hands begin it anew: the joint, RESTART"
	}
	return item, true
}

// NextUp is what the one who hands over would do next: the first steps that can
// start.
func (j *Job) NextUp(most int) []StepNow {
	var list []StepNow
	for _, n := range j.WhatNow() {
		if n.State == CanStart && !n.Optional && len(list) < most {
			list = append(list, n)
		}
	}
	return list
}

// LastHandOver is the last hand-over: from whom, what was accepted and what was
// not. False: there was none.
func (s *State) LastHandOver() (from events.Badge, e events.HandedOver, fact ledger.Fact, ok bool) {
	return s.hand.from, s.hand.last, s.hand.fact, s.hand.fact != 0
}

// TakeOver is the incoming person's word: what is accepted, and what is not and
// stays with who hands over. Nobody takes over from himself.
type TakeOver struct {
	From, To events.Badge
	Open     []string
	Left     []string
	Note     string
}

func (c TakeOver) decide(*State) (events.Event, error) {
	switch {
	case c.To == "":
		return nil, refuse(Malformed, "scan the badge of who takes it over", "nobody takes it over")
	case c.To == c.From:
		return nil, refuse(NeedsTwo, "scan the badge of the one who comes", "%s cannot take over from %s", c.To, c.From)
	}
	return events.HandedOver{To: c.To, Open: c.Open, Left: c.Left, Note: c.Note}, nil
}

// handed lists what nobody has taken over (rule R59).
func (r *redList) handed() {
	if len(r.s.hand.left) == 0 {
		return
	}
	for _, l := range r.lines[:len(r.lines):len(r.lines)] {
		if left, ok := r.s.hand.left[l.Text]; ok {
			r.add(RedLeft, left.fact, "Not taken over from "+string(left.who)+" on "+r.s.clock(left.fact)+": "+l.Text, "settle it; or take it over: "+say("HAND OVER"))
		}
	}
}
