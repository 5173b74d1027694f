package kiosk

import (
	"fmt"
	"strings"

	"countback/kiosk/scan"
	"countback/projections/gauge"
)

// scanned takes one line.
func (t *turn) scanned(m Scanned) {
	if t.wait {
		t.beep(Refusing)
		return
	}
	t.idle(m.At)
	tok := scan.Read(m.Line, t.dir)
	if tok.Kind == scan.Swallowed {
		return
	}
	if t.digit {
		if tok.Kind == scan.Digit && m.At-t.at <= t.set.Chain {
			t.digitMore(tok, m.At)
			return
		}
		t.digitDone()
		if t.flight != nil {
			// the number ended a sentence: this scan comes after its answer
			t.no("The number "+itoa(t.chain)+" ended the sentence first", "Scan "+tok.Line+" again")
			return
		}
	}
	again := tok.Same(t.last) && tok.Scan && m.At-t.at <= t.set.Chain
	repeat := tok.Same(t.last)
	t.last, t.at = tok, m.At
	if again && (tok.Kind == scan.Number || tok.Word == scan.OK) {
		t.view.Lines = []string{tokenText(tok) + " fired twice: taken once"}
		t.beep(Refusing)
		return
	}
	t.token(tok, repeat)
}

// idle drops a sentence, and a person, after a long silence.
func (t *turn) idle(at int64) {
	if t.at == 0 {
		return
	}
	if silent := at - t.at; silent > t.set.Badge && t.badge != "" {
		t.badge = ""
		t.clear()
		t.question, t.mend, t.when, t.before = nil, nil, interval{}, interval{}
		t.show(Plain, "Half an hour without a scan: nobody is at the bench now")
		t.view.Ask = "Scan your badge"
	} else if silent > t.set.Pending && (t.pending() || t.when != (interval{})) {
		text := "Dropped after a long silence: " + t.saidText()
		if !t.pending() {
			text = "After a long silence: what is told next happens now"
		}
		t.clear()
		t.when = interval{}
		t.show(Plain, text)
	}
}

// token acts on what was read.
func (t *turn) token(tok scan.Token, repeat bool) {
	if t.ask != nil && t.takesText(tok) {
		t.astray = nil
		t.answer(tok)
		return
	}
	if t.waitsFor(tok) {
		return
	}
	switch tok.Kind {
	case scan.Misread:
		t.do(Miscounted{})
		t.show(Stop, "Misread, scan it again")
		t.view.Ask = t.still()
		t.beep(Misreading)
		t.loses(tok)
	case scan.Foreign, scan.Words:
		t.unreadable(tok)
		t.loses(tok)
	case scan.NotOurs:
		t.show(Stop, "I do not know this label: "+tok.Line+" was never issued here")
		t.view.Ask = "Take a label of this shop; " + t.still()
		t.beep(Misreading)
		t.loses(tok)
	case scan.Gone:
		t.gone(tok)
		t.loses(tok)
	case scan.AnotherJob:
		t.loses(tok)
		t.otherJob(tok)
	case scan.Several:
		t.loses(tok)
		t.several(tok)
	case scan.Digit:
		t.digit, t.chain = true, tok.N
		t.view.Big = itoa(tok.N)
		t.do(Wake{t.at + t.set.Chain})
		t.beep(Heard)
	case scan.Number:
		t.numberSaid(tok)
	case scan.Said1:
		t.wordSaid(tok)
	case scan.Saw:
		t.nounSaid(tok, repeat)
	}
}

func (t *turn) digitMore(tok scan.Token, at int64) {
	t.last, t.at = tok, at
	if t.chain > 9_999 {
		t.digit = false
		t.no("More than five digits", "Scan the number again")
		return
	}
	t.chain = t.chain*10 + tok.N
	t.do(Wake{at + t.set.Chain})
	t.beep(Heard)
}

// digitDone makes a number of the digits.
func (t *turn) digitDone() {
	t.digit = false
	t.numberSaid(scan.Token{Kind: scan.Number, Line: itoa(t.chain), N: t.chain, Real: float64(t.chain), Whole: true, Scan: true})
}

func (t *turn) ticked(at int64) {
	if t.digit && at-t.at >= t.set.Chain {
		t.digitDone()
	}
	if !t.wait {
		t.idle(at)
	}
}

// still says what the sentence on the screen waits for.
func (t *turn) still() string {
	switch {
	case t.ask != nil:
		return t.askText()
	case len(t.nouns) > 0:
		return t.offersText()
	case t.question != nil:
		return t.question.text
	}
	return "Scan the bag or part first"
}

func (t *turn) unreadable(tok scan.Token) {
	why := "is no label of this shop and no name in this job"
	if tok.Why != "" {
		why = "is not ours: " + tok.Why
		if tok.Kind == scan.Words {
			why = "is no number here: " + tok.Why
		}
	}
	if w, ok := scan.WordOf(strings.TrimSuffix(tok.Line, "?")); ok && strings.HasSuffix(tok.Line, "?") {
		why = "asks nothing: " + string(w) + " says that it was so. Nothing was stored"
	}
	next := t.still()
	if unit := scan.OddUnit(tok); unit != "" {
		why = "is a number in " + unit + ", a unit that is not read here"
		next = "Say it in one of " + joinComma(gauge.WordsLike(t.readIn())) + "; " + next
	}
	t.show(Stop, fmt.Sprintf("%q %s", shorten(tok.Line, 40), why))
	t.view.Ask = next
	t.beep(Misreading)
}

func (t *turn) gone(tok scan.Token) {
	text := "Label " + tok.Line + " is out of use"
	if tok.Since > 0 {
		text += " since " + clockText(tok.Since)
	}
	next := t.still()
	if tok.By != "" {
		next = "Take " + string(tok.By) + ", which replaced it"
	}
	t.show(Stop, text)
	t.view.Ask = next
	t.beep(Refusing)
}

// otherJob is a label of another job: both names, and OK to go there.
func (t *turn) otherJob(tok scan.Token) {
	t.show(Amber, "That is "+tok.Noun.Text()+" of job "+string(tok.Job)+" "+tok.Name, "On the screen is job "+string(t.id)+" "+t.engineName())
	t.view.Ask = "OK goes to job " + string(tok.Job) + "; CANCEL stays here"
	t.question = &question{to: tok.Job, text: t.view.Ask}
	t.beep(Refusing)
}

// several asks which of several nouns with one name is meant.
func (t *turn) several(tok scan.Token) {
	text := "Which one? "
	for i, n := range tok.Nouns {
		if i > 0 {
			text += ", "
		}
		text += itoa(i+1) + " " + n.Text()
	}
	t.show(Plain, "Several have that name")
	t.view.Ask = text
	t.question = &question{choose: tok.Nouns, text: text}
	t.beep(Refusing)
}

// readIn is the unit of the reading that the screen waits for; empty: it waits
// for none.
func (t *turn) readIn() string {
	p := t.jobOrNone().State().Plan()
	for _, n := range t.nouns {
		switch n.Type {
		case scan.Measurement:
			if i, ok := p.Measurement(n.ID); ok && p.Measurements[i].Unit != "" {
				return p.Measurements[i].Unit
			}
			return p.Units.Length
		case scan.RunReading:
			if i, ok := p.RunReading(n.ID); ok {
				return p.RunReadings[i].Unit
			}
		}
	}
	return ""
}
