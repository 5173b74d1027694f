package engine

import (
	"sync"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

var plans sync.Map // a plan's text -> *plan.Plan or error; a memo of a pure function

// planOf parses the text of a plan that rides in an event.
func planOf(text string) (*plan.Plan, error) {
	key := text
	if v, ok := plans.Load(key); ok {
		if p, ok := v.(*plan.Plan); ok {
			return p, nil
		}
		return nil, v.(error)
	}
	p, err := plan.Parse("plan of the job", []byte(text))
	if err != nil {
		plans.Store(key, err)
		return nil, err
	}
	plans.Store(key, p)
	return p, nil
}

// jobOpened starts the job: the opening balance is presumed by the plan. A
// second opening is only noted.
func (s *State) jobOpened(e *events.JobOpened) {
	if s.Started != 0 {
		s.note(NoSuch, "job", "opened a second time")
		return
	}
	s.Opened, s.Started = *e, s.fact
	if e.Plan == "" {
		return
	}
	p, err := s.job.planOf(e.Plan)
	if err != nil {
		s.note(NoSuch, "plan", err.Error())
		return
	}
	s.rebase(layoutOf(p))
}

// planOf remembers the plan that the job was opened with: a fold after a late
// fact need not look at its long text again.
func (j *Job) planOf(text string) (*plan.Plan, error) {
	if j.plan != nil && j.planText == text { // the very same string: no byte is compared
		return j.plan, nil
	}
	p, err := planOf(text)
	if err == nil {
		j.plan, j.planText = p, text
	}
	return p, err
}

// rebase gives the job its plan: by the opening balance if that is the first
// fact, as it nearly always is, else by carrying over what was told before.
func (s *State) rebase(l *layout) {
	if s.fact == 1 {
		s.beginAs(l.opening())
		return
	}
	s.carry(l)
}

// opening is the state of a whole engine by this plan, worked out once: the
// opening balance of every job with it.
func (l *layout) opening() *State {
	l.once.Do(func() {
		s := &State{job: &Job{}, fact: 1}
		s.begin(l)
		s.presume()
		s.book.Room(s.book.Accounts()) // bags and benches: about as many as places to fit
		l.whole = s
	})
	return l.whole
}

// beginAs makes the books of s those of an opening, without interning a name.
func (s *State) beginAs(o *State) {
	s.lay = o.lay
	s.beginTight()
	s.beginPress()
	s.beginStuds()
	if s.spare != nil && s.spare.Plan() == o.lay.plan {
		s.now, s.spare = s.spare, nil
		s.now.CopyFrom(o.now)
	} else {
		s.now = o.now.Clone()
	}
	s.book.CopyFrom(o.book)
	s.arrived, s.scrap, s.kept, s.lost = o.arrived, o.scrap, o.kept, o.lost
	s.kinds, s.group = append(s.kinds[:0], o.kinds...), append(s.group[:0], o.group...)
	s.inst, s.caveOpen = append(s.inst[:0], o.inst...), append(s.caveOpen[:0], o.caveOpen...)
	s.seats, s.parts = append(s.seats[:0], o.seats...), append(s.parts[:0], o.parts...)
	s.loanAt = resize(s.loanAt, len(o.lay.plan.Loans))
	s.chainAllLoose()
}

// carry takes the state of every hole and part that both plans have into the
// new one. What the new plan adds is presumed in its place; what it drops is
// answered by outside/arrived.
func (s *State) carry(l *layout) {
	old, was, seats, parts, group, kinds, inst := s.lay, s.now, s.seats, s.parts, s.group, s.kinds, s.inst
	_ = kinds
	s.lay = l
	s.now = plan.NewPresent(l.plan)
	s.kinds = make([]ledger.KindID, len(l.kinds))
	for i, k := range l.kinds {
		s.kinds[i] = s.book.Kind(k)
	}
	s.inst = make([]uint16, len(l.plan.Parts))
	for i := range l.plan.Parts {
		s.inst[i] = 1
		if o, ok := old.plan.Part(l.plan.Parts[i].ID); ok {
			s.inst[i] = inst[o]
		}
	}
	s.group = make([]ledger.AccountID, len(l.groups))
	for i := range l.groups {
		s.group[i] = s.book.Account(s.groupPath(int32(i)))
	}
	s.seats, s.parts = make([]seat, len(l.seats)), make([]part, len(l.parts))
	s.carryTight(old)
	s.carryPress(old)
	s.carryStuds(old)
	s.carryChoices()
	s.carrySeats(old, was, seats, group)
	s.carryParts(old, was, parts, group)
	s.hardenTold()
	s.carryRest(old, was)
	s.caveOpen = make([]bool, len(l.plan.Cavities))
	for i := range s.caveOpen {
		s.caveOpen[i] = s.now.Open(plan.CavityIndex(i))
	}
}

func (s *State) carryChoices() {
	for v, layout := range s.choices {
		s.chooseLayout(v, layout)
	}
	for p, fitted := range s.options {
		if ix, ok := s.lay.plan.Part(p); ok {
			s.now.SetAbsent(ix, !fitted)
		}
	}
}

func (s *State) carrySeats(old *layout, was *plan.Present, seats []seat, group []ledger.AccountID) {
	for i := range s.lay.seats {
		ix, sl := plan.SeatIndex(i), &s.lay.seats[i]
		o, ok := old.plan.Seat(s.lay.plan.Seats[i].ID)
		if !ok {
			if s.now.Seat(ix) == plan.SeatAbsent {
				continue
			}
			for _, m := range sl.members {
				s.book.MoveKind(s.fact, s.kinds[m.kind], 1, s.arrived, s.group[sl.group])
			}
			s.seats[i].in, s.seats[i].stages = sl.full, sl.stages
			s.logTurn(ix, turnCame, 0, false)
			continue
		}
		s.seats[i] = seats[o]
		s.carryMembers(ix, &old.seats[o], group[old.seats[o].group])
		s.now.SetSeat(ix, was.Seat(o))
	}
	for o := range old.seats {
		if _, ok := s.lay.plan.Seat(old.plan.Seats[o].ID); ok {
			continue
		}
		for m, mb := range old.seats[o].members {
			if seats[o].in&(1<<m) != 0 {
				s.book.MoveKind(s.fact, s.book.Kind(old.kinds[mb.kind]), 1, group[old.seats[o].group], s.arrived)
			}
		}
	}
}

// carryMembers answers a change of what a hole takes: the plan was wrong about
// what is in it, so the one kind goes back outside and the other comes in.
func (s *State) carryMembers(ix plan.SeatIndex, o *seatLayout, group ledger.AccountID) {
	sl, st := &s.lay.seats[ix], &s.seats[ix]
	same := len(o.members) == len(sl.members) && group == s.group[sl.group]
	for i := 0; same && i < len(sl.members); i++ {
		same = s.oldKind(o, i) == s.kinds[sl.members[i].kind]
	}
	if same {
		return
	}
	for i := range o.members {
		if st.in&(1<<i) != 0 {
			s.book.MoveKind(s.fact, s.oldKind(o, i), 1, group, s.arrived)
		}
	}
	if st.in != 0 {
		st.in = sl.full
		for _, m := range sl.members {
			s.book.MoveKind(s.fact, s.kinds[m.kind], 1, s.arrived, s.group[sl.group])
		}
	}
}

func (s *State) oldKind(o *seatLayout, i int) ledger.KindID { return s.book.Kind(o.names[i]) }

func (s *State) carryParts(old *layout, was *plan.Present, parts []part, group []ledger.AccountID) {
	for i := range s.lay.parts {
		ix, pl := plan.PartIndex(i), &s.lay.parts[i]
		o, ok := old.plan.Part(s.lay.plan.Parts[i].ID)
		k, n := ledger.OfKind(s.kinds[pl.kind]), int32(s.lay.plan.Parts[i].Count)
		if !ok {
			if s.now.Part(ix) != plan.PartAbsent {
				s.book.Move(s.fact, k, n, s.arrived, s.group[pl.group])
			}
			continue
		}
		s.parts[i] = parts[o]
		s.now.SetPart(ix, was.Part(o))
		if g := group[old.parts[o].group]; g != s.group[pl.group] {
			s.book.Move(s.fact, k, s.book.Balance(g, k), g, s.group[pl.group])
		}
		if d := n - int32(old.plan.Parts[o].Count); was.Part(o) == plan.PartOn && d > 0 {
			s.book.Move(s.fact, k, d, s.arrived, s.group[pl.group])
		} else if was.Part(o) == plan.PartOn && d < 0 {
			s.book.Move(s.fact, k, -d, s.group[pl.group], s.arrived)
		}
	}
	for o := range old.parts {
		if _, ok := s.lay.plan.Part(old.plan.Parts[o].ID); !ok {
			g, k := group[old.parts[o].group], ledger.OfKind(s.book.Kind(old.kinds[old.parts[o].kind]))
			s.book.Move(s.fact, k, s.book.Balance(g, k), g, s.arrived)
		}
	}
}

func (s *State) carryRest(old *layout, was *plan.Present) {
	for _, st := range s.loans {
		st.loan = plan.None
	}
	s.loanAt = make([]*LoanState, len(s.lay.plan.Loans))
	for i := range s.lay.plan.Loans {
		if st, ok := s.loans[s.lay.plan.Loans[i].ID]; ok {
			st.loan, s.loanAt[i] = plan.LoanIndex(i), st
			s.now.SetLoan(plan.LoanIndex(i), st.In)
		}
	}
	s.chainAllLoose()
	for i := range s.lay.plan.Cavities {
		if o, ok := old.plan.Cavity(s.lay.plan.Cavities[i].ID); ok {
			s.now.SetFluid(plan.CavityIndex(i), was.Fluid(o))
		}
	}
	for i := range s.lay.plan.Marks {
		if o, ok := old.plan.Mark(s.lay.plan.Marks[i].ID); ok {
			s.now.SetMark(plan.MarkIndex(i), was.Mark(o))
		}
	}
	holes := s.holes
	s.holes = nil
	for o, h := range holes {
		if ix, ok := s.lay.plan.Seat(old.plan.Seats[o].ID); ok {
			s.setHole(ix, h)
		}
	}
	for _, c := range s.cases {
		if ix, ok := s.lay.plan.Hole(c.Joint, c.Hole); ok {
			c.seat = ix
		}
	}
	s.remapCavities(old)
}

func (s *State) remapCavities(old *layout) {
	turns, looks := s.turns[:0], s.looks[:0]
	for _, t := range s.turns {
		if ix, ok := s.lay.plan.Cavity(old.plan.Cavities[t.cavity].ID); ok {
			turns = append(turns, cavityTurn{t.fact, ix, t.open})
		}
	}
	for _, l := range s.looks {
		if ix, ok := s.lay.plan.Cavity(old.plan.Cavities[l.cavity].ID); ok {
			looks = append(looks, look{ix, l.fact})
		}
	}
	s.turns, s.looks = turns, looks
}

// planAmended changes the job's own copy of its plan.
func (s *State) planAmended(e *events.PlanAmended) {
	p, err := amend(s.lay.plan, e)
	if err != nil {
		s.note(NoSuch, "plan "+e.Section+" "+e.ID, err.Error())
		return
	}
	s.rebase(layoutOf(p))
}

func amend(p *plan.Plan, e *events.PlanAmended) (*plan.Plan, error) {
	key := "amend\x00" + p.Hash + "\x00" + e.Op + "\x00" + e.Section + "\x00" + e.ID + "\x00" + e.Text
	if v, ok := plans.Load(key); ok {
		return v.(*plan.Plan), nil
	}
	q, err := plan.Amend(p, plan.Amendment{Op: e.Op, Section: e.Section, ID: e.ID, Text: e.Text})
	if err != nil {
		return nil, err
	}
	plans.Store(key, q)
	return q, nil
}

func (s *State) layoutSeen(e *events.LayoutSeen) {
	if s.choices == nil {
		s.choices = make(map[string]string)
	}
	before := s.now.Clone()
	if !s.chooseLayout(e.Variant, e.Layout) {
		s.note(NoSuch, "variant "+e.Variant, e.Layout)
		return
	}
	s.choices[e.Variant] = e.Layout
	s.appearances(before)
}

func (s *State) chooseLayout(variant, layout string) bool {
	v, ok := s.lay.plan.Variant(variant)
	if !ok {
		return false
	}
	for i := range s.lay.plan.Variants[v].Options {
		if s.lay.plan.Variants[v].Options[i].ID == layout {
			s.now.SetVariant(v, i)
			return true
		}
	}
	return false
}

func (s *State) optionSeen(e *events.OptionSeen) {
	p, ok := s.lay.plan.Part(e.Part)
	if !ok {
		s.note(NoSuch, "part "+string(e.Part), "")
		return
	}
	if s.options == nil {
		s.options = make(map[events.Part]bool)
	}
	s.options[e.Part] = e.Fitted
	before := s.now.Clone()
	s.now.SetAbsent(p, !e.Fitted)
	s.appearances(before)
}

// appearances posts what a layout or an option brings or takes away.
func (s *State) appearances(before *plan.Present) {
	for i := range s.lay.seats {
		ix, sl, st := plan.SeatIndex(i), &s.lay.seats[i], &s.seats[i]
		was, is := before.Seat(ix) == plan.SeatAbsent, s.now.Seat(ix) == plan.SeatAbsent
		if was == is {
			continue
		}
		for m, mb := range sl.members {
			k := ledger.OfKind(s.kinds[mb.kind])
			if is && st.in&(1<<m) != 0 {
				s.book.Move(s.fact, k, 1, s.group[sl.group], s.arrived)
			} else if was {
				s.book.Move(s.fact, k, 1, s.arrived, s.group[sl.group])
			}
		}
		st.in, st.stages = 0, 0
		what := turnAbsent
		if was {
			st.in, st.stages = sl.full, sl.stages
			what = turnCame
		}
		s.logTurn(ix, what, 0, false)
	}
	for i := range s.lay.parts {
		ix, pl := plan.PartIndex(i), &s.lay.parts[i]
		was, is := before.Part(ix) == plan.PartAbsent, s.now.Part(ix) == plan.PartAbsent
		k, g := ledger.OfKind(s.kinds[pl.kind]), s.group[pl.group]
		if is && !was {
			s.book.Move(s.fact, k, s.book.Balance(g, k), g, s.arrived)
		} else if was && !is {
			s.book.Move(s.fact, k, int32(s.lay.plan.Parts[i].Count), s.arrived, g)
		}
	}
}

// tagsIssued ties labels to nouns of this job.
func (s *State) tagsIssued(e *events.TagsIssued) {
	if s.tags == nil {
		s.tags = make(map[events.Code]string, len(e.Tags))
		s.codes = make(map[string]events.Code, len(e.Tags))
	}
	for _, t := range e.Tags {
		s.tags[t.Code] = t.Noun
		s.codes[t.Noun] = t.Code
	}
}

// tagVoided takes a label out of use. Its noun has no label then, until another
// one is put on it; one that it had besides stays.
func (s *State) tagVoided(c events.Code) {
	noun, ok := s.tags[c]
	if !ok {
		return
	}
	delete(s.tags, c)
	if s.codes[noun] != c {
		return
	}
	delete(s.codes, noun)
	other := events.Code("")
	for code, on := range s.tags {
		if on == noun && code > other {
			other = code
		}
	}
	if other != "" {
		s.codes[noun] = other
	}
}

// Tag is the noun that a label of this job is on.
func (s *State) Tag(c events.Code) (string, bool) { n, ok := s.tags[c]; return n, ok }

// CodeOf is the label that is on a noun; false if it has none, or none any more.
func (s *State) CodeOf(noun string) (events.Code, bool) { c, ok := s.codes[noun]; return c, ok }

func (s *State) jointTagged(e *events.JointTagged) {
	if _, ok := s.lay.plan.Joint(e.Joint); ok {
		return
	}
	s.learned.tag(e, s.fact)
}
