package plan

import "slices"

// CanDo is every reason why a step cannot be done now, each in plain words
// with what clears it; nil where it can. What the plan's author asks for comes
// first; a reason of the geometry that the same steps clear is not repeated.
// Can is the same question without the reasons.
func (s *Present) CanDo(i StepIndex) []Unmet { return s.CanDoIn(nil, i) }

// CanDoIn is CanDo in the memory of an empty list, as far as that has room.
func (s *Present) CanDoIn(list []Unmet, i StepIndex) []Unmet {
	if s.Can(i) {
		return nil
	}
	step := &s.p.Steps[i]
	var tied, loaned []SeatIndex
	written := -1 // how many the author wrote; they come first
	demands := s.p.demands(i)
	for k := range demands {
		d := &demands[k]
		if d.why != whyWritten && written < 0 {
			written = len(list)
			list = unrepeated(list, s.explainBench(step))
		}
		switch {
		case d.cond.Eval(s) || (d.active != nil && !d.active(s)):
		case d.why == whyTied:
			addOnce(&tied, d.seat)
		case d.why == whyLoanSeat:
			addOnce(&loaned, d.seat)
		default:
			given := len(list)
			list = s.addReasons(d.cond.explain(list, s), given, step, d)
		}
	}
	if written < 0 {
		written = len(list)
		list = unrepeated(list, s.explainBench(step))
	}
	if u, ok := s.explainHeld(step, whyTied, tied, list[:written]); ok {
		list = unrepeated(list, []Unmet{u})
	}
	if u, ok := s.explainHeld(step, whyLoanSeat, loaned, list[:written]); ok {
		list = unrepeated(list, []Unmet{u})
	}
	return s.sameWay(step, list)
}

// addReasons keeps of the reasons after the given ones those that none before
// them covers, with where they come from.
func (s *Present) addReasons(list []Unmet, given int, step *Step, d *demand) []Unmet {
	kept := list[:given]
	for i := given; i < len(list); i++ {
		if d.why == whyWritten || !repeated(kept, &list[i]) {
			list[i].Text += s.because(step, d)
			kept = append(kept, list[i])
		}
	}
	return kept
}

// explainHeld is one reason for all holes that still hold something, less
// those that a reason given already clears.
func (s *Present) explainHeld(step *Step, w why, seats []SeatIndex, given []Unmet) (Unmet, bool) {
	var left []SeatIndex
	for _, seat := range seats {
		if !clearedBy(given, s.p.clears.empties[seat]) {
			left = append(left, seat)
		}
	}
	if left == nil {
		return Unmet{}, false
	}
	c := Condition{Op: OfSeats, Seats: left, Is: IsOut}
	u := s.explainSeats(&c)
	if w == whyLoanSeat {
		u.Text += ", where a loan is to go"
		return u, true
	}
	var held []PartIndex
	for _, x := range step.Need.RemoveTied {
		if slices.Contains(left, x.Seat) && s.there(x.Part) {
			addOnce(&held, x.Part)
		}
	}
	u.Text += ", and hold " + s.p.partNames(held)
	return u, true
}

// clearedBy reports whether a reason given is cleared by one of the steps.
func clearedBy(given []Unmet, by []StepIndex) bool {
	return slices.ContainsFunc(given, func(u Unmet) bool {
		return slices.ContainsFunc(u.By, func(i StepIndex) bool { return slices.Contains(by, i) })
	})
}

// unrepeated appends the reasons that no reason before them already covers.
func unrepeated(list, more []Unmet) []Unmet {
	for i := range more {
		if !repeated(list, &more[i]) {
			list = append(list, more[i])
		}
	}
	return list
}

// repeated says that a reason given is cleared by the same steps.
func repeated(list []Unmet, u *Unmet) bool {
	if len(u.By) == 0 {
		return false
	}
	for i := range list {
		if covers(list[i].By, u.By) {
			return true
		}
	}
	return false
}

// covers reports whether every step of b is in a.
func covers(a, b []StepIndex) bool {
	for _, i := range b {
		if !slices.Contains(a, i) {
			return false
		}
	}
	return true
}

// sameWay drops steps of the other direction from what clears a reason, where
// some of the step's own direction do too: who takes apart is not sent to
// build.
func (s *Present) sameWay(step *Step, list []Unmet) []Unmet {
	for n := range list {
		var same []StepIndex
		for _, i := range list[n].By {
			if s.p.Steps[i].Section.Apart() == step.Section.Apart() {
				same = append(same, i)
			}
		}
		if len(same) == 0 || len(same) == len(list[n].By) {
			continue
		}
		if list[n].Clear == s.doOne(list[n].By) {
			list[n].Clear = s.doOne(same)
		}
		list[n].By = same
	}
	return list
}

func (p *Plan) partNames(parts []PartIndex) string {
	text := ""
	for i, part := range parts {
		if i > 0 {
			text += ", "
		}
		text += p.Parts[part].Name
	}
	return text
}

// because says where a demand comes from, in words that follow the fact.
func (s *Present) because(step *Step, d *demand) string {
	p := s.p
	switch d.why {
	case whyOver:
		return ", over " + p.Parts[d.part].Name
	case whyUnder:
		return ", and comes before " + p.Parts[d.part].Name
	case whyFasten:
		return ", and " + p.SeatNames([]SeatIndex{d.seat}) + " is to hold it"
	case whyLoanStop:
		switch {
		case step.Turns || step.Cranks:
			return ", and the crank would turn"
		case len(step.SendsOut) > 0:
			return ", and would leave the shop with " + p.partNames(step.SendsOut)
		}
		return ", and must be out for this"
	case whyLoanSeat:
		return ", where a loan is to go"
	case whyLoanOpen:
		return ", and a loan is to go through"
	}
	return ""
}

// explainBench is why the parts that a step works on are not where it works.
func (s *Present) explainBench(step *Step) []Unmet {
	p := s.p
	var out []Unmet
	away := func(i PartIndex) {
		c := partCond(i, IsHere)
		out = append(out, s.explainPart(&c))
	}
	if step.Part != None && !s.onBench(step) {
		if at := s.awayWith(step.Part); at != None {
			away(at)
		} else {
			c := partCond(step.Part, IsOff)
			u := s.explainPart(&c)
			u.Text = p.Parts[step.Part].Name + ": on the engine"
			out = append(out, u)
		}
	}
	for _, h := range step.Need.Here {
		if at := s.awayWith(h); at != None {
			away(at)
		}
	}
	for _, f := range step.Fits {
		if s.parts[f] == PartAway {
			away(f)
		}
	}
	return out
}

// Free is what still holds a part, whatever step would take it off: parts
// that lie over it or over what travels with it, and holes that bolt it to
// something. Nil means that it can be lifted away.
func (s *Present) Free(i PartIndex) []Unmet {
	var out []Unmet
	for _, q := range s.p.guide.over[i] {
		if s.there(q) {
			c := partCond(q, IsOff)
			u := s.explainPart(&c)
			u.Text += ", over " + s.p.Parts[i].Name
			out = append(out, u)
		}
	}
	var held []SeatIndex
	for _, seat := range s.p.guide.tied[i] {
		if s.held(seat) {
			held = append(held, seat)
		}
	}
	if held != nil {
		c := Condition{Op: OfSeats, Seats: held, Is: IsOut}
		u := s.explainSeats(&c)
		u.Text += ", and hold " + s.p.Parts[i].Name
		out = append(out, u)
	}
	return out
}

// Lifts reports whether nothing holds a part any more: whether [Present.Free]
// would be nil.
func (s *Present) Lifts(i PartIndex) bool {
	for _, q := range s.p.guide.over[i] {
		if s.there(q) {
			return false
		}
	}
	for _, seat := range s.p.guide.tied[i] {
		if s.held(seat) {
			return false
		}
	}
	return true
}
