package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// partRemoved takes a part off. What must have come off before it and was not
// recorded is presumed: rule R5.
func (s *State) partRemoved(e *events.PartRemoved) {
	p, ok := s.part()
	if !ok {
		n, k := int32(max(1, e.Counted)), ledger.OfKind(s.book.Kind(events.Kind(e.Part)))
		on, to := s.book.Account(events.Place("fitted/engine/"+string(e.Part))), s.place(e.To, noun("part", e.Part))
		have := min(s.book.Balance(on, k), n)
		s.book.Move(s.fact, k, have, on, to)
		s.book.Move(s.fact, k, n-have, s.arrived, to)
		s.learned.part(e.Part, s.fact, int(n-have))
		return
	}
	s.presumeBefore(p)
	to := s.placeOfPart(s.meant.to, e.To, p)
	if s.meant.where == inBag {
		s.keepFor(s.meant.to, e.To, "", e.Part)
	}
	fresh := e.Counted > 0 && s.holdsNothing(to)
	if s.now.Part(p) == plan.PartOff {
		s.partAgain(p, e, to)
	} else {
		if e.Counted > 0 || e.NoneCame {
			s.countFitted(p, e)
		}
		s.takeOff(p, e.Positions, e.To, to)
		s.clearUncounted("", e.Part)
	}
	if fresh {
		s.book.Saw(s.fact, s.known(), to) // what was counted off is all that is in it
	}
}

func (s *State) placeOfPart(n spotNo, path events.Place, p plan.PartIndex) ledger.AccountID {
	if path == "" {
		return s.benchOfPart(p)
	}
	return s.placeOf(n, path, "")
}

// partAgain is a removal of what was off already, by presumption: now its
// place and number are told, of all of it or of some positions.
func (s *State) partAgain(p plan.PartIndex, e *events.PartRemoved, to ledger.AccountID) {
	from := s.parts[p].at
	if from == 0 {
		return
	}
	k := s.kinds[s.lay.parts[p].kind]
	have := s.book.BalanceOf(from, k)
	n, positions := have, s.lay.plan.Parts[p].Positions
	if len(e.Positions) > 0 {
		positions = s.positions(p, e.Positions)
		n = min(have, s.piecesAt(p, e.Positions))
	}
	if e.Counted > 0 || e.NoneCame {
		s.book.Count(s.fact, s.known(), from, ledger.OfKind(k), have-n+int32(e.Counted))
		n = int32(e.Counted)
	} else if from == to {
		return // nothing new was told
	}
	if from != to {
		s.toPlace(p, positions, n, from, e.To, to)
		s.parts[p].at = to
	}
	s.clearUncounted("", e.Part)
}

// positions are those of a part that have one of the names.
func (s *State) positions(p plan.PartIndex, names []events.Hole) []plan.Position {
	var some []plan.Position
	for _, pos := range s.lay.plan.Parts[p].Positions {
		if contains(names, pos.Name) {
			some = append(some, pos)
		}
	}
	return some
}

// countFitted compares the pieces of a part that came off with the book.
func (s *State) countFitted(p plan.PartIndex, e *events.PartRemoved) {
	pl := &s.lay.parts[p]
	g, m := s.group[pl.group], ledger.OfKind(s.kinds[pl.kind])
	book := s.book.Balance(g, m)
	if len(e.Positions) > 0 {
		book = min(book, s.piecesAt(p, e.Positions))
	}
	if d := int32(e.Counted) - book; d < 0 || s.book.LastCountOf(g, s.book.Plain(m)).Fact != 0 {
		s.book.Count(s.fact, s.known(), g, m, s.book.Balance(g, m)+d)
	} else if d > 0 {
		s.note(FoundOdd, "part "+string(e.Part), itoa(int(d))+" more than the plan")
		s.book.Move(s.fact, m, d, s.arrived, g)
	}
}

func (s *State) piecesAt(p plan.PartIndex, positions []events.Hole) int32 {
	n := int32(0)
	for _, pos := range s.lay.plan.Parts[p].Positions {
		if contains(positions, pos.Name) {
			n += int32(pos.Count)
		}
	}
	return n
}

// takeOff moves a part, or some positions of it, off what it is on.
func (s *State) takeOff(p plan.PartIndex, positions []events.Hole, path events.Place, to ledger.AccountID) {
	pl, pt := &s.lay.parts[p], &s.parts[p]
	g, k := s.group[pl.group], s.kinds[pl.kind]
	if pl.single {
		s.useUp(g, k)
	}
	if len(positions) == 0 || len(positions) == len(pl.own) {
		if pl.press >= 0 {
			s.pressOut(p, nil)
		}
		if pl.seated {
			s.toPlace(p, s.lay.plan.Parts[p].Positions, s.book.BalanceOf(g, k), g, path, to)
		} else {
			s.book.MoveAll(s.fact, k, g, to)
		}
		pt.at, pt.reused, pt.condemned = to, 0, 0
		if pt.in != nil {
			pt.in = nil
		}
		s.setPart(p, plan.PartOff)
		return
	}
	s.toPlace(p, s.positions(p, positions), s.piecesAt(p, positions), g, path, to)
	pt.at = to
	state := plan.PartPartly
	if s.book.BalanceOf(g, k) == 0 {
		state, positions = plan.PartOff, nil
	}
	s.pressOut(p, positions)
	s.setPart(p, state)
}

// toPlace moves n pieces of a part from an account into a place. Pieces with
// a seat of their own keep it as their origin, and lie in a rack by position.
func (s *State) toPlace(p plan.PartIndex, positions []plan.Position, n int32, from ledger.AccountID, path events.Place, to ledger.AccountID) {
	pl := &s.lay.parts[p]
	k := s.kinds[pl.kind]
	if !pl.seated {
		s.book.MoveKind(s.fact, k, n, from, to)
		return
	}
	racked := s.book.Class(to) == ledger.Rack && strings.Count(string(path), "/") == 1
	if racked {
		s.rack(path).Part = s.lay.plan.Parts[p].ID
	}
	whole := len(positions) == len(pl.own)
	for i := range positions {
		pos := &positions[i]
		c := min(int32(pos.Count), n)
		if c <= 0 {
			return
		}
		n -= c
		spot := i
		if !whole {
			spot = s.spotAt(p, pos.Name)
		}
		s.onePosition(p, spot, c, from, path, to, racked)
	}
	if n > 0 {
		s.book.MoveKind(s.fact, k, n, from, to)
	}
}

// onePosition moves the piece that sits in a position: with its own origin if it
// was ever told, with the position's as origin if not.
func (s *State) onePosition(p plan.PartIndex, spot int, c int32, from ledger.AccountID, path events.Place, to ledger.AccountID, racked bool) {
	pl := &s.lay.parts[p]
	k := s.kinds[pl.kind]
	if racked {
		to = s.book.Account(path + "/" + events.Place(s.lay.plan.Parts[p].Positions[spot].Name))
	}
	m := ledger.OfKind(k)
	if it, ok := s.pieceAt(p, spot, from, k); ok {
		m = ledger.Exactly(it)
		if s.book.Origin(it) != "" {
			s.book.Move(s.fact, m, c, from, to)
			return
		}
	}
	s.book.MoveInto(s.fact, m, s.book.From(s.book.Plain(m), pl.own[spot]), c, from, to)
}

// pieceAt finds the item that sits in a position by what was told at fitting.
func (s *State) pieceAt(p plan.PartIndex, spot int, from ledger.AccountID, k ledger.KindID) (ledger.ItemID, bool) {
	origin := s.originIn(p, spot)
	var plain ledger.ItemID
	for it, n := range s.book.At(from) {
		if n <= 0 || s.book.KindOf(it) != k {
			continue
		}
		o := s.book.Origin(it)
		if o == origin && origin != "" {
			return it, true
		}
		if o == "" && plain == 0 {
			plain = it
		}
	}
	return plain, plain != 0
}

// spotAt is which of a part's positions has a name; it must have one.
func (s *State) spotAt(p plan.PartIndex, name events.Hole) int {
	positions := s.lay.plan.Parts[p].Positions
	at := 0
	for at+1 < len(positions) && positions[at].Name != name {
		at++
	}
	return at
}

// originIn is the origin of the piece that was fitted to a position.
func (s *State) originIn(p plan.PartIndex, spot int) events.Seat {
	if in := s.parts[p].in; spot < len(in) {
		return in[spot]
	}
	return ""
}

// partFitted puts a part, or some positions of it, back on.
func (s *State) partFitted(e *events.PartFitted) {
	p, ok := s.part()
	if !ok {
		k := s.book.Kind(events.Kind(e.Part))
		s.book.MoveKind(s.fact, k, int32(max(1, e.Counted)), s.place(e.From, noun("part", e.Part)),
			s.book.Account(events.Place("fitted/engine/"+string(e.Part))))
		return
	}
	if len(s.batches) > 0 {
		for _, b := range s.inBatch(e.Part, s.rec.At) {
			s.note(FittedEarly, noun("part", e.Part), b.Text)
		}
	}
	pt := &s.lay.plan.Parts[p]
	positions := pt.Positions
	if len(e.Positions) > 0 {
		positions = nil
		for _, pos := range pt.Positions {
			if contains(e.Positions, pos.Name) {
				positions = append(positions, pos)
			}
		}
	}
	s.putOn(p, positions, s.meant.from, e.From, e.Counted)
}

// putOn moves a part onto what it belongs on.
func (s *State) putOn(p plan.PartIndex, positions []plan.Position, n spotNo, path events.Place, counted int) {
	pl := &s.lay.parts[p]
	g, k := s.group[pl.group], s.kinds[pl.kind]
	var want int32
	if counted > 0 {
		want = int32(counted)
	} else {
		want = pl.full
		if len(positions) != len(pl.own) {
			want = 0
			for i := range positions {
				want += int32(positions[i].Count)
			}
		}
		// what is on already is not put on again
		want = min(want, max(0, pl.count-s.book.BalanceOf(g, k)))
	}
	if pl.press >= 0 {
		s.pressIn(p, positions, want)
	}
	var from ledger.AccountID
	if path != "" {
		from = s.placeOfPart(n, path, p)
	}
	if pl.seated {
		want -= s.fitByOrigin(p, positions, path, from)
	}
	if want > 0 {
		if from == 0 {
			from = s.partSource(p, want)
		}
		b := s.supply(k, want, pl.single, from, g)
		if b != (bad{}) {
			s.partBad(p, b)
		}
	}
	state := plan.PartOn
	if s.book.BalanceOf(g, k) < pl.count {
		state = plan.PartPartly
	}
	s.setPart(p, state)
}

// partSource is where a part lies: new ones first if it is single-use.
func (s *State) partSource(p plan.PartIndex, n int32) ledger.AccountID {
	pl := &s.lay.parts[p]
	k := s.kinds[pl.kind]
	if at := s.parts[p].at; at != 0 && !pl.single && s.book.BalanceOf(at, k) >= n {
		return at
	}
	return s.source(k, n, pl.single, s.group[pl.group])
}

func (s *State) partBad(p plan.PartIndex, b bad) {
	s.parts[p].reused += b.reused
	s.parts[p].condemned += b.condemned
}

// presumeOn puts a part on because what clamps it is in.
func (s *State) presumeOn(p plan.PartIndex) {
	s.putOn(p, s.lay.plan.Parts[p].Positions, 0, "", 0)
}

// suits says whether a part that is off could be put on without asking: its
// pieces are known to be here, and new where they must be.
func (s *State) suits(p plan.PartIndex) bool {
	pl := &s.lay.parts[p]
	m := ledger.OfKind(s.kinds[pl.kind])
	if pl.single {
		m = s.newOf(s.kinds[pl.kind])
	}
	n := int32(0)
	for _, a := range s.book.Holders(s.kinds[pl.kind]) {
		if usable(s.book.Class(a)) {
			n += max(0, s.book.Balance(a, m))
		}
	}
	return n >= int32(s.lay.plan.Parts[p].Count)
}

// partsMoved follows parts that are moved about as pieces of a container.
func (s *State) partsMoved(lines []events.Line, to ledger.AccountID) {
	for i := range lines {
		if p, ok := s.lay.partKind[lines[i].Kind]; ok && s.now.Part(p) == plan.PartOff {
			s.parts[p].at = to
		}
	}
}

// PartAt is where a part that is off was put last, empty if that is not known.
func (s *State) PartAt(id events.Part) events.Place {
	p, ok := s.lay.plan.Part(id)
	if !ok || s.parts[p].at == 0 {
		return ""
	}
	return s.book.Path(s.parts[p].at)
}
