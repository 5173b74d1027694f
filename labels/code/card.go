package code

// Limits of the cards.
const (
	MaxWholeNumber = 40  // the largest number that has a card of its own
	MaxCards       = 200 // verb cards, and answer cards
)

var cards = Issuer{[2]byte{CardRange[0], CardRange[1]}}

// WholeNumber is the card of a number from 0 to MaxWholeNumber; ok is false for
// others. It is the same in every shop, for ever.
func WholeNumber(n int) (c Code, ok bool) { return card(Number, n, MaxWholeNumber+1) }

// AsNumber is the number of a whole-number card; ok is false for other codes.
func AsNumber(c Code) (n int, ok bool) { return cardIndex(Number, c, MaxWholeNumber+1) }

// VerbCode is the verb card of an index from 0 to MaxCards-1; which verb has
// which index the caller knows and never changes.
func VerbCode(index int) (c Code, ok bool) { return card(Verb, index, MaxCards) }

// AsVerb is the index of a verb card; ok is false for other codes.
func AsVerb(c Code) (index int, ok bool) { return cardIndex(Verb, c, MaxCards) }

// AnswerCode is the answer card of an index from 0 to MaxCards-1.
func AnswerCode(index int) (c Code, ok bool) { return card(Answer, index, MaxCards) }

// AsAnswer is the index of an answer card; ok is false for other codes.
func AsAnswer(c Code) (index int, ok bool) { return cardIndex(Answer, c, MaxCards) }

// card is the index-th code of a type in the card range.
func card(t Type, index, limit int) (Code, bool) {
	if index < 0 || index >= limit {
		return "", false
	}
	at := uint32(0)
	for ; ; index-- {
		c, n, ok := cards.Next(t, at)
		if !ok || index == 0 {
			return c, ok
		}
		at = n + 1
	}
}

// cardIndex is which code of a type in the card range this is.
func cardIndex(t Type, c Code, limit int) (int, bool) {
	want, ok := cards.Counter(c)
	if !ok || c.Type() != t {
		return 0, false
	}
	at := uint32(0)
	for index := range limit {
		_, n, ok := cards.Next(t, at)
		if !ok || n > want {
			break
		}
		if n == want {
			return index, true
		}
		at = n + 1
	}
	return 0, false
}
