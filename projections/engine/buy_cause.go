package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// lossReasons counts how pieces of a kind went out of use.
type lossReasons struct{ broken, condemned, writtenOff, arrival, lent int }

// pools counts once what lies behind the lines.
func (b *buyer) pools() {
	s := b.s
	b.unmeasured, b.shorts = map[events.Kind]int{}, map[events.Kind]int{}
	b.reasons, b.free, b.freeToCome = map[events.Kind]*lossReasons{}, map[events.Kind]int{}, map[events.Kind]int{}
	b.kits = s.kitShort()
	for i := range b.h.stock {
		st := &b.h.stock[i]
		if measured.mayYet(st.cond) {
			b.unmeasured[s.book.KindName(st.kind)] += int(st.n)
		}
	}
	for k := 1; k <= s.book.Entries(); k++ {
		if en := s.book.Entry(ledger.EntryNo(k)); en.Open > 0 && en.Sign == ledger.Short {
			b.shorts[s.kindOf(&en)] += int(en.Open)
		}
	}
	for _, c := range s.cases {
		b.reason(c.Kind).broken++
	}
	for _, a := range s.arrivals {
		for _, l := range a.Lines {
			if a.Damaged == "" {
				b.reason(l.Kind).arrival += l.Qty
			}
		}
	}
	b.outOfUse()
	b.spare()
}

// mayYet says whether a piece that may not go in now may after it was measured.
func (r rule) mayYet(c events.Condition) bool {
	return r == measured && (c == events.AsFound || c == events.Used)
}

func (b *buyer) reason(k events.Kind) *lossReasons {
	r := b.reasons[k]
	if r == nil {
		r = &lossReasons{}
		b.reasons[k] = r
	}
	return r
}

// outOfUse counts what was condemned, given up and lent.
func (b *buyer) outOfUse() {
	s := b.s
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		class := s.book.Class(id)
		lent := class == ledger.Outside && isLent(s.book.Path(id))
		if !usable(class) && class != ledger.Scrap && id != s.lost && !lent {
			continue
		}
		for it, n := range s.book.At(id) {
			item := s.book.ItemName(it)
			switch {
			case n <= 0:
			case id == s.lost:
				b.reason(item.Kind).writtenOff += int(n)
			case lent:
				b.reason(item.Kind).lent += int(n)
			case item.Cond == events.Condemned:
				b.reason(item.Kind).condemned += int(n)
			}
		}
	}
}

func isLent(p events.Place) bool {
	word, which, _ := cutPlace(p)
	return word == "outside" && which == "job"
}

// spare counts the new pieces that no step takes, here and to come.
func (b *buyer) spare() {
	left := make([]int32, len(b.h.supplies))
	for i := range b.h.supplies {
		left[i] = b.h.supplies[i].Qty
	}
	for w := range b.h.sharing.Shares {
		for _, t := range b.h.sharing.Shares[w].From {
			left[t.Supply] -= t.Qty
		}
	}
	for i, n := range left {
		if st := &b.h.stock[b.h.supplies[i].Class]; n > 0 && st.cond == events.New {
			b.free[b.s.book.KindName(st.kind)] += int(n)
		}
	}
	for i := range b.c.lines {
		n := b.c.lines[i].n
		for w := range b.c.share {
			for _, t := range b.c.share[w].From {
				if int(t.Supply) == i {
					n -= int(t.Qty)
				}
			}
		}
		b.freeToCome[b.c.lines[i].kind] += max(0, n)
	}
}

// causes says why a want lacks so many pieces. Each is counted once: the parts
// add up to the number.
func (b *buyer) causes(l *BuyLine, wt *want, n int) {
	add := func(why string, most int) {
		if most = min(most, n); most <= 0 {
			return
		}
		n -= most
		for i := range l.Causes {
			if l.Causes[i].Why == why {
				l.Causes[i].Qty += most
				return
			}
		}
		l.Causes = append(l.Causes, BuyCause{why, most})
	}
	r := b.reason(l.Kind)
	take := func(why string, pool *int) {
		before := n
		add(why, *pool)
		*pool -= before - n
	}
	if wt.rule == replaced {
		add("to be replaced, by a finding", n)
	}
	short := b.kits[l.Kind]
	if short > 0 {
		take("lacking in a kit", &short)
		b.kits[l.Kind] = short
	}
	take("broken", &r.broken)
	take("condemned", &r.condemned)
	take("written off", &r.writtenOff)
	take("missing on arrival", &r.arrival)
	take("lent to another job", &r.lent)
	if wt.rule == onlyNew {
		add(b.outOf(wt), n)
	}
	add("not here", n)
}

// outOf says which single-use pieces came out: fasteners with their joint.
func (b *buyer) outOf(wt *want) string {
	p := b.s.lay.plan
	if wt.part != plan.None {
		return "single-use, came out"
	}
	return "single-use, out of " + lowerFirst(p.Joints[p.Seats[wt.seats[0]].Joint].Name)
}

func lowerFirst(text string) string {
	if len(text) < 2 || text[1] >= 'A' && text[1] <= 'Z' {
		return text // a name in capitals stays one
	}
	if text[0] >= 'A' && text[0] <= 'Z' {
		return string(text[0]+'a'-'A') + text[1:]
	}
	return text
}

// stillIn counts what is in place of a kind and will have to be new.
func (b *buyer) stillIn(k events.Kind) (st still) {
	s, p := b.s, b.s.lay.plan
	for i := range s.lay.seats {
		for m, mb := range s.lay.seats[i].members {
			if s.lay.kinds[mb.kind] == k && mb.single && s.seats[i].in&(1<<m) != 0 && !s.seats[i].fresh() &&
				s.now.Seat(plan.SeatIndex(i)) != plan.SeatAbsent {
				st.single++
				st.by(s.lay.seats[i].in)
			}
		}
	}
	if part, ok := s.lay.partKind[k]; ok {
		pt := &p.Parts[part]
		n := int(s.book.Balance(s.group[s.lay.parts[part].group], s.book.Like(ledger.Item{Kind: k, Cond: events.AsFound})))
		if f := s.replaceOn(pt.ID); f != nil && s.now.Part(part) == plan.PartOn {
			st.replace, st.why = pt.Count, "to be replaced, by a finding"
			st.by(s.lay.parts[part].on)
		} else if pt.Reuse.Single() && n > 0 && s.now.Part(part) != plan.PartAbsent {
			st.single += n
			st.by(s.lay.parts[part].on)
		}
	}
	return st
}

func (st *still) by(steps []plan.StepIndex) {
	for _, ix := range steps {
		if !slices.Contains(st.steps, ix) {
			st.steps = append(st.steps, ix)
		}
	}
}

// fresh says that what is in a hole was put in here.
func (st *seat) fresh() bool { return st.fitting > 0 }

// replaces says whether some part is to be replaced.
func (s *State) replaces() bool {
	for _, f := range s.findings {
		if f.Decision == decideReplace && f.Done == 0 {
			return true
		}
	}
	return false
}

// replaceOn is the finding by which a part is to be replaced; nil if there is
// none, or a new one was put in since.
func (s *State) replaceOn(id events.Part) *Finding {
	for i := len(s.findings) - 1; i >= 0; i-- {
		f := s.findings[i]
		if f.Decision != decideReplace || f.Done != 0 || f.On != noun("part", id) {
			continue
		}
		p, ok := s.lay.plan.Part(id)
		if !ok || s.parts[p].changed > f.Since && s.now.Part(p) == plan.PartOn && s.newOn(p) {
			return nil
		}
		return f
	}
	return nil
}

// newOn says that pieces that came new are on in a part's place.
func (s *State) newOn(p plan.PartIndex) bool {
	k := s.lay.kinds[s.lay.parts[p].kind]
	g := s.group[s.lay.parts[p].group]
	return s.book.Balance(g, s.book.Like(ledger.Item{Kind: k, Cond: events.New}))+
		s.book.Balance(g, s.book.Like(ledger.Item{Kind: k, Cond: events.Used})) > 0
}
