package kiosk

import (
	"slices"
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Subject lists the nouns of the sentence on the screen; where there is none,
// the nouns that the question after the last fact is about.
func (s Screen) Subject() []scan.Noun {
	if len(s.nouns) == 0 && s.question != nil {
		return slices.Clone(s.question.subject)
	}
	return slices.Clone(s.nouns)
}

// Reads says what a line is on this screen. It takes nothing.
func (s Screen) Reads(line string) scan.Token { return scan.Read(line, s.dir) }

// Tally is a count that is going on: what was asked, and the person's own
// numbers so far. What is expected is not in it.
type Tally struct {
	Sizes []string      // as one calls them at the bench
	Kinds []events.Kind // the same, in full
	Got   []int         // by size: NotYet, LeftIn, or the number
	Turn  int           // index of the size that the next number is for; -1: a size card first
}

// What stands in Tally.Got where there is no number.
const (
	NotYet = -1
	LeftIn = -2
)

// Tally is the count that is going on; false if there is none.
func (s Screen) Tally() (Tally, bool) {
	q := s.ask
	if q == nil || q.mode() != "COUNT" {
		return Tally{}, false
	}
	t := Tally{Kinds: slices.Clone(q.kinds), Turn: -1}
	for _, l := range q.got {
		if !slices.Contains(t.Kinds, l.Kind) {
			t.Kinds = append(t.Kinds, l.Kind)
		}
	}
	if k := q.turnOf(); k != "" {
		if !slices.Contains(t.Kinds, k) {
			t.Kinds = append(t.Kinds, k)
		}
		t.Turn = slices.Index(t.Kinds, k)
	}
	t.Sizes = ShortNames(t.Kinds)
	for _, k := range t.Kinds {
		n := NotYet
		for _, l := range q.got {
			if l.Kind == k {
				n = l.Qty
			}
		}
		if slices.Contains(q.left, k) {
			n = LeftIn
		}
		t.Got = append(t.Got, n)
	}
	return t, true
}

// Next is the next thing to do in a word or two, for the largest letters on
// the screen: the most telling first, shorter ones behind it for a screen that
// has no room. It is empty where the screen waits for nothing in particular.
func (s Screen) Next() []string {
	switch {
	case s.wait:
		return []string{"WAIT"}
	case s.digit:
		return []string{itoa(s.chain)}
	case s.last.Kind == scan.Misread && s.view.Sign == Stop:
		return []string{"SCAN AGAIN"}
	case s.ask != nil:
		return s.ask.next()
	case s.question != nil:
		return s.questionNext()
	case s.mend != nil:
		return s.mend.next()
	case len(s.nouns) > 0:
		return s.nounsNext()
	case s.id == "" && s.badge == "":
		return []string{"SCAN BADGE", "BADGE"}
	case s.id == "":
		return []string{"SCAN JOB CARD", "SCAN JOB", "JOB"}
	}
	return nil
}

var askedFor = map[scan.AskKind]string{scan.AskNumber: "HOW MANY?", scan.AskReal: "MEASURE", scan.AskReadings: "MEASURE", scan.AskAccept: "OK OR NO", scan.AskValue: "WHAT WAS READ?", scan.AskText: "TYPE IT", scan.AskOK: "OK?", scan.AskBadge: "SCAN BADGE",
	scan.AskLine: "WHICH SIZE?", scan.AskLines: "WHICH SIZE?", scan.AskSizes: "WHICH SIZE?", scan.AskDate: "WHICH DAY?", scan.AskTime: "WHEN?"}

// next is what answers a question of a sentence.
func (q *asking) next() []string {
	if q.manyWhy != "" {
		return []string{itoa(q.many.Qty) + "? YES, OR AGAIN", itoa(q.many.Qty) + "?", "SURE?"}
	}
	switch q.Kind {
	case scan.AskSizes, scan.AskLine, scan.AskLines:
		if k := q.turnOf(); k != "" {
			name := ShortNames([]events.Kind{k})[0]
			if i := slices.Index(q.kinds, k); i >= 0 {
				name = q.short[i]
			}
			name = strings.ToUpper(name)
			return []string{"HOW MANY " + name, name + "?", "COUNT"}
		}
	case scan.AskNoun:
		if len(q.Types) > 0 {
			return []string{"SCAN " + strings.ToUpper(string(q.Types[0])), "SCAN IT"}
		}
	case scan.AskWord:
		return wordsNext(q.Words)
	case scan.AskDate:
		if q.day != "" {
			return []string{"PAST: OK?", "OK?"}
		}
	}
	return []string{askedFor[q.Kind]}
}

// wordsNext are the words that are waited for, where they are few.
func wordsNext(words []scan.Word) []string {
	switch len(words) {
	case 1:
		return []string{string(words[0])}
	case 2:
		return []string{string(words[0]) + " OR " + string(words[1]), string(words[0]) + "?", "WHICH?"}
	}
	return []string{"WHICH?"}
}

func (s *Screen) questionNext() []string {
	q := s.question
	switch {
	case len(q.choose) > 0:
		return []string{"WHICH ONE?"}
	case q.to != "":
		return []string{"OK OR CANCEL", "OK?"}
	case len(q.subject) == 1 && q.subject[0].Type == scan.Short && s.job != nil:
		return s.shortNext(q.subject[0])
	case len(q.subject) == 1 && q.subject[0].Type == scan.Audit && s.view.Sign == Short:
		return []string{"NOT YET", "LOOK"}
	case len(q.offers) == 1 && q.offers[0] == scan.Override:
		return s.refusedNext()
	case slices.Contains(q.offers, scan.Decided):
		return []string{"WHICH WAY?", "WHICH?"} // it is an answer to choose from, and nothing is decided
	case len(q.offers) > 0:
		return wordsNext(q.offers)
	}
	return []string{"SCAN BAG"}
}

// refusedNext is what clears a refusal, where that is short; never the way
// round it.
func (s *Screen) refusedNext() []string {
	const short = 30
	if n := len(s.view.Ask); n > 0 && n <= short {
		return []string{strings.ToUpper(s.view.Ask), "NOT YET"}
	}
	return []string{"NOT YET"}
}

// shortNext is what to look for after a count that differs.
func (s *Screen) shortNext(n scan.Noun) []string {
	st := s.job.State()
	en := st.Book().Entry(st.Short(n.Short))
	switch {
	case en.No == 0:
		return []string{"LOOK"}
	case en.Disputed():
		return []string{"COUNT AGAIN"}
	}
	verb := "FIND "
	if en.Sign == ledger.Over {
		verb = "TOO MANY: "
	}
	kind := st.Book().ItemName(en.Item).Kind
	what := strings.ToUpper(ShortNames([]events.Kind{kind})[0])
	return []string{verb + itoa(int(en.Open)) + " " + what, strings.TrimRight(verb, ": ") + " " + itoa(int(en.Open)), "LOOK"}
}

func (m *mending) next() []string {
	switch {
	case m.event == nil:
		return []string{"ITS NUMBER", "NUMBER?"}
	case m.reason == "":
		return []string{"WHY?"}
	}
	return []string{"OK OR CANCEL", "OK?"}
}

// nounsNext is what the nouns on the screen most likely become.
func (s *Screen) nounsNext() []string {
	if row := s.numbersRow(); row != nil {
		said := &scan.Said{Nouns: s.nouns, Job: s.jobOrNone(), Dir: s.dir, Here: s.here}
		if ask, ok := row.Next(said); ok && (len(s.nouns) > 1 || ask.Kind != scan.AskSizes) {
			return newAsking(ask, said).next()
		}
	}
	n := s.nouns[len(s.nouns)-1]
	if n.Type == scan.JobNoun && n.Blank && len(s.nouns) == 1 {
		return []string{"NO SUCH JOB", "NO JOB"}
	}
	if n.Type == scan.Case && s.stopped(events.Code(n.ID)) {
		return []string{"ASK A SECOND PERSON", "ASK SECOND", "STOP"}
	}
	if w := s.likely(n); w != "" {
		return []string{w}
	}
	for _, w := range scan.Offers(s.nouns) {
		if w != scan.Help && w != "a number" {
			return []string{strings.TrimSuffix(string(w), "?") + "?"}
		}
	}
	for _, t := range scan.Types {
		if scan.Goes(append(slices.Clone(s.nouns), scan.Noun{Type: t, ID: "x"})) {
			return []string{"SCAN " + strings.ToUpper(string(t)), "SCAN IT"}
		}
	}
	return []string{"A VERB"}
}

// stopped reports whether nothing more may be tried on a broken fastener
// without a second person.
func (s *Screen) stopped(c events.Code) bool {
	if s.job == nil {
		return false
	}
	a, ok := s.job.Ladder(c, engine.AccessUnknown)
	return ok && a.Stop
}

// likely goes by the state: what is on comes off, what is in comes out.
func (s *Screen) likely(n scan.Noun) string {
	if s.job == nil || len(s.nouns) > 1 {
		return s.likelyHole()
	}
	st := s.job.State()
	switch n.Type {
	case scan.Joint:
		if s.jointStand(events.Joint(n.ID)) == ": out" {
			return "ALL IN?"
		}
		if w := s.stageValue(events.Joint(n.ID)); w != "" {
			return w
		}
		return "SCAN BAG"
	case scan.Bag:
		if !n.Blank && len(st.At(events.Place("bag/"+n.ID))) > 0 {
			return "SCAN JOINT"
		}
	case scan.Part:
		if p, ok := st.Plan().Part(events.Part(n.ID)); ok && st.Now().Part(p) != plan.PartOn {
			return "ON?"
		}
		return "OFF?"
	case scan.Case:
		return "TRIED?"
	case scan.Loan:
		if l, ok := st.Loans()[events.Loan(n.ID)]; ok && l.In > 0 {
			return "OUT?"
		}
		return "IN?"
	}
	return ""
}

// stageValue is the value of the stage that is next at a joint which was put
// together here: 40 N.m, in the largest letters.
func (s *Screen) stageValue(joint events.Joint) string {
	for _, t := range s.job.Tightened(joint) {
		for _, x := range t.Next {
			if x.Here && x.Value != "" && x.Kind != stage.Loosen {
				return strings.ToUpper(x.Value)
			}
		}
	}
	return ""
}

// likelyHole is what becomes of a hole that was scanned with its joint.
func (s *Screen) likelyHole() string {
	said := scan.Said{Nouns: s.nouns}
	if s.job == nil || len(s.nouns) != 2 || len(said.Holes()) != 1 {
		return ""
	}
	st := s.job.State()
	ix, ok := st.Plan().Hole(said.Joint(), said.Holes()[0])
	if ok && st.Now().Seat(ix) == plan.SeatEmpty {
		return "IN?"
	}
	return "OUT?"
}

// Waits reports whether it is unclear whether the last fact is stored: no scan
// is taken until that is known.
func (s Screen) Waits() bool { return s.wait }

// Listed is the whole list that the screen shows a page of.
func (s Screen) Listed() []string { return slices.Clone(s.list) }

// Shop is what the screen knows beside its job: labels, tools, trays. Read
// only.
func (s Screen) Shop() scan.Directory { return s.dir }
