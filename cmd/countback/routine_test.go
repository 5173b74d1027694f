package main

import (
	"fmt"
	"regexp"
	"strings"

	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/plan"
)

// routine writes the scans of whole steps, as somebody makes them who knows
// the engine and meets nothing odd. The story's long parts are written by it,
// from the job as it is at that point, and then stand in the script as text.
type routine struct {
	job    func() *engine.Job
	scan   func(line string)        // scans one line, and keeps it
	remark func(text string)        // a comment in the script
	label  func(t code.Type) string // the next unused label of a type
	second string                   // who counts at gates
}

func (r *routine) say(lines ...string) {
	for _, l := range lines {
		r.scan(l)
	}
}

func (r *routine) plan() *plan.Plan   { return r.job().State().Plan() }
func (r *routine) now() *plan.Present { return r.job().State().Now() }

// step makes one step from its beginning to its end.
func (r *routine) step(id events.Step) error {
	ix, ok := r.plan().Step(id)
	if !ok {
		return fmt.Errorf("no step %s", id)
	}
	s := &r.plan().Steps[ix]
	r.remark(string(id) + ": " + s.Name)
	r.countOld(r.job().Can(id))
	if blocked := r.job().Can(id); len(blocked) > 0 {
		return fmt.Errorf("step %s cannot be done: %v", id, blocked)
	}
	r.loans(s.LoanOut, false)
	if s.Turns {
		r.say("TURNED")
	}
	during := r.loansOut(s.LoanDuring)
	r.loans(during, true)
	r.trial(s)
	r.apart(s)
	r.together(s)
	r.loans(during, false)
	if s.Cranks {
		r.say("CRANKED")
	}
	for _, c := range s.Fills {
		cavity := &r.plan().Cavities[c]
		r.say("cavity "+string(cavity.ID), "FILLED", strings.TrimSuffix(cavity.Amount, " l"), "text "+cavity.Fluid)
	}
	for _, m := range s.Sets {
		r.say("mark "+string(r.plan().Marks[m].ID), "DONE")
	}
	r.loans(s.LoanIn, true)
	if s.Gate != plan.None {
		r.say("step "+string(id), "GATE", "badge "+r.second, itoa(r.filled(s)))
	}
	rest := r.now().Done(ix)
	if left := len(rest.Seats) + len(rest.Parts) + len(rest.Cavities) + len(rest.Marks) + len(rest.Loans); left > 0 {
		return fmt.Errorf("step %s was made and is not done: %+v", id, rest)
	}
	return nil
}

// oldCount is the reason that a bag lay too long since its last count.
var oldCount = regexp.MustCompile(`bag ([A-Z0-9]{8}) was (?:never )?counted`)

// countOld counts the bags that a step waits for.
func (r *routine) countOld(blocked []engine.Blocker) {
	for _, b := range blocked {
		if m := oldCount.FindStringSubmatch(b.Text); m != nil {
			r.say("bag " + m[1])
			for _, l := range r.job().State().At(events.Place("bag/" + m[1])) {
				r.say("size "+string(l.Kind), itoa(l.Qty))
			}
			r.say("COUNT")
		}
	}
}

// loansOut are those of a list that are not in yet.
func (r *routine) loansOut(list []plan.LoanIndex) []plan.LoanIndex {
	var out []plan.LoanIndex
	for _, l := range list {
		if r.now().Loan(l) == 0 {
			out = append(out, l)
		}
	}
	return out
}

// loans puts loans in or takes them out, as far as they are not so already.
func (r *routine) loans(list []plan.LoanIndex, in bool) {
	for _, l := range list {
		loan := &r.plan().Loans[l]
		have := r.now().Loan(l)
		switch {
		case in && have == 0:
			r.say("loan "+string(loan.ID), "IN")
			if loan.Count != 1 {
				r.say(itoa(max(loan.Count, 2)))
			}
		case !in && have > 0:
			r.say("loan "+string(loan.ID), "OUT")
			if have > 1 {
				r.say(itoa(have))
			}
		}
	}
}

// apart takes out, parks, takes off and drains.
func (r *routine) apart(s *plan.Step) {
	for _, j := range r.joints(s.TakesOut, true) {
		r.takeOut(j)
	}
	for _, j := range r.joints(s.Parks, true) {
		r.say("joint "+string(j), "PARKED")
	}
	for _, p := range s.Removes {
		r.takeOff(p)
	}
	for _, c := range s.Drains {
		r.say("cavity "+string(r.plan().Cavities[c].ID), "DRAINED")
	}
}

// joints are those that have seats among the given ones, with something in
// them or with nothing.
func (r *routine) joints(seats []plan.SeatIndex, full bool) []events.Joint {
	var list []events.Joint
	for _, ix := range seats {
		state := r.now().Seat(ix)
		if state == plan.SeatAbsent || (state != plan.SeatEmpty && state != plan.SeatLoan) != full {
			continue
		}
		j := r.plan().Joints[r.plan().Seats[ix].Joint].ID
		if !contains(texts(list), string(j)) {
			list = append(list, j)
		}
	}
	return list
}

// takeOut empties a joint into a new bag, counted by size.
func (r *routine) takeOut(j events.Joint) {
	r.say("joint "+string(j), r.label(code.Bag))
	s := r.job().State()
	for _, k := range s.SizesIn(j) {
		r.say(itoa(r.inJoint(j, k)))
	}
}

// inJoint counts what the holes of a joint hold of a kind and give.
func (r *routine) inJoint(j events.Joint, k events.Kind) int {
	n := 0
	p := r.plan()
	ix, _ := p.Joint(j)
	for _, seat := range p.Joints[ix].Seats {
		if st := r.now().Seat(seat); st == plan.SeatEmpty || st == plan.SeatLoan || st == plan.SeatAbsent {
			continue
		}
		for _, m := range p.Seats[seat].Members {
			if m.Kind == k && !m.Stays {
				n++
			}
		}
	}
	return n
}

// takeOff takes a part off: pieces with seats of their own into a rack, other
// pieces into a bag, a single part onto the shelf.
func (r *routine) takeOff(ix plan.PartIndex) {
	part := &r.plan().Parts[ix]
	if st := r.now().Part(ix); st == plan.PartOff || st == plan.PartAway || st == plan.PartAbsent {
		return
	}
	noun := "part " + string(part.ID)
	switch {
	case part.Count > 1 && part.OwnSeat != plan.AnySeat:
		r.say(noun, r.label(code.Rack), "FULL")
	case part.Count > 1:
		r.say(noun, r.label(code.Bag), itoa(part.Count))
	default:
		r.say(noun, "place shelf", "OFF")
	}
}

// trial puts pieces in without the single-use rule, and out again.
func (r *routine) trial(s *plan.Step) {
	if len(s.Trial) == 0 {
		return
	}
	j := r.plan().Joints[r.plan().Seats[s.Trial[0]].Joint].ID
	bag := r.bagOf(j)
	r.say(bag, "joint "+string(j))
	for _, ix := range s.Trial {
		r.say("hole " + string(r.plan().Seats[ix].Hole))
	}
	r.say("TRIAL", "joint "+string(j), bag)
	for _, k := range r.job().State().SizesIn(j) {
		r.say(itoa(r.inJoint(j, k)))
	}
}

// together puts on and fastens, each joint to its last stage.
func (r *routine) together(s *plan.Step) {
	for _, p := range s.Fits {
		r.putOn(p)
	}
	for _, j := range r.joints(s.Fastens, false) {
		r.putIn(j)
	}
	for _, j := range r.joints(s.Fastens, true) {
		r.stages(j, s.Fastens)
	}
}

// filled counts what one sees of a step: the holes that are filled, and the
// pieces that are pressed in.
func (r *routine) filled(s *plan.Step) int {
	n := 0
	for _, ix := range s.Fastens {
		if st := r.now().Seat(ix); st >= plan.SeatParked && st != plan.SeatAbsent {
			n++
		}
	}
	for _, p := range s.Fits {
		if r.plan().Parts[p].Place == "pressed bore" {
			n += r.plan().Parts[p].Count
		}
	}
	return n
}
