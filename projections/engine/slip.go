package engine

import (
	"sort"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// sentOut sends host parts away with all that is on them. What does not go is
// taken off them first.
func (s *State) sentOut(e *events.SentOut) {
	slip := &Slip{Code: e.Slip, Shop: e.Shop, Scope: e.Scope, Since: s.fact}
	s.slips = append(s.slips, slip)
	to := s.book.Account(events.Place("slip/" + string(e.Slip)))
	for i := range e.Stays {
		s.stays(&e.Stays[i], e.Parts)
	}
	for _, id := range e.Parts {
		p, ok := s.lay.plan.Part(id)
		if !ok {
			s.note(NoSuch, noun("part", id), "")
			continue
		}
		s.presumeBefore(p)
		if st := s.now.Part(p); st == plan.PartOn || st == plan.PartPartly {
			s.presumeHeld(p)
			s.presumeOff(p)
		}
		k := ledger.OfKind(s.kinds[s.lay.parts[p].kind])
		from := s.parts[p].at
		if from == 0 {
			from = s.bench(s.rec.Terminal, noun("part", id))
		}
		s.book.Move(s.fact, k, int32(s.lay.plan.Parts[p].Count), from, to)
		s.parts[p].at = to
		s.setPart(p, plan.PartAway)
		slip.Parts = append(slip.Parts, id)
		slip.Out = append(slip.Out, id)
	}
	s.lookedOver(e.Parts) // whoever gets them next looks
	slip.Went = s.travels(slip.Parts)
}

// stays takes pieces off a host that leaves without them.
func (s *State) stays(l *events.Line, parts []events.Part) {
	left := int32(l.Qty)
	k := s.book.Kind(l.Kind)
	m := ledger.OfKind(k)
	for _, g := range s.tree(parts) {
		n := min(left, s.book.Balance(s.group[g], m))
		if n > 0 {
			s.book.Move(s.fact, m, n, s.group[g], s.bench(s.rec.Terminal, s.lay.groups[g].name))
			s.unseat(g, k, n)
			left -= n
		}
	}
}

// unseat empties the fold's side of n holes or positions of a group.
func (s *State) unseat(g int32, k ledger.KindID, n int32) {
	for i := range s.lay.seats {
		sl, st := &s.lay.seats[i], &s.seats[i]
		if sl.group != g {
			continue
		}
		for b, m := range sl.members {
			if n > 0 && s.kinds[m.kind] == k && s.planned(plan.SeatIndex(i))&(1<<b) != 0 {
				st.in &^= 1 << b
				n--
				if letsGo(st.in, sl.stay, sl.main) {
					s.setSeat(plan.SeatIndex(i), plan.SeatEmpty)
				}
			}
		}
	}
	for i := range s.lay.parts {
		if s.lay.parts[i].group == g && s.kinds[s.lay.parts[i].kind] == k {
			state := plan.PartPartly
			if s.book.Balance(s.group[g], ledger.OfKind(k)) == 0 {
				state = plan.PartOff
			}
			s.setPart(plan.PartIndex(i), state)
		}
	}
}

// tree lists the groups of all that is on some parts, and on what is on them.
func (s *State) tree(parts []events.Part) []int32 {
	in := make([]bool, len(s.lay.parts))
	for _, id := range parts {
		if p, ok := s.lay.plan.Part(id); ok {
			in[p] = true
		}
	}
	for again := true; again; {
		again = false
		for i := range s.lay.plan.Parts {
			host := s.lay.plan.Parts[i].In
			if !in[i] && host >= 0 && in[host] && s.now.Part(plan.PartIndex(i)) != plan.PartOff {
				in[i], again = true, true
			}
		}
	}
	var list []int32
	for g := range s.lay.groups {
		if h := s.lay.groups[g].host; h >= 0 && in[h] {
			list = append(list, int32(g))
		}
	}
	return list
}

// Contents lists what is fitted to some host parts and to what is on them, by
// kind, in the order of kinds.
func (s *State) Contents(parts ...events.Part) []events.Line {
	sum := map[events.Kind]int{}
	for _, g := range s.tree(parts) {
		for it, n := range s.book.At(s.group[g]) {
			if n > 0 {
				sum[s.book.ItemName(it).Kind] += int(n)
			}
		}
	}
	for _, c := range s.cases {
		if p, ok := s.hostOfCase(c); ok && c.Open() && contains(parts, p) {
			sum["stub of "+c.Kind]++
		}
	}
	lines := make([]events.Line, 0, len(sum))
	for k, n := range sum {
		lines = append(lines, events.Line{Kind: k, Qty: n})
	}
	sort.Slice(lines, func(i, j int) bool { return lines[i].Kind < lines[j].Kind })
	return lines
}

func (s *State) hostOfCase(c *Case) (events.Part, bool) {
	if c.seat < 0 {
		return "", false
	}
	h := s.lay.plan.Seats[c.seat].Host
	if h < 0 {
		return "", false
	}
	return s.lay.plan.Parts[h].ID, true
}

// returned compares a slip with what came back: lines that were counted, all
// others are as they went.
func (s *State) returned(e *events.Returned) {
	slip := s.slip(e.Slip)
	if slip == nil {
		s.note(NoSuch, noun("slip", e.Slip), "")
		return
	}
	back := e.Parts
	if len(back) == 0 {
		back = append([]events.Part(nil), slip.Out...)
	}
	for i := range e.Lines {
		d := s.backLine(&e.Lines[i], slip.Parts)
		if d > 0 || d < 0 && slip.Back != 0 { // what is back whole was counted again: its list shows it
			slip.Came = append(slip.Came, events.Line{Kind: e.Lines[i].Kind, Qty: d})
		}
	}
	to := s.place(e.To, "")
	if e.To == "" {
		to = s.book.Account("place/shelf")
	}
	var came []events.Part
	for _, id := range back {
		p, ok := s.lay.plan.Part(id)
		if !ok {
			continue
		}
		if contains(slip.Out, id) {
			came = append(came, id)
		}
		if s.now.Part(p) != plan.PartAway { // it was said to be on or off already
			slip.Out = remove(slip.Out, id)
			continue
		}
		k := ledger.OfKind(s.kinds[s.lay.parts[p].kind])
		s.book.Move(s.fact, k, int32(s.lay.plan.Parts[p].Count), s.parts[p].at, to)
		s.parts[p].at = to
		s.setPart(p, plan.PartOff)
		slip.Out = remove(slip.Out, id)
	}
	s.came(slip, came)
	for i := range s.lay.plan.Steps {
		if st := &s.lay.plan.Steps[i]; takesBack(st, s.lay.plan, back) {
			for _, m := range st.Sets {
				s.now.SetMark(m, true)
			}
		}
	}
}

// came keeps what came back of a slip: it is to be looked over.
func (s *State) came(slip *Slip, parts []events.Part) {
	if len(slip.Out) == 0 && slip.Back == 0 {
		slip.Back = s.fact
	}
	if len(parts) == 0 {
		return
	}
	if slip.first == 0 {
		slip.first = s.fact
	}
	slip.Came = append(slip.Came, s.travels(parts)...)
	slip.Unlooked = append(slip.Unlooked, parts...)
}

// backLine compares one counted line with all places of that kind on the slip,
// and says how many came above what went; below zero: how many fewer.
func (s *State) backLine(l *events.Line, parts []events.Part) (differs int) {
	k := s.book.Kind(l.Kind)
	m := ledger.OfKind(k)
	groups := s.tree(parts)
	book := int32(0)
	for _, g := range groups {
		book += s.book.Balance(s.group[g], m)
	}
	d := int32(l.Qty) - book
	differs = int(d)
	for i := len(groups) - 1; i >= 0 && d < 0; i-- {
		g := s.group[groups[i]]
		n := min(-d, s.book.Balance(g, m))
		if n > 0 {
			s.book.Count(s.fact, s.known(), g, m, s.book.Balance(g, m)-n)
			s.unseat(groups[i], k, n)
			d += n
		}
	}
	if d > 0 {
		box := s.bench(s.rec.Terminal, "slip")
		s.book.Count(s.fact, s.known(), box, m, s.book.Balance(box, m)+d)
	}
	return differs
}

func (s *State) slip(c events.Code) *Slip {
	for _, sl := range s.slips {
		if sl.Code == c {
			return sl
		}
	}
	return nil
}

// Slips lists what was sent to other shops.
func (s *State) Slips() []*Slip { return s.slips }

func takesBack(st *plan.Step, p *plan.Plan, parts []events.Part) bool {
	for _, ix := range st.TakesBack {
		if contains(parts, p.Parts[ix].ID) {
			return true
		}
	}
	return false
}

// exchanged puts another individual in place of a host part: its holes are its
// own, and nothing is known to be in them.
func (s *State) exchanged(e *events.Exchanged) {
	p, ok := s.lay.plan.Part(e.Part)
	if !ok {
		s.note(NoSuch, noun("part", e.Part), "")
		return
	}
	k := s.kinds[s.lay.parts[p].kind]
	if at := s.parts[p].at; at != 0 {
		s.book.MoveKind(s.fact, k, 1, at, s.book.Account("outside/exchange"))
		fresh := s.book.Item(ledger.Item{Kind: s.book.KindName(k), Cond: events.MeasuredGood})
		shelf := s.book.Account("place/shelf")
		s.book.Move(s.fact, ledger.Exactly(fresh), 1, s.book.Account("outside/exchange"), shelf)
		s.parts[p].at = shelf
	}
	for _, g := range s.tree([]events.Part{e.Part}) {
		for _, l := range s.contents(s.group[g]) {
			k := s.book.Kind(l.Kind)
			m := ledger.OfKind(k)
			s.unseat(g, k, int32(l.Qty))
			s.book.Move(s.fact, m, s.book.Balance(s.group[g], m), s.group[g], s.book.Account("outside/exchange"))
		}
	}
	s.inst[p]++
	for i := range s.lay.groups {
		if s.lay.groups[i].host == p {
			s.group[i] = s.book.Account(s.groupPath(int32(i)))
		}
	}
	for ix := range s.holes {
		if s.lay.plan.Seats[ix].Host == p {
			delete(s.holes, ix)
		}
	}
	if s.now.Part(p) == plan.PartAway {
		s.setPart(p, plan.PartOff)
	}
}

func remove[T comparable](list []T, x T) []T {
	kept := list[:0]
	for _, y := range list {
		if y != x {
			kept = append(kept, y)
		}
	}
	return kept
}
