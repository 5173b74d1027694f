package engine

import (
	"strings"
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
func (j *Job) Explain() []Explanation { return j.ExplainWith() }

// ExplainWith is Explain over other jobs as well, such as the open ones of the
// same family: a bolt of one engine may lie in a bag of its twin. Groups that
// have nothing to do with this job are left out.
func (j *Job) ExplainWith(others ...*Job) []Explanation {
	x := explainer{}
	for _, o := range append([]*Job{j}, others...) {
		x.take(o.State())
	}
	var list []Explanation
	for _, e := range acts.Explain(x.entries, Mistakable) {
		if len(e.Answers) > 0 && len(e.Answers[0].Acts) > 0 && x.concerns(&e, j) {
			list = append(list, x.explanation(&e))
		}
	}
	return list
}

// explainer holds the entries of one or several jobs. The first job's places
// keep their names; another's stand behind "job/<job>/".
type explainer struct {
	entries []acts.Entry
	of      []*State         // by entry
	no      []ledger.EntryNo // by entry
	states  []*State
}

func (x *explainer) take(s *State) {
	x.states = append(x.states, s)
	for _, k := range s.OpenShorts() {
		e := s.actEntry(k)
		e.ID = int32(len(x.entries) + 1)
		if len(x.states) > 1 {
			e.Place = events.Place("job/"+string(s.name())+"/") + e.Place
		}
		x.entries, x.of, x.no = append(x.entries, e), append(x.of, s), append(x.no, k)
	}
}

// name is the job's own id, as its facts have it.
func (s *State) name() events.Job {
	if r := s.Fact(1); r != nil {
		return r.Job
	}
	return ""
}

func (x *explainer) concerns(e *acts.Explanation, j *Job) bool {
	for _, id := range e.Entries {
		if x.of[id-1].job == j {
			return true
		}
	}
	return false
}

func (x *explainer) shortID(id int32) events.ShortID { return x.of[id-1].ShortID(x.no[id-1]) }

// placeWords names a place of any of the jobs.
func (x *explainer) placeWords(p events.Place) string {
	word, rest, _ := strings.Cut(string(p), "/")
	if word == "job" {
		id, path, _ := strings.Cut(rest, "/")
		for _, s := range x.states[1:] {
			if string(s.name()) == id {
				return "job " + id + ", " + s.placeWords(events.Place(path))
			}
		}
	}
	return x.states[0].placeWords(p)
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
	w := s.windowOf(&en)
	return acts.Entry{ID: int32(k), Place: s.book.Path(en.Place), Kind: s.kindOf(&en), Sign: en.Sign, Qty: en.Open,
		After: w.from, Before: w.to,
		Undisturbed: container(s.book.Class(en.Place)) && len(s.handsOf(&en)) == 0}
}

func (x *explainer) explanation(found *acts.Explanation) Explanation {
	e := Explanation{Equal: found.Equal, Exact: found.Exact, More: found.More}
	for _, id := range found.Entries {
		e.Shorts = append(e.Shorts, x.shortID(id))
	}
	for i := range found.Answers {
		var a Answered
		for k := range found.Answers[i].Acts {
			a.Acts = append(a.Acts, x.actWords(&found.Answers[i].Acts[k]))
		}
		for _, l := range found.Answers[i].Left {
			a.Left = append(a.Left, x.shortID(l.Entry))
		}
		e.Answers = append(e.Answers, a)
	}
	if found.Equal > 1 {
		e.Tell = x.tellWords(found.Tell)
	}
	return e
}

// actWords tells one act: "2 M8x1.25x45 went from bag A to bag B between 12 May
// and 14 May".
func (x *explainer) actWords(a *acts.Act) string {
	s := x.states[0]
	from, to := x.placeWords(a.From), x.placeWords(a.To)
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
func (x *explainer) tellWords(t acts.Tell) string {
	switch {
	case t.Place == "":
		return ""
	case t.Count:
		return "count " + x.placeWords(t.Place) + " again"
	}
	return "look at the pieces in " + x.placeWords(t.Place) + ": length, sealant and wear say where they came from"
}
