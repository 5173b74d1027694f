package kiosk

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
)

// nounSaid adds a noun to the sentence, or begins another one.
func (t *turn) nounSaid(tok scan.Token, repeat bool) {
	n := tok.Noun
	switch {
	case n.Type == scan.Badge && !n.Blank:
		t.badgeSaid(n)
		return
	case t.ask != nil:
		t.answer(tok)
		return
	case t.question != nil && len(t.question.choose) > 0:
		t.astray = nil
		t.chosen(n)
		return
	case n.Type == scan.JobNoun && !n.Blank && events.Job(n.ID) != t.id && !scan.Goes(grow(t.nouns, n)),
		n.Type == scan.JobNoun && !n.Blank && events.Job(n.ID) != t.id && len(t.nouns) == 0:
		t.switchTo(events.Job(n.ID))
		return
	case t.id == "" && needsJob(n.Type):
		t.no("No job is on the screen", "Scan a job card first")
		return
	}
	if n.Type == scan.Size {
		t.sizeSaid(n)
		return
	}
	if repeat && len(t.nouns) > 0 && t.nouns[len(t.nouns)-1].Same(n) {
		t.nounShown("")
		return
	}
	t.question, t.mend, t.astray = nil, nil, nil
	t.addNoun(n)
}

// needsJob reports whether a noun makes no sense without a job.
func needsJob(t scan.Type) bool {
	switch t {
	case scan.JobNoun, scan.Engine, scan.Plan, scan.Badge, scan.Range, scan.Bench, scan.Label:
		return false
	}
	return true
}

// addNoun puts a noun behind those that are there where some sentence goes on
// like that; otherwise a new sentence begins, and what was there is dropped
// aloud.
func (t *turn) addNoun(n scan.Noun) {
	next := withOwner(t.nouns, n)
	dropped := ""
	if !scan.Goes(next) {
		dropped = t.saidText()
		t.clear()
		next = withOwner(nil, n)
		if !scan.Goes(next) {
			t.no(capital(n.Text())+": nothing can be said that begins with it", "Scan the bag or part first")
			return
		}
	}
	if relative(n) && !hasOwner(next, n) {
		t.no(capital(n.Text())+" of what?", "Scan its "+map[scan.Type]string{scan.Hole: "joint", scan.Position: "part"}[n.Type]+" first")
		return
	}
	t.nouns = next
	if row := scan.Fires(t.nouns); row != nil {
		t.begin(row)
		return
	}
	t.nounShown(dropped)
}

// withOwner puts a noun behind others, and before it the joint or part that
// its own tag says, where nobody scanned one and a sentence goes on like that.
func withOwner(before []scan.Noun, n scan.Noun) []scan.Noun {
	if owner, ok := impliedBy(before, n); ok {
		if next := grow(grow(before, owner), n); scan.Goes(next) {
			return next
		}
	}
	return grow(before, n)
}

// impliedBy is the joint of a hole, or the part of a position, that was
// scanned without it.
func impliedBy(before []scan.Noun, n scan.Noun) (scan.Noun, bool) {
	owner, _, ok := strings.Cut(n.ID, ":")
	if !ok || n.Type != scan.Hole && n.Type != scan.Position {
		return scan.Noun{}, false
	}
	typ := scan.Joint
	if n.Type == scan.Position {
		typ = scan.Part
	}
	for _, b := range before {
		if b.Type == typ {
			return scan.Noun{}, false
		}
	}
	return scan.Noun{Type: typ, ID: owner, Implied: true}, true
}

func relative(n scan.Noun) bool {
	return (n.Type == scan.Hole || n.Type == scan.Position) && !strings.Contains(n.ID, ":")
}

func hasOwner(nouns []scan.Noun, n scan.Noun) bool {
	for _, b := range nouns {
		switch b.Type {
		case scan.Joint:
			if n.Type == scan.Hole {
				return true
			}
		case scan.Part, scan.Rack, scan.Measurement:
			return true
		}
	}
	return false
}

// nounShown shows the sentence so far and what it can become.
func (t *turn) nounShown(dropped string) {
	if dropped != "" {
		dropped = "Dropped: " + dropped
	}
	t.show(Plain, append([]string{dropped}, t.about(t.nouns[len(t.nouns)-1])...)...)
	t.view.Ask = t.offersText()
	t.beep(Heard)
}

// sizeSaid takes a size card: a number follows it, or the verb.
func (t *turn) sizeSaid(n scan.Noun) {
	t.sizes = grow(t.sizes, events.Kind(n.ID))
	t.show(Plain, "Size "+n.ID)
	t.view.Ask = "How many? A number, or a verb; WHERE IS"
	t.beep(Heard)
}

// chosen takes one of several nouns of one name by its scan.
func (t *turn) chosen(n scan.Noun) {
	for _, c := range t.question.choose {
		if c.Same(n) {
			t.question = nil
			t.addNoun(n)
			return
		}
	}
	t.question = nil
	t.addNoun(n)
}

// chosenBy takes one of several nouns by its number.
func (t *turn) chosenBy(n int) {
	if n < 1 || n > len(t.question.choose) {
		t.no("There is no number "+itoa(n), t.question.text)
		return
	}
	c := t.question.choose[n-1]
	t.question = nil
	t.nounSaid(scan.Token{Kind: scan.Saw, Noun: c}, false)
}
