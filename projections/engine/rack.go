package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

func (s *State) rack(p events.Place) *Rack {
	if s.racks == nil {
		s.racks = make(map[events.Place]*Rack)
	}
	r, ok := s.racks[p]
	if !ok {
		r = &Rack{Place: p}
		s.racks[p] = r
	}
	return r
}

// rackOf cuts the position off a rack's path.
func rackOf(p events.Place) (rack events.Place, position events.Hole) {
	label := strings.IndexByte(string(p), '/') + 1
	end := strings.IndexByte(string(p[label:]), '/')
	if label == 0 || end < 0 {
		return p, ""
	}
	return p[:label+end], events.Hole(p[label+end+1:])
}

// partPlaced puts one piece of a part into a position of a rack.
func (s *State) partPlaced(e *events.PartPlaced) {
	rack, pos := rackOf(e.Rack)
	s.rack(rack).Part = e.Part
	origin := e.Position
	if origin == "" {
		origin = pos
	}
	p, ok := s.lay.plan.Part(e.Part)
	if !ok {
		s.book.MoveKind(s.fact, s.book.Kind(events.Kind(e.Part)), 1, s.arrived, s.book.Account(e.Rack))
		return
	}
	s.presumeBefore(p)
	if st := s.now.Part(p); st == plan.PartOn || st == plan.PartPartly {
		s.takeOff(p, []events.Hole{origin}, e.Rack, s.book.Account(e.Rack))
		return
	}
	s.rackLoose(p, events.SeatOf(events.Joint(e.Part), origin), s.book.Account(e.Rack))
}

// rackLoose puts a piece that is off into a position: its own if that is known
// to lie anywhere, else one whose origin nobody knows, from now on its own.
func (s *State) rackLoose(p plan.PartIndex, seat events.Seat, to ledger.AccountID) {
	kind := s.lay.kinds[s.lay.parts[p].kind]
	k := s.book.Kind(kind)
	own := s.book.Like(ledger.Item{Kind: kind, Origin: seat})
	for _, m := range []ledger.Match{own, ledger.Exactly(s.book.Item(ledger.Item{Kind: kind}))} {
		for _, a := range s.book.Holders(k) {
			if a != to && usable(s.book.Class(a)) && s.book.Balance(a, m) > 0 {
				s.book.MoveInto(s.fact, m, s.book.From(s.book.Plain(m), seat), 1, a, to)
				return
			}
		}
	}
	plain := ledger.OfKind(k)
	s.book.MoveInto(s.fact, plain, s.book.From(s.book.Plain(plain), seat), 1, s.benchOfPart(p), to)
}

// rackRead is a look at a whole rack: the positions named are empty, all
// others are full.
func (s *State) rackRead(e *events.RackRead) {
	r := s.rack(e.Rack)
	if e.Part != "" {
		r.Part = e.Part
	}
	if e.Joint != "" {
		r.Joint = e.Joint
	}
	if p, ok := s.lay.plan.Part(r.Part); ok {
		k := s.kinds[s.lay.parts[p].kind]
		for _, pos := range s.lay.plan.Parts[p].Positions {
			n := int32(pos.Count)
			if contains(e.Empty, pos.Name) {
				n = 0
			}
			s.book.Count(s.fact, s.known(), s.book.Account(e.Rack+"/"+events.Place(pos.Name)), ledger.OfKind(k), n)
		}
		return
	}
	s.rackOfJoint(r, e.Empty)
}

// rackOfJoint reads a rack that keeps the fasteners of a joint by hole.
func (s *State) rackOfJoint(r *Rack, empty []events.Hole) {
	j, ok := s.lay.plan.Joint(r.Joint)
	if !ok {
		s.note(NoSuch, string(r.Place), "nothing is known to be in it")
		return
	}
	for _, ix := range s.lay.plan.Joints[j].Seats {
		sl := &s.lay.seats[ix]
		hole := s.lay.plan.Seats[ix].Hole
		a := s.book.Account(r.Place + "/" + events.Place(hole))
		for _, m := range sl.members {
			if m.stays {
				continue
			}
			n := int32(1)
			if contains(empty, hole) {
				n = 0
			}
			s.book.Count(s.fact, s.known(), a, ledger.OfKind(s.kinds[m.kind]), n)
		}
	}
}

// orderLost says that a rack was tipped: its pieces are there, and no origin
// is known any more (rule R13).
func (s *State) orderLost(e *events.OrderLost) {
	rack, _ := rackOf(e.Rack)
	r := s.rack(rack)
	r.Lost = s.fact
	heap := s.book.Account(rack)
	prefix := string(rack) + "/"
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if s.book.Class(id) != ledger.Rack || !strings.HasPrefix(string(s.book.Path(id)), prefix) {
			continue
		}
		for _, l := range s.contents(id) {
			it := s.book.Item(ledger.Item{Kind: l.Kind, Cond: l.Cond, Lot: l.Lot, Origin: l.Origin})
			plain := s.book.From(it, "")
			s.book.MoveInto(s.fact, ledger.Exactly(it), plain, int32(l.Qty), id, heap)
		}
	}
	if p, ok := s.lay.plan.Part(r.Part); ok {
		s.parts[p].at = heap
	}
}

// reassigned gives a piece another seat on purpose: from now on that is its own.
func (s *State) reassigned(e *events.Reassigned) {
	from := events.SeatOf(events.Joint(e.Part), e.From)
	to := events.SeatOf(events.Joint(e.Part), e.To)
	if s.reassigns == nil {
		s.reassigns = make(map[events.Seat]events.Seat)
	}
	s.reassigns[from] = to
}

// Own is the seat that a piece of this origin belongs in now.
func (s *State) Own(origin events.Seat) events.Seat {
	if to, ok := s.reassigns[origin]; ok {
		return to
	}
	return origin
}

// fitByOrigin fits pieces that have a seat of their own. A whole rack is fitted
// each piece to its own seat; a named position takes what lies in the place
// named. It says how many pieces went in.
func (s *State) fitByOrigin(p plan.PartIndex, positions []plan.Position, path events.Place, from ledger.AccountID) (done int32) {
	pl, in := &s.lay.parts[p], s.parts[p].in
	g, k := s.group[pl.group], s.kinds[pl.kind]
	if in == nil {
		in = s.seatRoom.take(len(pl.own), 64)
		s.parts[p].in = in
	}
	rack, hole := rackOf(path)
	whole := len(positions) == len(pl.own)
	for i := range positions {
		spot := i
		if !whole {
			spot = s.spotAt(p, positions[i].Name)
		}
		at, it, ok := s.pieceFor(pl.own[spot], path, hole != "" && rack != path, from, k)
		if !ok {
			continue
		}
		n := min(int32(positions[i].Count), s.book.Qty(at, it))
		if n <= 0 || at == g {
			continue
		}
		s.book.MoveItem(s.fact, it, n, at, g)
		done += n
		in[spot] = s.book.Origin(it)
	}
	return done
}

// pieceFor finds the piece that goes into a seat: out of a position of a
// rack that is named, or its own wherever it lies.
func (s *State) pieceFor(seat events.Seat, path events.Place, named bool, from ledger.AccountID, k ledger.KindID) (ledger.AccountID, ledger.ItemID, bool) {
	if named {
		for it, n := range s.book.At(from) { // this very piece
			if n > 0 && s.book.KindOf(it) == k {
				return from, it, true
			}
		}
		return 0, 0, false
	}
	for _, id := range s.book.Holders(k) {
		if !usable(s.book.Class(id)) || (path != "" && id != from && !strings.HasPrefix(string(s.book.Path(id)), string(path)+"/")) {
			continue
		}
		for it, n := range s.book.At(id) {
			if n > 0 && s.book.KindOf(it) == k {
				if o := s.book.Origin(it); o != "" && s.Own(o) == seat {
					return id, it, true
				}
			}
		}
	}
	return 0, 0, false
}
