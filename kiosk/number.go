package kiosk

import (
	"slices"

	"countback/events"
	"countback/kiosk/scan"
)

// numberSaid takes a number: for the question on the screen, for a size, as
// the verb of a sentence that numbers are, or for a verb that comes.
func (t *turn) numberSaid(tok scan.Token) {
	switch {
	case t.ask != nil:
		t.answer(tok)
	case t.question != nil && len(t.question.choose) > 0:
		t.chosenBy(tok.N)
	case t.mend != nil:
		t.mendNumber(tok.N)
	case len(t.sizes) > 0 && tok.Whole:
		k := t.sizes[len(t.sizes)-1]
		t.sizes = slices.Clone(t.sizes[:len(t.sizes)-1])
		t.lines = addLine(t.lines, events.Line{Kind: k, Qty: tok.N})
		t.show(Plain, itoa(tok.N)+" "+string(k))
		t.view.Big, t.view.Ask = itoa(tok.N), "Another size, or a verb"
		t.beep(Heard)
	case len(t.nouns) == 0 && t.question != nil && t.question.reads:
		t.nouns = t.question.subject
		t.numberAfterNouns(tok)
	case len(t.nouns) == 0:
		t.no("A number, and nothing that it counts", "Scan the bag or part first")
	default:
		t.numberAfterNouns(tok)
	}
}

func (t *turn) numberAfterNouns(tok scan.Token) {
	if row := t.numbersRow(); row != nil {
		t.begin(row)
		if t.ask != nil {
			t.answer(tok)
		}
		return
	}
	if tok.Whole && scan.Find(t.nouns, "", false, false) != nil && !t.hasN {
		t.no("There is one of it, not "+itoa(tok.N), t.offersText())
		return
	}
	if !tok.Whole || t.hasN || !scan.TakesNumber(t.nouns) {
		t.no("No number is wanted here", t.offersText())
		return
	}
	t.number, t.hasN = tok.N, true
	t.show(Plain, itoa(tok.N))
	t.view.Big, t.view.Ask = itoa(tok.N), t.offersText()
	t.beep(Heard)
}

// numbersRow is the sentence whose verb is the number, for the nouns on the
// screen. A part of which the plan has one is not counted: it is OFF or ON.
func (s *Screen) numbersRow() *scan.Sentence {
	if s.hasN {
		return nil
	}
	row := scan.Find(s.nouns, "", len(s.lines) > 0, false)
	if row == nil || row.Event != "part-removed" {
		return row
	}
	said := scan.Said{Nouns: s.nouns}
	p, ok := s.jobOrNone().State().Plan().Part(said.Part())
	if ok && s.job.State().Plan().Parts[p].Count == 1 {
		return nil
	}
	return row
}

func addLine(lines []events.Line, l events.Line) []events.Line {
	out := slices.Clone(lines)
	for i := range out {
		if out[i].Kind == l.Kind {
			out[i] = l
			return out
		}
	}
	return append(out, l)
}
