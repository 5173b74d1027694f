package engine

import (
	"slices"

	"countback/events"
	"countback/projections/fastener"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Answer is the answer to one question at the bench.
type Answer struct {
	OK   bool
	Text string // the answer in one line
	Next string // what to do now
}

// String is the answer, then what to do.
func (a Answer) String() string { return Blocker{a.Text, a.Next}.String() }

// ThisOne says whether a piece may go into a hole as the hole is now: thread
// and pitch, the length window (of inch threads in inches), feature and class, single-use and
// condition, its own seat. from is where the piece comes from; empty: not known,
// and nothing is said about its condition. Rule R24.
func (j *Job) ThisOne(joint events.Joint, hole events.Hole, kind events.Kind, from events.Place) Answer {
	s := j.State()
	ix, ok := s.lay.plan.Hole(joint, hole)
	if !ok {
		return Answer{Text: s.jointWords(string(joint)) + " has no hole " + string(hole), Next: "scan the joint, then the hole's number"}
	}
	name := "Hole " + string(hole)
	wanted := s.wantedIn(ix)
	if len(wanted) == 0 {
		return Answer{Text: name + " holds no piece of the engine", Next: "scan what it is"}
	}
	m, exact := s.memberFor(ix, kind)
	if m < 0 {
		return Answer{Text: "No: " + s.refuseKind(ix, kind), Next: name + " wants " + s.wantWords(ix) + s.fromWords(ix, from)}
	}
	if a, bad := s.condition(ix, m, kind, from); bad {
		return a
	}
	if a, bad := s.ownSeat(ix, m, kind, from); bad {
		return a
	}
	v, isScrewed := s.window(ix, m, kind)
	if isScrewed && v.Refused() {
		return Answer{Text: "No: " + v.String(), Next: name + " wants " + s.wantWords(ix) + ": have the hole measured"}
	}
	a := Answer{OK: true, Text: "Yes: " + s.kindWords(kind) + " in " + s.jointWords(string(joint)) + " " + string(hole)}
	if !exact {
		a.Text += ", as far as is known" + unknownWords(s.wantedKind(ix, m), kind)
	}
	if isScrewed && v.Warned() {
		a.Text += "; look: " + v.String()
	}
	return a
}

// wantedIn lists what belongs in a hole now.
func (s *State) wantedIn(ix plan.SeatIndex) []events.Kind {
	var list []events.Kind
	for m := range s.lay.plan.Seats[ix].Members {
		list = append(list, s.wantedKind(ix, m))
	}
	return list
}

// memberFor is the member that a kind can be, and whether it is exactly it; -1
// where it can be none.
func (s *State) memberFor(ix plan.SeatIndex, kind events.Kind) (m int, exact bool) {
	found := -1
	for i, k := range s.wantedIn(ix) {
		if k == kind {
			return i, true
		}
		if found < 0 && alike(k, kind) {
			found = i
		}
	}
	return found, false
}

// refuseKind says why a kind is not what a hole wants, the worst first.
func (s *State) refuseKind(ix plan.SeatIndex, kind events.Kind) string {
	st := &s.lay.plan.Seats[ix]
	words := s.kindWords(kind)
	sp, ok := specOf(kind)
	turned := turnedMember(st)
	if !ok || turned < 0 {
		return words + " does not belong in this hole"
	}
	v := s.inBenchUnit(fastener.Window(s.holeNow(ix), sp))
	switch {
	case v.Outcome == fastener.NoStart && sp.Thread.Jams(v.Hole.Thread):
		return sp.Thread.JamWords(words, v.Hole.Thread)
	case v.Outcome == fastener.NoStart:
		return words + " does not start in " + holeThread(v.Hole)
	case v.Refused() || v.Warned():
		return v.String()
	}
	right, _ := specOf(s.wantedKind(ix, turned))
	differ := fastener.Interchangeable(right, sp).Differ
	return words + " starts in this hole and is another one: it differs in " + differ.String()
}

func holeThread(h fastener.Hole) string {
	if !h.Thread.Known() {
		return "this hole"
	}
	return fastener.WithArticle(h.Thread.String()) + " hole"
}

// wantWords lists what belongs in a hole now, from the host outwards.
func (s *State) wantWords(ix plan.SeatIndex) string {
	var words []string
	for _, k := range s.wantedIn(ix) {
		words = append(words, s.kindWords(k))
	}
	return wordList(words)
}

// fromWords names where the right one is: in what is in hand, if it is there.
func (s *State) fromWords(ix plan.SeatIndex, from events.Place) string {
	list := s.sourcesFor(ix)
	if len(list) == 0 {
		return ", none at hand"
	}
	at := max(0, slices.IndexFunc(list, func(src Source) bool { return src.Place == from }))
	return ", " + itoa(list[at].Qty) + " in " + s.placeWords(list[at].Place)
}

// sourcesFor lists where the pieces of a hole are that may go into it, those
// that are kept for its joint first.
func (s *State) sourcesFor(ix plan.SeatIndex) []Source {
	var own, other []Source
	st := &s.lay.plan.Seats[ix]
	about := s.keptFor()
	for m := range st.Members {
		kind, r := s.wantedKind(ix, m), ruleOf(st.Members[m].Reuse)
		if s.seats[ix].in&(1<<m) != 0 && st.Members[m].Stays {
			continue
		}
		for a := 1; a <= s.book.Accounts(); a++ {
			id := ledger.AccountID(a)
			if !usable(s.book.Class(id)) {
				continue
			}
			for it, n := range s.book.At(id) {
				name := s.book.ItemName(it)
				if n <= 0 || !r.allows(name.Cond) || !alike(kind, name.Kind) {
					continue
				}
				src := Source{s.book.Path(id), name.Kind, name.Cond, int(n)}
				if about[a] == string(s.lay.plan.Joints[st.Joint].ID) {
					own = append(own, src)
				} else {
					other = append(other, src)
				}
			}
		}
	}
	return append(own, other...)
}

// condition holds a piece's condition against the rule of its place.
func (s *State) condition(ix plan.SeatIndex, m int, kind events.Kind, from events.Place) (Answer, bool) {
	if from == "" {
		return Answer{}, false
	}
	a, ok := s.book.Lookup(from)
	if !ok {
		return Answer{}, false
	}
	r := ruleOf(s.lay.plan.Seats[ix].Members[m].Reuse)
	good, bad := int32(0), events.Condition("")
	found := false
	for it, n := range s.book.At(a) {
		name := s.book.ItemName(it)
		switch {
		case n <= 0 || name.Kind != kind:
		case r.allows(name.Cond):
			good += n
		default:
			bad, found = name.Cond, true
		}
	}
	if good > 0 || !found {
		return Answer{}, false
	}
	words, where := s.kindWords(kind), s.placeWords(from)
	text := "No: " + words + " in " + where + " is " + conditionWords(bad)
	switch {
	case bad == events.Condemned || bad == events.Sample:
	case r == onlyNew:
		text += ", and this hole takes only new ones"
	case r == measured:
		return Answer{Text: "No: " + words + " in " + where + " was not measured", Next: "measure it, or take a new one" + s.fromWords(ix, from)}, true
	}
	return Answer{Text: text, Next: "take a good one" + s.fromWords(ix, from)}, true
}

func conditionWords(c events.Condition) string {
	switch c {
	case events.AsFound:
		return "as it came"
	case events.Used:
		return "new no more, it was tightened here"
	case events.MeasuredGood:
		return "measured good"
	case events.Sample:
		return "a sample"
	}
	return string(c)
}

// ownSeat keeps a piece that has a seat of its own out of another's.
func (s *State) ownSeat(ix plan.SeatIndex, m int, kind events.Kind, from events.Place) (Answer, bool) {
	st := &s.lay.plan.Seats[ix]
	a, ok := s.book.Lookup(from)
	if st.OwnSeat == plan.AnySeat || from == "" || !ok {
		return Answer{}, false
	}
	other := events.Seat("")
	for it, n := range s.book.At(a) {
		name := s.book.ItemName(it)
		if n <= 0 || name.Kind != kind {
			continue
		}
		if name.Origin == "" || s.Own(name.Origin) == st.ID {
			return Answer{}, false
		}
		other = s.Own(name.Origin)
	}
	if other == "" {
		return Answer{}, false
	}
	return Answer{Text: "No: this one belongs in " + s.nounWords(noun("hole", other)), Next: "put each back where it came from"}, true
}

// window is what becomes of the piece in the hole; false for what is not
// turned into it.
func (s *State) window(ix plan.SeatIndex, m int, kind events.Kind) (fastener.Verdict, bool) {
	sp, ok := specOf(kind)
	if !ok || turnedMember(&s.lay.plan.Seats[ix]) != m {
		return fastener.Verdict{}, false
	}
	return s.inBenchUnit(fastener.Window(s.holeNow(ix), sp)), true
}

func unknownWords(a, b events.Kind) string {
	x, _ := specOf(a)
	y, _ := specOf(b)
	if u := fastener.Interchangeable(x, y).Unknown; u != 0 {
		return "; not known: " + u.String()
	}
	return ""
}

// Starter is a kind of this job that would start in a hole where another
// belongs.
type Starter struct {
	Kind    events.Kind
	Verdict fastener.Verdict
	Places  []events.Place // where it is
}

// AlsoStart lists every other kind on this job that would start in a hole as
// it is now: too long, by how much it bottoms; too short, with how much thread
// is left. The order is that of the plan's kinds, then of what is at hand beside.
func (j *Job) AlsoStart(joint events.Joint, hole events.Hole) []Starter {
	s := j.State()
	ix, ok := s.lay.plan.Hole(joint, hole)
	if !ok {
		return nil
	}
	turned := turnedMember(&s.lay.plan.Seats[ix])
	if turned < 0 {
		return nil
	}
	right, _ := specOf(s.wantedKind(ix, turned))
	kinds, specs := s.jobKinds()
	var list []Starter
	for i, sp := range specs {
		for _, v := range fastener.Usual().AlsoStart(s.holeNow(ix), right, []fastener.Spec{sp}) {
			list = append(list, Starter{kinds[i], s.inBenchUnit(v), s.placesOfKind(kinds[i])})
		}
	}
	return list
}

// jobKinds lists the fasteners of the plan and of what the book has met.
func (s *State) jobKinds() ([]events.Kind, []fastener.Spec) {
	var kinds []events.Kind
	var specs []fastener.Spec
	add := func(k events.Kind) {
		if sp, ok := specOf(k); ok && !contains(kinds, k) {
			kinds, specs = append(kinds, k), append(specs, sp)
		}
	}
	for _, k := range s.lay.kinds {
		add(k)
	}
	for k := 1; k <= s.book.Kinds(); k++ {
		add(s.book.KindName(ledger.KindID(k)))
	}
	return kinds, specs
}

func (s *State) placesOfKind(k events.Kind) []events.Place {
	var list []events.Place
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if !usable(s.book.Class(id)) {
			continue
		}
		for it, n := range s.book.At(id) {
			if n > 0 && s.book.ItemName(it).Kind == k {
				list = append(list, s.book.Path(id))
				break
			}
		}
	}
	return list
}
