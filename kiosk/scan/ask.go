package scan

import (
	"countback/events"
)

// Ask is one thing that a sentence still needs after its verb.
type Ask struct {
	Key     string // names the answer within the sentence
	Kind    AskKind
	Prompt  string
	Words   []Word // one of: which cards
	Sizes   func(*Said) []events.Kind
	Types   []Type // of a noun
	Fits    func(*Said, Noun) bool
	Items   func(*Said) []string // each confirmed by OK
	Prompts func(*Said) string   // instead of Prompt, where it depends on what was said
	// When says whether it is asked at all; nil: always.
	When func(*Said) bool
	// Skip passes over it: OK does, and so does what answers the next one.
	Skip bool
	// Points are the stations and directions that are read in turn; one that is
	// empty is a single reading. Without any it goes on until OK, or until Pieces
	// were read.
	Points func(*Said) []string
	Pieces func(*Said) int
	// Doubt says what makes a reading hard to believe, before it is stored.
	Doubt func(*Said, ReadSaid) *Doubt
	// Left lets STILL IN answer a size: it was left in on purpose.
	Left bool
}

// Text is what the screen asks.
func (a *Ask) Text(s *Said) string {
	if a.Prompts != nil {
		return a.Prompts(s)
	}
	return a.Prompt
}

// AskKind says what answers.
type AskKind uint8

// The kinds of answer.
const (
	AskSizes    AskKind = iota // a whole number for each of Sizes in turn
	AskNumber                  // one whole number
	AskReal                    // one number, with a fraction
	AskWord                    // one of Words
	AskText                    // any text, or one of Words
	AskBadge                   // a badge
	AskLine                    // a size, if there are several, and a number
	AskLines                   // sizes and numbers until OK
	AskNoun                    // a noun of one of Types
	AskOK                      // OK for each of Items in turn
	AskDate                    // a day of the calendar; OK confirms one that is past
	AskTime                    // a time: hours or days ago, TODAY, YESTERDAY, a date
	AskAccept                  // OK takes each of Items over, NO leaves it; ACCEPT takes all the rest
	AskReadings                // readings with a unit, one for each of Points or until OK
	AskValue                   // a number, or a text with a number and its unit
)

var askText = map[AskKind]string{AskSizes: "a number for each size", AskNumber: "a number", AskReal: "a number",
	AskWord: "a card", AskText: "a text or a card", AskBadge: "a badge", AskLine: "size, number",
	AskLines: "size, number, ..., OK", AskNoun: "a noun", AskOK: "OK", AskDate: "a date", AskTime: "a time", AskReadings: "a reading for each point", AskAccept: "OK or NO for each, or ACCEPT", AskValue: "a value"}

// Reply is what answered one Ask.
type Reply struct {
	Key   string
	N     int
	Real  float64
	Word  Word
	Text  string
	Noun  Noun
	Day   events.Day
	Lines []events.Line
	Left  []events.Kind // sizes that were left in on purpose
	None  bool          // passed over
	Since int64         // of a time: its first moment, microseconds since 1970
	Till  int64         // and its last
	Reads []ReadSaid
	Took  []string // of what can be accepted: what was
	Kept  []string // and what was not
}
