package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// HistoryLine is one fact about a thing, as a sentence.
type HistoryLine struct {
	Fact events.FactID
	Time int64 // when it was recorded, microseconds since 1970 UTC, as the terminals agree on it
	From int64 // between when it happened; both 0: when it was recorded
	To   int64
	Who  string
	Text string
}

// HoleCard is all that is known of one hole.
type HoleCard struct {
	Seat   events.Seat
	Wants  []events.Kind // what belongs in it now, from the host outwards
	Now    string        // what is in it
	Became string        // an insert, an oversize thread; empty: as the plan says
	Window string        // whether its own fastener fits, in millimetres
	From   []Source      // where its fasteners are
	Stages int           // recorded for this fitting
	Of     int           // stages that its list has
	Under  []string      // parts that it clamps, from the host outwards
	Next   []events.Step // steps that fill it, in the plan's order
}

// Whereabouts is where a thing is and was.
type Whereabouts struct {
	Noun     string
	Name     string        // for people
	Known    bool          // this job has it or has met it
	Now      []string      // where it is; of a part inside others the innermost place first
	LastSeen events.FactID // the last fact that moved it or looked at it
	Seen     int64         // when that was at the earliest; 0: never
	History  []HistoryLine // oldest first
	Hole     *HoleCard     // of a hole
	Sources  []Source      // of a kind: which bags, racks and benches have it
}

// Where says where a thing is and was. The noun is a type word and an id: "part
// head", "hole front-cover:18", "joint exhaust", "bag B2KCZ6EE", "loan rag",
// "slip …", "case …", "cavity sump", "kind M6x1.0x25 8.8 flange". A noun
// without a type word that is known as a part, a joint or a fastener is taken
// for that.
func (j *Job) Where(n string) Whereabouts {
	s := j.State()
	n = s.wholeNoun(n)
	w := Whereabouts{Noun: n, Name: s.nounWords(n)}
	typ, id := cutNoun(n)
	if s.noHole(typ, id) {
		return w // the joint has a history, and no such hole
	}
	switch typ {
	case "part":
		s.wherePart(&w, events.Part(id))
	case "hole":
		s.whereHole(&w, events.Seat(id))
	case "joint":
		s.whereJoint(&w, events.Joint(id))
	case "bag", "rack", "place", "stock", "slip", "bench":
		s.wherePlace(&w, events.Place(typ+"/"+id))
	case "loan":
		s.whereLoan(&w, events.Loan(id))
	case "case":
		s.whereCase(&w, events.Code(id))
	case "cavity":
		s.whereCavity(&w, events.Cavity(id))
	case "kind":
		s.whereKind(&w, events.Kind(id))
	}
	s.walkUp(&w, typ, id)
	s.history(&w, typ, id)
	return w
}

// noHole reports whether a noun is a hole of a joint of the plan that does not
// have it.
func (s *State) noHole(typ, id string) bool {
	if typ != "hole" {
		return false
	}
	joint, hole := events.Seat(id).Split()
	_, known := s.lay.plan.Joint(joint)
	_, there := s.lay.plan.Hole(joint, hole)
	return known && !there
}

// wholeNoun adds the type word to a noun that has none.
func (s *State) wholeNoun(n string) string {
	typ, _ := cutNoun(n)
	switch typ {
	case "part", "hole", "joint", "bag", "rack", "place", "stock", "slip", "bench", "loan", "case", "cavity", "kind", "step", "mark":
		return n
	}
	if noun, ok := s.tags[events.Code(n)]; ok {
		return noun
	}
	if _, ok := s.bags[events.Code(n)]; ok {
		return noun("bag", n)
	}
	if _, ok := s.lay.plan.Part(events.Part(n)); ok {
		return noun("part", n)
	}
	if _, ok := s.lay.plan.Joint(events.Joint(n)); ok {
		return noun("joint", n)
	}
	if sp, ok := specOf(events.Kind(n)); ok {
		return noun("kind", sp.String())
	}
	return n
}

// wherePart walks up from a part to what it is on, and so on.
func (s *State) wherePart(w *Whereabouts, id events.Part) {
	p, ok := s.lay.plan.Part(id)
	if !ok {
		s.whereKind(w, events.Kind(id))
		return
	}
	w.Known = true
	for at := p; at != plan.None; at = s.lay.plan.Parts[at].In {
		line, up := s.partNow(at)
		w.Now = append(w.Now, line)
		if !up {
			break
		}
	}
	w.Sources = s.sourcesOfKind(events.Kind(id))
}

// partNow says where one part is, and whether the way goes on upwards.
func (s *State) partNow(p plan.PartIndex) (string, bool) {
	pt, pl := &s.lay.plan.Parts[p], &s.lay.parts[p]
	name := pt.Name
	switch s.now.Part(p) {
	case plan.PartAbsent:
		return "this engine has no " + name, false
	case plan.PartAway:
		if sl := s.slipOf(p); sl != nil {
			return name + " is away since " + s.day(sl.Since) + ", slip " + string(sl.Code) + to(sl.Shop), false
		}
		return name + " is away", false
	case plan.PartOn, plan.PartPartly:
		on := "the engine"
		if pt.In != plan.None {
			on = s.lay.plan.Parts[pt.In].Name
		}
		if pt.Root {
			return name + " is on the stand", false
		}
		n := s.book.Balance(s.group[pl.group], ledger.OfKind(s.kinds[pl.kind]))
		if s.now.Part(p) == plan.PartPartly {
			return itoa(int(n)) + " of " + itoa(pt.Count) + " " + name + " on " + on, true
		}
		return name + " on " + on, true
	}
	var places []string
	for a, n := range s.book.Where(ledger.OfKind(s.kinds[pl.kind])) {
		if n > 0 && s.book.Class(a) != ledger.Outside && s.book.Class(a) != ledger.Unexplained {
			text := s.placeWords(s.book.Path(a))
			if pt.Count > 1 {
				text = itoa(int(n)) + " in " + text
			}
			places = append(places, text)
		}
	}
	if len(places) == 0 {
		return name + " is off; where it lies is not known", false
	}
	return name + ": " + wordList(places), false
}

func (s *State) whereHole(w *Whereabouts, seat events.Seat) {
	joint, hole := seat.Split()
	ix, ok := s.lay.plan.Hole(joint, hole)
	if !ok {
		return
	}
	w.Known = true
	w.Hole = s.holeCard(ix)
	w.Now = []string{w.Hole.Now}
	w.Sources = w.Hole.From
	if h := s.lay.plan.Seats[ix].Host; h != plan.None {
		w.Now = append(w.Now, "in "+string(s.hostName(h)))
	}
}

// holeCard gathers what is known of a hole.
func (s *State) holeCard(ix plan.SeatIndex) *HoleCard {
	st, sl := &s.lay.plan.Seats[ix], &s.lay.seats[ix]
	c := &HoleCard{Seat: st.ID, Wants: s.wantedIn(ix), Now: s.holeHolds(ix), From: s.sourcesFor(ix),
		Stages: min(int(s.seats[ix].stages), s.stagesOf(ix)), Of: s.stagesOf(ix)}
	if h, ok := s.holes[ix]; ok {
		c.Became = becameWords(h)
	}
	if m := turnedMember(st); m >= 0 {
		if v, ok := s.window(ix, m, s.wantedKind(ix, m)); ok {
			c.Window = v.String()
		}
	}
	for _, p := range st.Clamps {
		c.Under = append(c.Under, s.lay.plan.Parts[p].Name)
	}
	for _, step := range sl.in {
		c.Next = append(c.Next, s.lay.plan.Steps[step].ID)
	}
	return c
}

// holeHolds is what is in a hole, in words.
func (s *State) holeHolds(ix plan.SeatIndex) string {
	st, sl := &s.seats[ix], &s.lay.seats[ix]
	if st.broken {
		return "a stub"
	}
	var in []string
	for m := range sl.members {
		switch {
		case st.in&(1<<m) == 0:
		case st.oddKind && 1<<m == mainMember(sl):
			in = append(in, s.kindWords(s.odd[ix]))
		default:
			in = append(in, s.kindWords(s.lay.plan.Seats[ix].Members[m].Kind))
		}
	}
	switch s.now.Seat(ix) {
	case plan.SeatAbsent:
		return "this engine has no such hole"
	case plan.SeatLoan:
		return "a loan"
	case plan.SeatParked:
		return wordList(in) + ", finger-tight, to be kept"
	case plan.SeatFilled:
		return wordList(in) + ", not tightened to the end"
	case plan.SeatFinished:
		return wordList(in) + ", finished"
	}
	if s.Unsure(ix) {
		return "empty by the last count, or not: nobody has said"
	}
	if len(in) == 0 {
		return "nothing"
	}
	return wordList(in) + ", and nothing else"
}

func (s *State) whereJoint(w *Whereabouts, id events.Joint) {
	j, ok := s.lay.plan.Joint(id)
	if !ok {
		for i := range s.learned.joints {
			w.Known = w.Known || s.learned.joints[i].Joint == id
		}
		return
	}
	w.Known = true
	in, out := 0, 0
	for _, ix := range s.lay.plan.Joints[j].Seats {
		if s.lay.seats[ix].full == 0 || s.now.Seat(ix) == plan.SeatAbsent {
			continue
		}
		if s.seats[ix].in&^s.lay.seats[ix].stay != 0 {
			in++
		} else {
			out++
		}
	}
	w.Now = append(w.Now, itoa(in)+" of "+plural(in+out, "hole")+" filled")
	for a, about := range s.keptFor() {
		if about == string(id) && len(s.contents(ledger.AccountID(a))) > 0 {
			w.Now = append(w.Now, s.placeWords(s.book.Path(ledger.AccountID(a)))+": "+s.linesWords(s.contents(ledger.AccountID(a))))
		}
	}
}

func (s *State) wherePlace(w *Whereabouts, p events.Place) {
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if !within(s.book.Path(id), p) {
			continue
		}
		w.Known = true
		if lines := s.contents(id); len(lines) > 0 {
			w.Now = append(w.Now, capital(s.placeWords(s.book.Path(id)))+": "+s.linesWords(lines))
		}
	}
	if w.Known && len(w.Now) == 0 {
		w.Now = []string{"empty"}
	}
	if _, id := cutNoun(w.Noun); s.bags[events.Code(id)] != nil {
		b := s.bags[events.Code(id)]
		if b.Retired != 0 {
			w.Now = append(w.Now, "retired "+s.day(b.Retired))
		}
	}
}

func (s *State) whereLoan(w *Whereabouts, l events.Loan) {
	st, ok := s.loans[l]
	_, planned := s.lay.plan.Loan(l)
	w.Known = ok || planned
	switch {
	case ok && st.In > 0:
		w.Now = []string{s.loanIsIn(l, st)}
	case w.Known:
		w.Now = []string{"not in the engine"}
	}
}

func (s *State) whereCase(w *Whereabouts, c events.Code) {
	k, ok := s.Case(c)
	if !ok {
		return
	}
	w.Known = true
	w.Now = []string{s.holesWords(k.Joint, []events.Hole{k.Hole}) + ", " + s.kindWords(k.Kind) + " broken " + s.day(k.Since)}
	if !k.Open() {
		w.Now = append(w.Now, "out since "+s.day(k.Closed)+"; the hole is "+string(k.Hole1))
	}
}

func (s *State) whereCavity(w *Whereabouts, c events.Cavity) {
	ix, ok := s.lay.plan.Cavity(c)
	if !ok {
		return
	}
	w.Known = true
	w.Now = []string{"closed"}
	if s.now.Open(ix) {
		w.Now = []string{"open"}
	}
	for _, to := range s.lay.plan.Cavities[ix].LeadsTo {
		w.Now = append(w.Now, "leads to "+s.cavityWords(to))
	}
}

// whereKind says which places have a kind, and what may stand in for it: first
// where pieces lie, then where they are fitted.
func (s *State) whereKind(w *Whereabouts, k events.Kind) {
	w.Sources = s.sourcesOfKind(k)
	for _, fitted := range []bool{false, true} {
		for i := range w.Sources {
			src := &w.Sources[i]
			c := ledger.ClassOf(src.Place)
			if (c == ledger.Fitted || c == ledger.Parked || c == ledger.Stub) != fitted {
				continue
			}
			text := itoa(src.Qty)
			if src.Kind != k {
				text += " " + s.kindWords(src.Kind)
			}
			w.Now = append(w.Now, text+" in "+s.placeWords(src.Place))
		}
	}
	w.Known = len(w.Sources) > 0
	if !w.Known {
		w.Now = []string{"none of it is in this job"}
	}
}

// sourcesOfKind lists the places that hold a kind or one that may stand in for
// it: where it is fitted as well as where it lies.
func (s *State) sourcesOfKind(k events.Kind) []Source {
	var list []Source
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if c := s.book.Class(id); c == ledger.Outside || c == ledger.Unexplained {
			continue
		}
		for it, n := range s.book.At(id) {
			if name := s.book.ItemName(it); n > 0 && alike(k, name.Kind) {
				list = append(list, Source{s.book.Path(id), name.Kind, name.Cond, int(n)})
			}
		}
	}
	return list
}
