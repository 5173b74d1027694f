package kiosk

import (
	"slices"
	"strings"

	"countback/kiosk/scan"
)

// astray is a scan that did not get into the sentence on the screen: a label
// that could not be read, or a noun that answers nothing there. As long as it
// is not scanned again no number and no verb is taken, since they would be said
// of what was scanned before it.
type astray struct {
	text string
	noun scan.Noun // that was read; its ID is empty otherwise
}

// loses keeps in mind that a scan which was meant for the sentence or the
// question on the screen could not be read. What was to be a number or a verb
// is not waited for: whoever sees that it was not taken gives it again.
func (t *turn) loses(tok scan.Token) {
	if t.pending() || t.question != nil && t.question.to == "" && len(t.question.choose) == 0 {
		if !likeCard(tok, t.ask != nil) {
			t.astray = &astray{text: shorten(tok.Line, 40)}
		}
	}
}

// likeCard reports whether an unread scan was to be a number, a word or an
// answer, by its form: a noun that is typed has its type before it.
func likeCard(tok scan.Token, asked bool) bool {
	switch tok.Kind {
	case scan.Misread:
		return strings.ContainsAny(strings.ToUpper(tok.Line[:1]), "DVW")
	case scan.Words:
		if barCode(tok.Line) {
			return false
		}
		value := strings.Trim(tok.Line[:1], "-+.0123456789") == "" && len(tok.Line) <= 12
		return asked || value || scan.NearWord(tok.Line) != ""
	}
	return false
}

// barCode reports whether a text has the form of the number on a maker's box.
func barCode(text string) bool {
	n := len(text)
	return (n == 8 || n >= 12 && n <= 14) && strings.Trim(text, "0123456789") == ""
}

// waitsFor refuses numbers and verbs while a scan went astray; OK goes on
// without it. The cards about the sentence itself are always taken.
func (t *turn) waitsFor(tok scan.Token) bool {
	if t.astray == nil {
		return false
	}
	switch {
	case !t.pending() && tok.Kind == scan.Said1 && tok.Word != scan.OK && (t.question == nil || !slices.Contains(t.question.offers, tok.Word)):
		t.astray = nil // it is about nothing that was scanned before
		return false
	case tok.Kind == scan.Number || tok.Kind == scan.Digit:
		if t.question != nil && len(t.question.choose) > 0 {
			return false
		}
	case tok.Kind != scan.Said1:
		return false
	case tok.Word == scan.OK:
		if t.question != nil && t.question.to != "" {
			return false
		}
		text := t.astray.text
		t.astray = nil
		t.show(Plain, "Without "+text)
		t.view.Ask = t.still()
		t.beep(Heard)
		return true
	case tok.Word == scan.Cancel || tok.Word == scan.Help || tok.Word == scan.More || tok.Word == scan.Clear:
		return false
	}
	t.show(Stop, capital(tokenText(tok))+" is not taken: "+t.astray.text+" before it was not")
	t.beep(Refusing)
	return true
}

// astrayText is what the screen asks while a scan went astray.
func (s *Screen) astrayText() string {
	said := s.Begun()
	if said == "" && s.question != nil {
		return "Scan " + s.astray.text + " again; OK goes back to: " + s.question.text
	}
	if s.astray.noun.ID != "" {
		return capital(s.astray.text) + " again begins with it and drops " + said + "; OK goes on with that"
	}
	return "Scan " + s.astray.text + " again; OK goes on without it, CANCEL drops " + said
}

// nounUnasked is a noun that does not answer the question on the screen. With
// nothing answered it begins another sentence, as a noun does that no sentence
// goes on with; otherwise answers would be lost, and it has to be scanned twice.
func (t *turn) nounUnasked(tok scan.Token) {
	n := tok.Noun
	begins := scan.Goes([]scan.Noun{n}) && !relative(n) && t.mend == nil && (t.id != "" || !needsJob(n.Type))
	if begins && (t.astray != nil && t.astray.noun.Same(n) || !t.answered() && !t.ask.Skip) {
		dropped := t.Begun()
		t.clear()
		t.question = nil
		t.nounSaid(tok, false)
		if t.ask == nil && t.flight == nil && len(t.nouns) > 0 {
			t.view.Lines = append([]string{"Dropped: " + dropped}, t.view.Lines...)
			t.view.Lines = t.view.Lines[:min(len(t.view.Lines), MaxLines)]
		}
		t.view.Dropped = true
		t.beep(Alert)
		return
	}
	if slices.Contains(t.ask.Types, n.Type) { // a wrong answer, and no other thing
		t.view.Sign = Stop
		t.view.Lines = []string{capital(n.Text()) + " does not answer that; CANCEL drops it"}
		t.beep(Refusing)
		return
	}
	t.show(Stop, capital(n.Text())+" does not answer that")
	if begins {
		t.astray = &astray{text: n.Text(), noun: n}
	} else if t.astray == nil || t.astray.noun.ID == "" {
		t.astray = &astray{text: n.Text()}
	}
	t.beep(Refusing)
}

// answered reports whether any question of the sentence has an answer yet.
func (s *Screen) answered() bool {
	q := s.ask
	return len(s.said.Replies) > 0 || len(q.got)+len(q.left)+len(q.reads)+q.item > 0 || q.size != "" || q.doubt != nil || q.manyWhy != ""
}
