package scan

import (
	"sync"

	"countback/events"
	"countback/projections/engine"
)

// Nature says whether a sentence can be refused.
type Nature uint8

// The natures.
const (
	Tell   Nature = iota // what the hand has done or the eye has seen: always stored
	AskFor               // wants leave: may be refused with the fact and what clears it
	Query                // wants an answer and stores nothing
	Self                 // about the sentence or the screen itself
)

// Sentence is one row of the table: who is the subject, what the verb is, what
// it asks after that, and what it stores.
type Sentence struct {
	Subject string // type words and classes with ?, * or +: "joint hole* container"
	Verb    Word   // empty: the numbers are the verb
	Lines   bool   // sizes with numbers may come before the verb
	N       bool   // a bare number may come before the verb
	Asks    []Ask
	Nature  Nature
	Source  string       // the noun that pieces come from, in words; empty: none move
	Event   string       // stored name; of several, divided by "or"
	Known   events.Known // how it is known; Told where the hand did it
	Does    string       // one line for the table and the help
	Try     string       // an example
	// Build makes the command. It reads what was said and the state; a
	// Refusal says what is wrong with the sentence.
	Build func(*Said) (engine.Command, error)

	subject subject
}

// Sentences is the table. Order is that of the help; where two match, the
// first one stands, so the narrower subject comes first.
var Sentences = sentences()

func sentences() []*Sentence {
	var list []*Sentence
	for _, group := range [][]Sentence{jointRows, partRows, bagRows, caseRows, loanRows, measureRows, shortRows, slipRows, jobRows, findingRows, runningRows, queryRows, sortRows, scopeRows,
		aheadRows, tightenRows, sourceRows, pressRows} {
		for i := range group {
			s := group[i]
			s.subject = parseSubject(s.Subject)
			list = append(list, &s)
		}
	}
	return list
}

// Find is the sentence for these nouns and this verb (empty: numbers); nil if
// there is none.
func Find(nouns []Noun, verb Word, lines, n bool) *Sentence {
	for _, s := range rowsOf(verb) {
		if (!lines || s.Lines) && (!n || s.N) && s.subject.match(nouns, false) {
			return s
		}
	}
	return nil
}

// byVerb are the rows of each verb, in the order of the table.
var byVerb = sync.OnceValue(func() map[Word][]*Sentence {
	rows := make(map[Word][]*Sentence)
	for _, s := range Sentences {
		rows[s.Verb] = append(rows[s.Verb], s)
	}
	return rows
})

func rowsOf(verb Word) []*Sentence { return byVerb()[verb] }

// byTypes keeps what is said of one noun or two and depends on nothing but their
// types.
type byTypes[T any] struct {
	sync.RWMutex
	of map[[2]Type]T
}

// get gives what is kept, or keeps what f says.
func (b *byTypes[T]) get(nouns []Noun, f func([]Noun) T) T {
	if len(nouns) == 0 || len(nouns) > 2 {
		return f(nouns)
	}
	key := [2]Type{nouns[0].Type}
	if len(nouns) == 2 {
		key[1] = nouns[1].Type
	}
	b.RLock()
	t, ok := b.of[key]
	b.RUnlock()
	if ok {
		return t
	}
	t = f(nouns)
	b.Lock()
	defer b.Unlock()
	if b.of == nil {
		b.of = make(map[[2]Type]T)
	}
	b.of[key] = t
	return t
}

// goes and offered keep what Goes and Offers say.
var (
	goes    byTypes[bool]
	offered byTypes[[]Word]
)

// Goes reports whether some sentence begins with these nouns.
func Goes(nouns []Noun) bool { return goes.get(nouns, goesOn) }

func goesOn(nouns []Noun) bool {
	for _, s := range Sentences {
		if s.Nature != Self && len(s.subject) > 0 && s.subject.match(nouns, true) {
			return true
		}
	}
	return false
}

// Offers lists the verbs that these nouns can take now, in the order of the
// table, each once. It must not be changed.
func Offers(nouns []Noun) []Word { return offered.get(nouns, offersOf) }

func offersOf(nouns []Noun) []Word {
	var list []Word
	for _, s := range Sentences {
		if len(s.subject) == 0 || !s.subject.match(nouns, false) {
			continue
		}
		w := s.Verb
		if w == "" {
			w = "a number"
		}
		if !hasWord(list, w) {
			list = append(list, w)
		}
	}
	return list[:len(list):len(list)]
}

// Wants reports whether any sentence has this verb, and whether it can stand
// without a noun.
func Wants(verb Word) (known, alone bool) {
	for _, s := range Sentences {
		if s.Verb == verb {
			known = true
			alone = alone || s.subject.match(nil, false)
		}
	}
	return known, alone
}

// FirstOf is what a verb is scanned after, in words: the noun that its sentences
// begin with, or a bag or part where they begin with this or that.
func FirstOf(verb Word) string {
	first := Type("")
	for _, s := range Sentences {
		if s.Verb != verb || len(s.subject) == 0 {
			continue
		}
		if len(s.subject[0].types) != 1 || first != "" && first != s.subject[0].types[0] {
			return "bag or part"
		}
		first = s.subject[0].types[0]
	}
	if first == "" {
		return "bag or part"
	}
	return string(first)
}

// LacksOf is the label that nobody has on the screen yet and without which a verb
// does not go with some nouns: a blank slip. Empty: that is not what is missing.
func LacksOf(nouns []Noun, verb Word) string {
	more := append(append([]Noun{}, nouns...), Noun{Type: Slip, ID: "x"})
	if len(nouns) == 0 || Find(nouns, verb, false, false) != nil || Find(more, verb, false, false) == nil {
		return ""
	}
	return "blank slip"
}

// Next is the first thing that the sentence still asks; false when it is whole.
func (s *Sentence) Next(said *Said) (Ask, bool) {
	for _, a := range s.Asks {
		if !said.Answered(a.Key) && (a.When == nil || a.When(said)) {
			return a, true
		}
	}
	return Ask{}, false
}

func hasWord(list []Word, w Word) bool {
	for _, x := range list {
		if x == w {
			return true
		}
	}
	return false
}

// Fires is the sentence that these nouns are by themselves, without a verb or
// a number; nil if there is none.
func Fires(nouns []Noun) *Sentence {
	for _, s := range rowsOf("") {
		if len(s.Asks) == 0 && s.subject.match(nouns, false) {
			return s
		}
	}
	return nil
}

// TakesNumber reports whether some verb for these nouns takes a bare number
// before it.
func TakesNumber(nouns []Noun) bool {
	for _, s := range Sentences {
		if s.N && s.subject.match(nouns, true) {
			return true
		}
	}
	return false
}
