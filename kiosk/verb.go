package kiosk

import (
	"slices"

	"countback/kiosk/scan"
)

// wordSaid takes a card.
func (t *turn) wordSaid(tok scan.Token) {
	w := tok.Word
	if t.self(w) {
		return
	}
	if t.ask != nil {
		t.answer(tok)
		return
	}
	if t.mend != nil {
		t.mendWord(w)
		return
	}
	nouns := t.nouns
	if sized := t.withSize(); sized != nil && scan.Find(nouns, w, false, false) == nil && scan.Find(sized, w, false, false) != nil {
		nouns, t.sizes = sized, nil
	}
	if len(nouns) == 0 && t.question != nil && slices.Contains(t.question.offers, w) {
		nouns = t.question.subject
		if w == scan.Pair {
			nouns = t.question.pair
		}
	}
	if row := scan.Find(nouns, w, len(t.lines) > 0, t.hasN); row != nil {
		t.nouns = nouns
		t.begin(row)
		return
	}
	if num := t.numbersRow(); num != nil && w == scan.StillIn && len(num.Asks) > 0 && num.Asks[0].Left {
		t.begin(num)
		t.answer(tok)
		return
	}
	if turned := slices.Clone(nouns); len(nouns) == 2 {
		slices.Reverse(turned)
		if scan.Find(turned, w, len(t.lines) > 0, t.hasN) != nil {
			t.clear()
			t.no(string(w)+": the first noun is where it comes from. Dropped", "Say it the other way: "+nounsText(turned)+", "+string(w))
			return
		}
	}
	run, others := lastRun(nouns, w, len(t.lines) > 0, t.hasN)
	switch {
	case len(run) > 0 && len(others) > 0:
		t.which(w, append(others, run[len(run)-1]))
	case len(run) > 0:
		t.dropped = ""
		if left := slices.DeleteFunc(slices.Clone(nouns[:len(nouns)-len(run)]), func(n scan.Noun) bool { return n.Implied }); len(left) > 0 {
			t.dropped = "Dropped: " + nounsText(left)
		}
		t.nouns = run
		t.begin(scan.Find(t.nouns, w, len(t.lines) > 0, t.hasN))
	default:
		t.noSentence(w)
	}
}

// withSize is the sentence with its one size as its last noun, for the verbs
// that are about a size and not about pieces of it; nil where there is none, or
// a number.
func (t *turn) withSize() []scan.Noun {
	if len(t.sizes) != 1 || len(t.lines) > 0 || t.hasN {
		return nil
	}
	return grow(t.nouns, scan.Noun{Type: scan.Size, ID: string(t.sizes[0])})
}

// lastRun is what a verb can be about when a noun before it was only looked
// at: the longest run of the last nouns that makes a sentence with it. others
// are nouns before the run that the verb could be about as well. What was said
// behind the subject is never left out.
func lastRun(nouns []scan.Noun, w scan.Word, lines, n bool) (run, others []scan.Noun) {
	for i := 1; i < len(nouns); i++ {
		if scan.Find(nouns[i:], w, lines, n) == nil {
			continue
		}
		for _, o := range nouns[:i] {
			if !o.Implied && scan.Find([]scan.Noun{o}, w, lines, n) != nil {
				others = append(others, o)
			}
		}
		return slices.Clip(nouns[i:]), others
	}
	return nil, nil
}

// which asks what the verb is about where it could be about several things:
// never the last one unasked.
func (t *turn) which(w scan.Word, choose []scan.Noun) {
	t.clear()
	t.several(scan.Token{Nouns: choose})
	t.view.Lines = []string{string(w) + " is about one of them. Then " + string(w) + " again"}
}

// noSentence says why a verb does nothing here.
func (t *turn) noSentence(w scan.Word) {
	known, alone := scan.Wants(w)
	switch {
	case !known:
		t.no(string(w)+" answers nothing here", t.still())
	case firstNoun(t.nouns).Type == scan.JobNoun && t.nouns[0].Blank:
		id := t.nouns[0].ID
		t.clear()
		t.no("There is no job "+id, "Scan the card of a job that is open")
	case len(t.nouns) == 0 && !alone:
		// a size or number that waits is used up too: a later number must not find it
		t.clear()
		t.no(string(w)+" of what?", "Scan the "+scan.FirstOf(w)+" first")
	case scan.LacksOf(t.nouns, w) != "":
		lacks, text := scan.LacksOf(t.nouns, w), nounsText(t.nouns)
		t.clear()
		t.no(string(w)+" of "+text+" needs a "+lacks+". Dropped", "Scan "+text+" again, then a "+lacks+", then "+string(w))
	default:
		// the nouns are used up: a number that follows must not find them
		text, offers := nounsText(t.nouns), t.offersText()
		t.clear()
		t.no(string(w)+" does not go with "+text+". Dropped", "Say it again from its first noun. It can take: "+offers)
	}
}
