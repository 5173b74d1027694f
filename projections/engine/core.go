package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Core is an old part that goes back to who sold the new one, and the terms.
type Core struct {
	events.CoreAgreed
	Agreed   ledger.Fact
	Void     ledger.Fact // it was taken apart though it must not be; 0: not
	VoidBy   string      // what came out or off
	Sent     ledger.Fact
	Credited ledger.Fact
	Credit   events.CoreCredited

	inst  uint16 // which individual
	seats []events.Seat
	parts []events.Part
}

// Open says that nothing was credited yet.
func (c *Core) Open() bool { return c.Credited == 0 }

// coreAgreed keeps the terms; what is on the part now is what must stay on it.
func (s *State) coreAgreed(e *events.CoreAgreed) {
	p, ok := s.lay.plan.Part(e.Part)
	if !ok {
		s.note(NoSuch, noun("part", e.Part), "core to "+e.Supplier)
		return
	}
	c := s.core(e.Part)
	if c == nil {
		c = &Core{}
		s.cores = append(s.cores, c)
	}
	*c = Core{CoreAgreed: *e, Agreed: s.fact, inst: s.inst[p], Sent: c.Sent}
	for i := range s.lay.plan.Seats {
		if h := s.lay.plan.Seats[i].Host; h != plan.None && s.lay.plan.Travels(h, p) && s.now.Seat(plan.SeatIndex(i)) >= plan.SeatParked {
			c.seats = append(c.seats, s.lay.plan.Seats[i].ID)
		}
	}
	for i := range s.lay.plan.Parts {
		if x := plan.PartIndex(i); x != p && s.lay.plan.Travels(x, p) && s.onIt(x) {
			c.parts = append(c.parts, s.lay.plan.Parts[i].ID)
		}
	}
}

func (s *State) onIt(p plan.PartIndex) bool {
	st := s.now.Part(p)
	return st == plan.PartOn || st == plan.PartPartly
}

// core is the terms of a part whose credit is open; nil: there are none.
func (s *State) core(id events.Part) *Core {
	for _, c := range s.cores {
		if c.Part == id && c.Open() {
			return c
		}
	}
	return nil
}

// watchCores notes whether the fact in hand has taken a core apart that must
// stay whole: the credit is void then, also if it is put together again.
func (s *State) watchCores() {
	for _, c := range s.cores {
		p, ok := s.lay.plan.Part(c.Part)
		if !c.Whole || c.Void != 0 || c.Sent != 0 || !c.Open() || !ok || s.inst[p] != c.inst {
			continue
		}
		if what := s.strippedOf(c); what != "" {
			c.Void, c.VoidBy = s.fact, what
		}
	}
}

// strippedOf is what is out of a core or off it that was in and on when its
// terms were agreed; empty: nothing.
func (s *State) strippedOf(c *Core) string {
	for _, id := range c.seats {
		if ix, ok := s.lay.plan.Seat(id); ok && s.now.Seat(ix) == plan.SeatEmpty {
			return s.lay.plan.SeatNames([]plan.SeatIndex{ix})
		}
	}
	for _, id := range c.parts {
		if p, ok := s.lay.plan.Part(id); ok && !s.onIt(p) {
			return s.lay.plan.Parts[p].Name
		}
	}
	return ""
}

// coreSent lets an old part leave: the individual that the terms were about, if
// it has not been exchanged for another before.
func (s *State) coreSent(e *events.CoreSent) {
	p, ok := s.lay.plan.Part(e.Part)
	if !ok {
		s.note(NoSuch, noun("part", e.Part), "core sent back")
		return
	}
	c := s.core(e.Part)
	if c == nil {
		c = &Core{CoreAgreed: events.CoreAgreed{Part: e.Part}, inst: s.inst[p], Agreed: s.fact}
		s.cores = append(s.cores, c)
	}
	c.Sent = s.fact
	if s.inst[p] != c.inst {
		return // the old one left the book when it was exchanged
	}
	if s.onIt(p) {
		s.presumeBefore(p)
		s.presumeHeld(p)
		s.presumeOff(p)
	}
	from := s.parts[p].at
	if from == 0 {
		from = s.bench(s.rec.Terminal, noun("part", e.Part))
	}
	to := s.book.Account(events.Place("outside/supplier/" + or(c.Supplier, "core")))
	s.book.MoveKind(s.fact, s.kinds[s.lay.parts[p].kind], int32(s.lay.plan.Parts[p].Count), from, to)
	s.parts[p].at = to
	s.setPart(p, plan.PartOff)
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

func (s *State) coreCredited(e *events.CoreCredited) {
	c := s.core(e.Part)
	if c == nil {
		s.note(NoSuch, noun("core", e.Part), "credited")
		return
	}
	c.Credited, c.Credit = s.fact, *e
}

// voiding holds a step that would take a core apart, before it does. Rule R45.
func (v *view) voiding(ix plan.StepIndex, list []Blocker) []Blocker {
	s, step := v.s, &v.s.lay.plan.Steps[ix]
	for _, c := range s.cores {
		p, ok := s.lay.plan.Part(c.Part)
		if !c.Whole || c.Void != 0 || c.Sent != 0 || !c.Open() || !ok || s.inst[p] != c.inst {
			continue
		}
		for _, seat := range step.TakesOut {
			if contains(c.seats, s.lay.plan.Seats[seat].ID) && s.now.Seat(seat) != plan.SeatEmpty {
				ok = false
			}
		}
		for _, off := range step.Removes {
			if contains(c.parts, s.lay.plan.Parts[off].ID) && s.onIt(off) {
				ok = false
			}
		}
		if !ok {
			list = append(list, Blocker{s.coreWords(c) + ": it must not be taken apart, and this step would void the credit", "leave it whole; or " + override(noun("step", step.ID))})
		}
	}
	return list
}

// coreWords is "Alternator goes back to Fjord, 120.50 EUR".
func (s *State) coreWords(c *Core) string {
	text := s.partWords(string(c.Part)) + " goes back" + to(c.Supplier)
	if c.Deposit > 0 {
		text += ", " + Money{Amount: c.Deposit, Currency: c.Currency}.String()
	}
	return text
}

// coreLacks says what keeps a core from going back for its whole deposit: it is
// on the engine, a part that must be with it is not on it or not here, it was
// taken apart.
func (s *State) coreLacks(p plan.PartIndex) []Blocker {
	pt := &s.lay.plan.Parts[p]
	c := s.core(pt.ID)
	if c == nil || s.inst[p] != c.inst {
		return nil
	}
	var list []Blocker
	for _, id := range c.With {
		if x, ok := s.lay.plan.Part(id); ok && !s.onIt(x) {
			list = append(list, Blocker{s.partWords(string(id)) + " must be with " + pt.Name + " and is not on it", orSay("put it on: "+s.sayPart(x, plan.IsOn), "let it go without: "+override(noun("part", pt.ID)))})
		}
	}
	if c.Void != 0 {
		list = append(list, Blocker{pt.Name + " was taken apart on " + s.day(c.Void) + " (" + c.VoidBy + "): the credit is void", "send it all the same: " + override(noun("part", pt.ID))})
	}
	return list
}
