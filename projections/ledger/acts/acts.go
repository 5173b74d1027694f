package acts

import (
	"countback/events"
	"countback/projections/ledger"
)

// Entry is one short or over to be explained. ID is the caller's, unique and
// not 0. Place may name another job's place in any way that differs from all
// of this job's. The pieces came to be missing, or too many, after After and
// not later than Before, in any unit that grows with time. Undisturbed says
// that no hand is known to have been at the place in between.
type Entry struct {
	ID            int32
	Place         events.Place
	Kind          events.Kind
	Sign          ledger.Sign
	Qty           int32
	After, Before int64
	Undisturbed   bool
}

// Deed is what sort of act it was.
type Deed uint8

// The deeds.
const (
	Moved Deed = iota
	Swapped
	Miscounted
	Confused
)

var deedWords = [...]string{"moved", "swapped", "miscounted", "confused"}

// String is the deed in shop words.
func (d Deed) String() string { return deedWords[d] }

// Act is one thing that hands or eyes may have done, after After and not later
// than Before. A swap goes from From to To and back; miscounted and confused
// pieces never left From, and To is the same.
type Act struct {
	Deed          Deed
	From, To      events.Place
	After, Before int64
	Pieces        []Piece
}

// Piece is Qty pieces that an act explains: of the entries with the ids Short
// and Over, 0 where there is none. Kind is what they are; As is what they were
// counted as at the over, the same unless they were mistaken. Back is set for
// what a swap brought from To to From.
type Piece struct {
	Short, Over int32
	Kind, As    events.Kind
	Qty         int32
	Back        bool
}

// Left is what an answer leaves of an entry.
type Left struct {
	Entry int32
	Qty   int32
}

// Answer is one set of acts that explains a group, and what it leaves.
// Likelihood compares answers with equally many acts: a million for each entry
// wholly explained, as the package says.
type Answer struct {
	Acts       []Act
	Left       []Left
	Likelihood int64
}

// Explanation is what may have happened to one group of entries that acts can
// join. Answers all have the fewest acts, the likeliest first; the first Equal
// of them are equally good. Exact says that no answer has fewer acts; More says
// that there may be other answers with as few.
type Explanation struct {
	Entries []int32
	Answers []Answer
	Equal   int
	Exact   bool
	More    bool
	Tell    Tell
}

// Limits of the exact search within one group.
const (
	// MaxExact is the most entries of a group that is explained exactly.
	MaxExact = 12
	// MaxAnswers is the most answers found for one group.
	MaxAnswers = 64
	// maxTried is the most sets of acts looked at within one group.
	maxTried = 20000
)

// Explain explains entries by acts, group by group in the order of each
// group's first entry. Confusable says whether a person can take a piece of one
// kind for another; it is asked about different kinds only and must not depend
// on their order. Nil means that nobody does. Entries without a sign or with a
// quantity below 1 are passed over; one with an empty interval is left alone.
func Explain(entries []Entry, confusable func(a, b events.Kind) bool) []Explanation {
	t := newTable(entries, confusable)
	t.link()
	t.choose()
	var out []Explanation
	for _, g := range t.groups() {
		out = append(out, t.explain(g))
	}
	return out
}

func (t *table) explain(g *group) Explanation {
	x := Explanation{}
	for _, e := range g.entries {
		x.Entries = append(x.Entries, t.entries[e].ID)
	}
	if len(g.entries) <= MaxExact {
		x.Answers, x.More, x.Exact = t.exact(g)
	}
	if !x.Exact {
		x.Answers, x.More = []Answer{t.transport(g)}, true
	}
	for x.Equal < len(x.Answers) && x.Answers[x.Equal].Likelihood == x.Answers[0].Likelihood {
		x.Equal++
	}
	x.Tell = t.tell(x.Answers[:x.Equal])
	return x
}
