package code

// Limits of the cards.
const (
	MaxWholeNumber = 40  // the largest number that has a card of its own
	MaxCards       = 200 // verb cards, and answer cards
)

var (
	cards   = Issuer{[2]byte{CardRange[0], CardRange[1]}}
	numbers = newDeck(Number, MaxWholeNumber+1)
	verbs   = newDeck(Verb, MaxCards)
	answers = newDeck(Answer, MaxCards)
)

// deck is the cards of one type, in the order of their counters, both ways.
type deck struct {
	codes []Code
	index map[Code]int
}

func newDeck(t Type, size int) deck {
	d := deck{index: make(map[Code]int, size)}
	for n := uint32(0); len(d.codes) < size; n++ {
		if c, ok := cards.Issue(t, n); ok {
			d.index[c] = len(d.codes)
			d.codes = append(d.codes, c)
		}
	}
	return d
}

func (d deck) card(n int) (Code, bool) {
	if n < 0 || n >= len(d.codes) {
		return "", false
	}
	return d.codes[n], true
}

func (d deck) find(c Code) (int, bool) {
	n, ok := d.index[c]
	return n, ok
}

// WholeNumber is the card of a number from 0 to MaxWholeNumber; ok is false for
// others. It is the same in every shop, for ever.
func WholeNumber(n int) (c Code, ok bool) { return numbers.card(n) }

// AsNumber is the number of a whole-number card; ok is false for other codes.
func AsNumber(c Code) (n int, ok bool) { return numbers.find(c) }

// VerbCode is the verb card of an index from 0 to MaxCards-1; which verb has
// which index the caller knows and never changes.
func VerbCode(index int) (c Code, ok bool) { return verbs.card(index) }

// AsVerb is the index of a verb card; ok is false for other codes.
func AsVerb(c Code) (index int, ok bool) { return verbs.find(c) }

// AnswerCode is the answer card of an index from 0 to MaxCards-1.
func AnswerCode(index int) (c Code, ok bool) { return answers.card(index) }

// AsAnswer is the index of an answer card; ok is false for other codes.
func AsAnswer(c Code) (index int, ok bool) { return answers.find(c) }
