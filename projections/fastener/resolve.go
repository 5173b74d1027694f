package fastener

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// threadLikeRE finds words that would read as a thread, a length or a unit in
// another place of the text.
var threadLikeRE = regexp.MustCompile(`^(?:(?:m|rp|rc|r|g|nptf?|x)\d.*|mm|in|un[cfs]?|unef|nptf?|bspt|bspp)$`)

func (p *parser) readWord() (bool, error) {
	at := p.pos
	m := p.take(wordRE)
	if m == nil {
		return false, nil
	}
	if threadLikeRE.MatchString(m[0]) {
		return true, p.fail(at, p.near(at), "a thread or length that stands alone", "write thread and length once and first, as in M8x1.25x30, and the nut end of a stud after a stroke, as in M10x1.5/M8x1.25x60 stud")
	}
	if two, ok := splitWords[m[0]]; ok {
		p.words = append(p.words, placed{two[0], at}, placed{two[1], at})
		return true, nil
	}
	p.words = append(p.words, placed{m[0], at})
	return true, nil
}

// resolve makes form, head and use of the words, and checks the whole.
func (p *parser) resolve() error {
	if err := p.sortOut(); err != nil {
		return err
	}
	form, n := formAtEnd(p.words)
	if n == 0 {
		if _, n := formAtStart(p.words); n > 0 {
			p.words = append(slices.Clone(p.words[n:]), p.words[:n]...)
		}
		form, n = formAtEnd(p.words)
	}
	p.spec.Form = form
	rest := p.words[:len(p.words)-n]
	if formRules[form].use && n > 0 {
		p.spec.Use = join(rest)
	} else if err := p.heads(rest); err != nil {
		return err
	}
	if p.spec.Form == AnyForm {
		p.inferForm()
	}
	return p.check()
}

// sortOut takes the words that are no part of form, head or use.
func (p *parser) sortOut() error {
	kept := p.words[:0]
	for i, w := range p.words {
		material, isMaterial := materialWords[w.word]
		switch {
		case droppedWords[w.word]:
		case w.word == "lh" || w.word == "left-hand" || w.word == "left":
			p.left = true
		case w.word == "hand" && i > 0 && p.left:
		case isMaterial:
			if err := p.setClass(w.pos, material); err != nil {
				return err
			}
		default:
			kept = append(kept, w)
		}
	}
	p.words = kept
	return nil
}

func join(words []placed) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = w.word
	}
	return strings.Join(texts, " ")
}

// formAtEnd is the form that the last words name, the longest that fits, and
// how many words it takes.
func formAtEnd(words []placed) (Form, int) {
	for n := min(2, len(words)); n > 0; n-- {
		if f, ok := formOf(join(words[len(words)-n:])); ok {
			return f, n
		}
	}
	return AnyForm, 0
}

// formAtStart is the same for the first words.
func formAtStart(words []placed) (Form, int) {
	for n := min(2, len(words)); n > 0; n-- {
		if f, ok := formOf(join(words[:n])); ok {
			return f, n
		}
	}
	return AnyForm, 0
}

func formOf(words string) (Form, bool) {
	for _, p := range formPhrases {
		if p.words == words {
			return p.form, true
		}
	}
	return AnyForm, false
}

// heads reads the remaining words as head words.
func (p *parser) heads(words []placed) error {
	var at []int
	for _, w := range words {
		word := w.word
		if alias, ok := headAliases[word]; ok {
			word = alias
		}
		i := headIndex(word)
		if i < 0 {
			return p.unknownWord(w)
		}
		if !headFits(i, p.spec.Form) {
			return p.fail(w.pos, w.word, fmt.Sprintf("no %s is made like that", p.spec.Form), "write another form, or this word in brackets as a feature")
		}
		at = append(at, i)
	}
	slices.Sort(at)
	at = slices.Compact(at)
	if hex, flange := headIndex("hex"), headIndex("flange"); slices.Contains(at, flange) {
		at = slices.DeleteFunc(at, func(i int) bool { return i == hex })
	}
	texts := make([]string, len(at))
	for i, h := range at {
		texts[i] = headWords[h].word
	}
	p.spec.Head = strings.Join(texts, " ")
	if p.spec.Form == AnyForm && len(at) > 0 {
		return p.formOfHeads(words[0], at)
	}
	return nil
}

// formOfHeads infers the form from head words alone.
func (p *parser) formOfHeads(first placed, heads []int) error {
	for _, f := range []Form{Bolt, Nut, Washer} {
		if !slices.ContainsFunc(heads, func(i int) bool { return !headFits(i, f) }) {
			p.spec.Form = f
			return nil
		}
	}
	return p.fail(first.pos, first.word, "these words go with no one form", "write bolt, nut or washer after them")
}

func (p *parser) unknownWord(w placed) error {
	action := fmt.Sprintf("write what sets this kind apart last and in brackets: (%s)", w.word)
	if near := nearest(w.word); near != "" {
		action = fmt.Sprintf("nearest is %s; otherwise %s", near, action)
	}
	return p.fail(w.pos, w.word, "not a word for a head, a material or a form", action)
}

// inferForm reads a text without a form word: two threads are a stud, a length
// or a class of bolts is a bolt, a class of nuts is a nut.
func (p *parser) inferForm() {
	s := &p.spec
	switch {
	case s.SecondThread.Known():
		s.Form = Stud
	case s.boltByItself():
		s.Form = Bolt
	case nutClass(s.Class):
		s.Form = Nut
	}
}

// check refuses what does not go together.
func (p *parser) check() error {
	s := &p.spec
	rule := formRules[s.Form]
	threaded, sized := s.Thread.Known(), s.SizesMm[0] > 0
	switch {
	case threaded && sized:
		return p.fail(p.sized, p.near(p.sized), "sizes beside a thread", "write the length after the thread, as in M8x1.25x30, and a nut's class after it, as in M8x1.25 8 nut")
	case !threaded && !sized && rule.sizes:
		return p.failColumn(1, "", "no size", fmt.Sprintf("write it after the name, as in %s 24x30", s.Form))
	case !threaded && !sized:
		return p.failColumn(1, "", "no thread", "write the thread first, as in M8x1.25x30 8.8 flange or 5/16-18x1")
	case threaded && !rule.thread:
		return p.failColumn(1, "", fmt.Sprintf("a thread on %s", s.Form.withArticle()), fmt.Sprintf("write its sizes, as in %s 24x30", s.Form))
	case sized && !rule.sizes:
		return p.fail(p.sized, p.near(p.sized), "sizes without a word for what they are", "write seal ring, O-ring, washer, dowel or the like before them, or M before a thread")
	case s.SecondThread.Known() && s.Form != Stud && s.Form != Fitting:
		return p.failColumn(1, "", fmt.Sprintf("two threads on %s", s.Form.withArticle()), "write stud or fitting, or one thread")
	case s.LengthMm > 0 && rule.family == ring:
		return p.failColumn(1, "", fmt.Sprintf("a length on %s", s.Form.withArticle()), "leave the length out")
	case p.left && !threaded:
		return p.failColumn(1, "", "a left hand without a thread", "write the thread first")
	}
	p.settle(rule)
	return p.checkClass()
}

// settle gives one kind one form of words: the hand on both ends, a washer
// for the size of its bolt whatever that bolt's pitch.
func (p *parser) settle(rule formRule) {
	s := &p.spec
	s.Thread.Left = p.left
	if s.SecondThread.Known() {
		s.SecondThread.Left = p.left
	}
	if c, ok := coarsePitchMm[s.Thread.DiameterMm]; ok && rule.family == ring && s.Thread.System == Metric {
		s.Thread.PitchMm, s.Thread.PitchAssumed = c, true
	}
}
