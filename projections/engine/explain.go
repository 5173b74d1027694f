package engine

import (
	"time"

	"countback/events"
	"countback/projections/fastener"
	"countback/projections/ledger"
	"countback/projections/ledger/acts"
)

// Explanation is what may have happened to some shorts and overs: the fewest
// acts that explain them.
type Explanation struct {
	Shorts  []events.ShortID // what it explains
	Answers []Answered       // the likeliest first; the first Equal of them are equally good
	Equal   int
	Exact   bool   // no explanation has fewer acts
	More    bool   // there may be others with as few
	Tell    string // the count that would tell the equal ones apart; empty: none is needed
}

// Answered is one set of acts in words.
type Answered struct {
	Acts []string
	Left []events.ShortID // what it leaves unexplained
}

// Explain says what may have happened to the open shorts and overs, over the
// whole job: the fewest acts first, then the likeliest, all equals shown with
// the count that would tell them apart. Entries that no act explains at all are
// left out.
func (j *Job) Explain() []Explanation {
	s := j.State()
	var entries []acts.Entry
	for _, k := range s.OpenShorts() {
		entries = append(entries, s.actEntry(k))
	}
	var list []Explanation
	for _, x := range acts.Explain(entries, Mistakable) {
		if len(x.Answers) > 0 && len(x.Answers[0].Acts) > 0 {
			list = append(list, s.explanation(&x))
		}
	}
	return list
}

// Mistakable says whether a hand can take one kind for another: fasteners that
// look alike. Parts are told apart by what they are.
func Mistakable(a, b events.Kind) bool {
	x, ok := specOf(a)
	if !ok {
		return false
	}
	y, ok := specOf(b)
	return ok && fastener.Confusable(x, y).Yes()
}

func (s *State) actEntry(k ledger.EntryNo) acts.Entry {
	en := s.book.Entry(k)
	return acts.Entry{ID: int32(k), Place: s.book.Path(en.Place), Kind: s.kindOf(&en), Sign: en.Sign, Qty: en.Open,
		After: s.at(en.After), Before: s.at(en.Shown),
		Undisturbed: container(s.book.Class(en.Place)) && len(s.book.Hands(en.Place, en.After, en.Shown)) == 0}
}

// at is the time of a fact; 0 for the arrival.
func (s *State) at(f ledger.Fact) int64 {
	if r := s.Fact(f); r != nil {
		return r.At
	}
	return 0
}

func (s *State) explanation(x *acts.Explanation) Explanation {
	e := Explanation{Equal: x.Equal, Exact: x.Exact, More: x.More}
	for _, id := range x.Entries {
		e.Shorts = append(e.Shorts, s.ShortID(ledger.EntryNo(id)))
	}
	for i := range x.Answers {
		var a Answered
		for k := range x.Answers[i].Acts {
			a.Acts = append(a.Acts, s.actWords(&x.Answers[i].Acts[k]))
		}
		for _, l := range x.Answers[i].Left {
			a.Left = append(a.Left, s.ShortID(ledger.EntryNo(l.Entry)))
		}
		e.Answers = append(e.Answers, a)
	}
	if x.Equal > 1 {
		e.Tell = s.tellWords(x.Tell)
	}
	return e
}

// actWords tells one act: "2 M8x1.25x45 went from bag A to bag B between 12 May
// and 14 May".
func (s *State) actWords(a *acts.Act) string {
	from, to := s.placeWords(a.From), s.placeWords(a.To)
	when := s.between(a.After, a.Before)
	switch a.Deed {
	case acts.Moved:
		return s.piecesWords(a.Pieces, false) + " went from " + from + " to " + to + when
	case acts.Swapped:
		return s.piecesWords(a.Pieces, false) + " of " + from + " and " + s.piecesWords(a.Pieces, true) + " of " + to + " changed places" + when
	case acts.Miscounted:
		return capital(from) + " was miscounted by " + s.piecesWords(a.Pieces, false) + when
	}
	return "In " + from + " " + s.piecesWords(a.Pieces, false) + when
}

func (s *State) piecesWords(pieces []acts.Piece, back bool) string {
	var words []string
	for _, p := range pieces {
		if p.Back != back {
			continue
		}
		w := s.nOf(int(p.Qty), p.Kind)
		if p.As != "" && p.As != p.Kind {
			w += " taken for " + s.kindWords(p.As)
		}
		words = append(words, w)
	}
	return wordList(words)
}

// between is the time of an act in words.
func (s *State) between(after, before int64) string {
	if before == 0 {
		return ""
	}
	day := func(at int64) string { return time.UnixMicro(at).UTC().Format("2 January 15:04") }
	if after == 0 {
		return ", before " + day(before)
	}
	return ", between " + day(after) + " and " + day(before)
}

// tellWords is the count, or the look, that tells equal answers apart.
func (s *State) tellWords(t acts.Tell) string {
	switch {
	case t.Place == "":
		return ""
	case t.Count:
		return "count " + s.placeWords(t.Place) + " again"
	}
	return "look at the pieces in " + s.placeWords(t.Place) + ": length, sealant and wear say where they came from"
}
