package panel

import (
	"strings"

	"countback/events"
	"countback/kiosk"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// Kind is which panel is on the screen.
type Kind uint8

// The kinds of panel.
const (
	Bench Kind = iota
	Joint
	Rack
	Bag
	Steps
	Missing
	Case
	Audit
	Where
	HandOver
	CatchUp
	List // the screen's own list
	Scope
	Measure
	Slip
	Slips
	Buy
	Orders
	Cores
	Owner
	Findings
	Run
	Tools
	Tool
	Trays
	Tray
	Sort // what lies mixed in a place, and where it goes
	Batches
	Turning // how far a joint or a pressed part is, and what is next at it
)

// Topic is what the panel is about. It follows from what was scanned, so that
// nobody has to choose a screen.
type Topic struct {
	Kind Kind
	ID   string        // of a joint, rack, bag, step, case, audit; of Where the whole noun
	Ask  []events.Hole // holes or positions that were named
	Just events.FactID // the fact stored last, if it was about this
	// Blind: a count of what comes out of the joint is about to begin, so its
	// holes are not shown.
	Blind bool
	// Catch is the deepest part that is off while a bench catches up: its panel
	// comes back after every count, until nothing is left to count.
	Catch string
}

// Heard is one scan and what came of it.
type Heard struct {
	Before []scan.Noun // what the screen was about before it
	Token  scan.Token
	After  []scan.Noun     // and after it
	Stored []events.Record // what is on disk since
	View   kiosk.View
	// Uncounted is how many joints and parts of the job came out by presumption
	// and were not counted yet.
	Uncounted int
}

// byWord are the words that ask for a panel.
var byWord = map[scan.Word]Kind{scan.WhatNow: Steps, scan.Missing: Missing, scan.AuditWord: Audit, scan.WhereIs: Where,
	scan.HandOver:    HandOver,
	scan.BuyListWord: Buy, scan.OrdersWord: Orders,
	scan.Worksheet: Measure, scan.CanI: Steps, scan.Help: List, scan.Correct: List, scan.TurnOver: List, scan.Crank: List, scan.Heat: List,
	scan.MustComeOff: Scope,
	scan.SlipsWord:   Slips,
	scan.Cores:       Cores, scan.OwnersThings: Owner}

// Follow is the topic after a scan.
func (t Topic) Follow(h Heard) Topic {
	next := t.follow(h)
	switch {
	case t.Catch == "" || next.Kind == CatchUp && next.Catch != t.Catch:
	case h.Token.Kind == scan.Said1 && h.Token.Word == scan.Cancel, h.Token.Kind == scan.Saw && h.Token.Noun.Type == scan.JobNoun:
	case len(h.Stored) > 0 && h.Uncounted == 0: // it says so, and is over
		return Topic{Kind: CatchUp, ID: t.Catch, Just: next.Just}
	case len(h.Stored) > 0:
		return Topic{Kind: CatchUp, ID: t.Catch, Catch: t.Catch, Just: next.Just}
	default:
		next.Catch = t.Catch
	}
	return next
}

func (t Topic) follow(h Heard) Topic {
	if len(h.Stored) > 0 {
		return t.stored(&h.Stored[len(h.Stored)-1])
	}
	switch h.Token.Kind {
	case scan.Said1:
		return t.word(h)
	case scan.Saw:
		return t.nouns(h)
	}
	return t
}

// word is the topic after a card.
func (t Topic) word(h Heard) Topic {
	kind, ok := byWord[h.Token.Word]
	if h.Token.Word == scan.Cancel {
		return Topic{}
	}
	if !ok {
		if t.Kind == List && h.Token.Word != scan.More && h.View.Pages == 0 {
			return Topic{}.nouns(h)
		}
		return t
	}
	if h.View.Sign == kiosk.Stop && !mayRefuse(h.Token.Word) {
		return t // the word did not go with what was on the screen
	}
	if next, ok := handWord(kind, h); ok {
		return next
	}
	next := Topic{Kind: kind}
	switch kind {
	case List:
		next.ID = string(h.Token.Word)
	case Where:
		next.ID = wherefrom(h.Before)
	case Scope:
		if next.ID = scopeID(h.After); next.ID == "" {
			next.ID = scopeID(h.Before)
		}
	case Slips:
		for _, n := range h.Before {
			if n.Type == scan.Slip {
				next.ID = n.ID
			}
		}
	case Orders:
		for _, n := range h.Before {
			switch n.Type {
			case scan.Order:
				next.ID = n.ID
			case scan.Kit:
				return Topic{Kind: List, ID: string(h.Token.Word)}
			}
		}
	case Steps, Audit, Measure:
		for _, n := range h.Before {
			if n.Type == scan.Step || n.Type == scan.Audit || n.Type == scan.Measurement {
				next.ID = n.ID
			}
			if n.Type == scan.Case {
				return Topic{Kind: Case, ID: n.ID}
			}
			if kind == Steps && (n.Type == scan.Joint || n.Type == scan.Part) {
				return Topic{Kind: Turning, ID: n.Text(), Ask: askedHoles(h.Before)}
			}
		}
	}
	if (kind == Where || kind == Scope) && next.ID == "" {
		return t
	}
	return next
}

// mayRefuse reports whether a word is a question that is answered with no.
func mayRefuse(w scan.Word) bool {
	return w == scan.CanI || w == scan.TurnOver || w == scan.Crank || w == scan.Heat || w == scan.MayStart
}

// wherefrom is the noun that WHERE IS is about, as a type word and an id.
func wherefrom(nouns []scan.Noun) string {
	if len(nouns) == 0 {
		return ""
	}
	n := nouns[len(nouns)-1]
	switch n.Type {
	case scan.Size:
		return "kind " + n.ID
	case scan.Position:
		part, _, _ := strings.Cut(n.ID, ":")
		return "part " + part
	case scan.Hole:
		if !strings.Contains(n.ID, ":") {
			for _, o := range nouns {
				if o.Type == scan.Joint {
					return "hole " + o.ID + ":" + n.ID
				}
			}
		}
	}
	return n.Text()
}

// nouns is the topic of the nouns on the screen: the last one that has a panel.
// A hole or position is shown on the panel of what it is in, and a container
// into which a joint is counted on that of the joint.
func (t Topic) nouns(h Heard) Topic {
	if len(h.After) == 0 {
		if h.Token.Noun.Type == scan.JobNoun || h.Token.Noun.Type == scan.Badge {
			return Topic{}
		}
		return t
	}
	next := Topic{}
	for _, n := range h.After {
		if n.Type == scan.Beside {
			return Topic{Kind: Scope, ID: scopeID(h.After)}
		}
		if kind, ok := topicOf(n); ok {
			next = Topic{Kind: kind, ID: idOf(n, kind)}
		}
	}
	if joint, ok := jointThenContainer(h.After); ok && (next.Kind == Bag || next.Kind == Rack || next.Kind == Tray) {
		next = Topic{Kind: Joint, ID: joint, Blind: true}
	}
	next.Ask = askedHoles(h.After)
	if next.Kind == Bench {
		return Topic{}
	}
	return next
}

// askedHoles are the holes and positions that were named.
func askedHoles(nouns []scan.Noun) (list []events.Hole) {
	for _, n := range nouns {
		if n.Type == scan.Hole || n.Type == scan.Position {
			list = append(list, events.Hole(n.ID[strings.IndexByte(n.ID, ':')+1:]))
		}
	}
	return list
}

// jointThenContainer is the joint where what comes out of it goes into a
// container; the other way round it goes in, and the holes must be seen.
func jointThenContainer(nouns []scan.Noun) (joint string, ok bool) {
	for _, n := range nouns {
		switch n.Type {
		case scan.Joint:
			joint = n.ID
		case scan.Bag, scan.Rack, scan.TrayNoun:
			return joint, joint != ""
		}
	}
	return "", false
}

// topicOf is the panel of a noun; ok is false where it has none.
func topicOf(n scan.Noun) (kind Kind, ok bool) {
	switch n.Type {
	case scan.Case:
		return Case, true
	case scan.Joint:
		return Joint, true
	case scan.Rack:
		return Rack, true
	case scan.Bag:
		return Bag, true
	case scan.Step:
		return Steps, true
	case scan.Measurement:
		return Measure, true
	case scan.Audit:
		return Audit, true
	case scan.Part, scan.Loan, scan.Cavity:
		return Where, true
	case scan.Slip:
		return Slip, true
	}
	kind, ok = handTopics[n.Type]
	return kind, ok
}

func idOf(n scan.Noun, kind Kind) string {
	if kind == Where {
		return n.Text()
	}
	return n.ID
}

// stored is the topic once a fact is on disk: what it was about stays on the
// screen and shows what became of it.
func (t Topic) stored(r *events.Record) Topic {
	t.Just, t.Ask, t.Blind = r.ID(), nil, false
	if next, ok := handStored(r.Event); ok {
		next.Just = r.ID()
		return next
	}
	switch e := r.Event.(type) {
	case events.FastenerBroken:
		return Topic{Kind: Case, ID: string(e.Case), Just: r.ID()}
	case events.RackRead:
		return Topic{Kind: Rack, ID: strings.TrimPrefix(string(e.Rack), "rack/"), Just: r.ID()}
	case events.PartPlaced:
		code, _, _ := strings.Cut(strings.TrimPrefix(string(e.Rack), "rack/"), "/")
		return Topic{Kind: Rack, ID: code, Just: r.ID()}
	case events.Counted:
		if bag, ok := strings.CutPrefix(string(e.Place), "bag/"); ok {
			return Topic{Kind: Bag, ID: bag, Just: r.ID()}
		}
	case events.PartPressed:
		return Topic{Kind: Where, ID: "part " + string(e.Part), Just: r.ID()}
	case events.DepthAccepted:
		return Topic{Kind: Where, ID: "part " + string(e.Part), Just: r.ID()}
	case events.Measured:
		return Topic{Kind: Measure, ID: e.Measurement, Just: r.ID()}
	case events.CaughtUp:
		return Topic{Kind: CatchUp, ID: string(e.Deepest), Catch: string(e.Deepest), Just: r.ID()}
	case events.AuditSigned:
		return Topic{Kind: Audit, ID: string(e.Point), Just: r.ID()}
	case events.JobOpened, events.TagsIssued, events.HandedOver:
		return Topic{Just: r.ID()}
	}
	switch t.Kind {
	case Steps, Missing, List, CatchUp,
		Buy, Orders:
		return Topic{Just: t.Just}
	}
	return t
}

// Of is the panel of a topic. A count that is going on stands before every
// other panel: it must not be seen what is expected.
func Of(t Topic, j *engine.Job, here events.Terminal, s kiosk.Screen, v kiosk.View) Panel {
	switch tally, counting := s.Tally(); {
	case counting:
		return OfCount(tally, v.Said)
	case len(v.List) > 0 && !ownList(t.Kind):
		return OfList(t.ID, s.Listed())
	case j == nil:
		return WithoutJob()
	}
	switch t.Kind {
	case Joint:
		p := OfJoint(j, events.Joint(t.ID), t.Ask)
		if t.Blind {
			p.blind()
		}
		return p
	case Rack:
		return OfRack(j, events.Code(t.ID), t.Ask)
	case Bag:
		return OfBag(j, events.Code(t.ID), t.Just)
	case Steps:
		return OfSteps(j, events.Step(t.ID))
	case Missing:
		return OfMissing(j)
	case Buy:
		return OfBuy(j)
	case Orders:
		return OfOrders(j, t.ID, j.Today())
	case Case:
		return OfCase(j, events.Code(t.ID))
	case Audit:
		return OfAudit(j, events.AuditPoint(t.ID))
	case Where:
		return OfWhere(j, t.ID)
	case HandOver:
		return OfHandOver(j)
	case CatchUp:
		return OfCatchUp(j, events.Part(t.ID))
	case Scope:
		return OfScope(j, scopeOf(t.ID))
	case Measure:
		return OfMeasure(j, t.ID)
	case Cores:
		return OfCores(j)
	case Owner:
		return OfOwner(j)
	case Slip:
		return OfSlip(j, events.Code(t.ID))
	case Slips:
		if t.ID != "" {
			return OfSlip(j, events.Code(t.ID))
		}
		return OfSlips(j)
	}
	if p, ok := t.handPanel(j, here, s); ok {
		return p
	}
	return OfBench(j, here)
}

// ownList reports whether a panel shows by itself what the screen lists.
func ownList(k Kind) bool {
	switch k {
	case Steps, Missing, Where, Audit, HandOver, Scope, Measure, Slip, Slips,
		Buy, Orders, Cores, Owner:
		return true
	}
	return k >= Findings
}
