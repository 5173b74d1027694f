package kiosk

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
)

// containers tells what happened to bags, racks and what is in them.
func (t *Telling) containers(ev events.Event) string {
	switch e := ev.(type) {
	case events.Counted:
		return t.counted(e.Place, e.Lines, e.All)
	case events.BagLabelled:
		if e.Part != "" {
			return "Bag " + string(e.Bag) + " is for " + lower(t.part(e.Part))
		}
		return "Bag " + string(e.Bag) + " is for " + lower(t.joint(e.Joint))
	case events.BagOpened:
		return "Bag " + string(e.Bag) + " opened"
	case events.BagClosed:
		if len(e.Lines) == 0 {
			return "Bag " + string(e.Bag) + " closed, not counted"
		}
		return "Bag " + string(e.Bag) + " closed, " + itoa(total(e.Lines)) + t.ofBook(e.Lines)
	case events.BagsMerged:
		return "Bag " + string(e.From) + " tipped into bag " + string(e.Into) + "; " + string(e.From) + " is done with"
	case events.BagSplit:
		return t.lines(e.Lines) + " from bag " + string(e.From) + " into bag " + string(e.Into)
	case events.BagRetired:
		return "Bag " + string(e.Bag) + " is empty and its label torn up"
	case events.LabelReprinted:
		text := "Label " + string(e.Code) + " printed again"
		if e.Why != "" {
			text += ", " + lower(e.Why)
		}
		return text + ": tear up the old one"
	case events.PiecesMoved:
		return t.moved(e)
	case events.TraySorted:
		var piles []string
		for _, p := range e.Into {
			piles = append(piles, t.lines(p.Lines)+" into "+t.place(p.To))
		}
		return capital(t.place(e.From)) + " sorted: " + strings.Join(piles, "; ")
	case events.PiecesScrapped:
		return capital(t.lines(e.Lines)) + " scrapped"
	case events.PiecesKept:
		return capital(t.lines(e.Lines)) + " kept as a sample, not for use"
	case events.ConditionChanged:
		return capital(t.lines(e.Lines)) + " in " + t.place(e.Place) + ": " + map[events.Condition]string{events.Condemned: "not to be used again",
			events.MeasuredGood: "measured, good", events.New: "new", events.Used: "used", events.Sample: "samples"}[e.Cond]
	case events.BenchSwept:
		if e.Joint != "" {
			return "Nothing of " + lower(t.joint(e.Joint)) + " is loose on bench " + string(e.Bench)
		}
		return "Nothing of this job is loose on bench " + string(e.Bench)
	case events.HardwareReceived:
		if e.AsFound {
			return capital(t.lines(e.Lines)) + ", used, received from " + t.place(e.From) + ", in " + t.place(e.To)
		}
		text := capital(t.lines(e.Lines)) + " received from " + t.place(e.From) + ", in " + t.place(e.To)
		if e.Order != "" {
			text += ", of order " + e.Order
		}
		if len(e.Short) > 0 {
			text += "; " + t.lines(e.Short) + " delivered short: to be bought again"
		}
		return text
	case events.KitOpened:
		return "Kit " + e.Kit + " opened: " + plural(total(e.Lines), "piece") + t.kitText(e)
	case events.LossReported:
		text := capital(t.lines(e.Lines)) + " gone from " + t.placeShort(e.From)
		if e.Cavity != "" {
			text += ", heard going into " + lower(t.cavity(e.Cavity))
		}
		return text
	case events.HardwareLent:
		return capital(t.lines(e.Lines)) + " lent to job " + string(e.To) + ". Its number is " + e.Ref + ": the other job says BORROW with it"
	case events.HardwareBorrowed:
		return capital(t.lines(e.Lines)) + " borrowed from job " + string(e.From) + ", number " + e.Ref + ", into " + t.place(e.To)
	}
	return ""
}

// counted is "Bag B2KCZ6EE: 18 of 18", or "17 of 18" with what is missing.
func (t *Telling) counted(p events.Place, lines []events.Line, all bool) string {
	where := capital(t.place(p))
	if all && len(lines) == 0 {
		return where + " is empty" + t.restText(p)
	}
	return where + ": " + itoa(total(lines)) + t.ofBook(lines)
}

func (t *Telling) ofBook(lines []events.Line) string {
	if len(t.Opened) > 0 {
		return " counted" + t.bookSays(lines)
	}
	if t.overtaken() {
		return " counted then"
	}
	return " of " + itoa(total(lines))
}

// restText says what a joint came to when its bag is empty.
func (t *Telling) restText(p events.Place) string {
	joint, _ := scan.BagOf(t.Job, events.Code(strings.TrimPrefix(string(p), "bag/")))
	if len(t.Opened) > 0 {
		return t.stillIn(p)
	}
	j, ok := t.p.Joint(joint)
	if !ok {
		return ""
	}
	in, left, loose := 0, 0, 0
	for _, ix := range t.p.Joints[j].Seats {
		switch st := t.st.Now().Seat(ix); {
		case inSeat(st):
			in++
			if !finished(st) {
				loose++
			}
		case len(t.p.Seats[ix].Members) > 0:
			left++
		}
	}
	if in == 0 {
		return ""
	}
	text := ". " + t.joint(joint) + ": " + itoa(in) + " fitted"
	if loose > 0 {
		text += ", not tightened"
	}
	if left > 0 {
		text += "; " + itoa(left) + " still to come"
	}
	return text
}

// stillIn says what the book has in a place that is empty.
func (t *Telling) stillIn(events.Place) string { return t.bookSays(nil) }

func (t *Telling) moved(e events.PiecesMoved) string {
	if strings.HasPrefix(string(e.From), "bench/") && strings.HasPrefix(string(e.To), "bag/") {
		return capital(t.lines(e.Lines)) + " put into " + t.place(e.To)
	}
	if len(e.Lines) == 0 {
		return "Everything in " + t.place(e.From) + " is in " + t.place(e.To) + " now"
	}
	return capital(t.lines(e.Lines)) + " from " + t.placeShort(e.From) + " to " + t.place(e.To)
}
