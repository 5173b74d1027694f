package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Risk is what makes a way risky. Its text is what is stored in reports.
type Risk string

// The risks.
const (
	RiskCase    Risk = "case open"      // a stub is in a hole of the way, or of what comes off
	RiskBroken  Risk = "broke before"   // a fastener of a joint that is opened broke on this job
	RiskHole    Risk = "hole repaired"  // chased, an insert, a bushing, oversize
	RiskSingle  Risk = "single-use"     // single-use fasteners are let go again
	RiskYield   Risk = "yield"          // fasteners that are turned by angle or stretch are let go
	RiskSeal    Risk = "seal disturbed" // a seal that the opening of its joint uses up, or a bead of sealant
	RiskFinding Risk = "finding"        // inspection found something on what the way moves
	RiskHold    Risk = "hold"           // somebody holds what the way moves
)

// ScopeRisk is one risk of a way, with the fact that it follows from.
type ScopeRisk struct {
	Why  Risk
	On   string // a noun
	Text string
	Fact events.FactID // none: it follows from the plan, and is as the engine came
}

// riskList finds the risks of one way.
type riskList struct {
	s      *State
	opened map[plan.SeatIndex]bool
	joints []plan.JointIndex // that are opened, in the order of the work
	off    []plan.PartIndex
	list   []ScopeRisk
}

// scopeRisks lists what makes a way risky, from the state as it is now: what
// stands in the way first, then what went wrong before, then what every opening
// costs.
func (s *State) scopeRisks(opened []plan.SeatIndex, off []plan.PartIndex) []ScopeRisk {
	r := &riskList{s: s, opened: map[plan.SeatIndex]bool{}, off: off}
	for _, ix := range opened {
		r.opened[ix] = true
		if j := s.lay.plan.Seats[ix].Joint; !slices.Contains(r.joints, j) {
			r.joints = append(r.joints, j)
		}
	}
	r.cases()
	r.found()
	r.holes(opened)
	for _, j := range r.joints {
		r.joint(j, opened)
	}
	r.seals()
	return r.list
}

func (r *riskList) add(why Risk, on string, f ledger.Fact, text string) {
	x := ScopeRisk{Why: why, On: on, Text: text}
	if rec := r.s.Fact(f); rec != nil {
		x.Fact = rec.ID()
	}
	r.list = append(r.list, x)
}

// cases are stubs that are in the way, and fasteners of the opened joints that
// broke before.
func (r *riskList) cases() {
	s := r.s
	for _, open := range []bool{true, false} {
		for _, c := range s.cases {
			if c.seat < 0 || c.Open() != open {
				continue
			}
			at := &s.lay.plan.Seats[c.seat]
			on := noun("hole", at.ID)
			switch {
			case open && (r.opened[c.seat] || slices.Contains(r.joints, at.Joint) || slices.Contains(r.off, at.Host)):
				r.add(RiskCase, on, c.Since, s.nounWords(on)+": a stub is in it since "+s.day(c.Since)+", case "+string(c.Code)+" is open")
			case !open && slices.Contains(r.joints, at.Joint):
				text := s.nounWords(on) + ": it broke here " + s.day(c.Since)
				if n := len(c.Tries); n > 1 {
					text += " and took " + itoa(n) + " tries"
				}
				r.add(RiskBroken, on, c.Since, text)
			}
		}
	}
}

// found is findings and holds on what the way moves.
func (r *riskList) found() {
	s := r.s
	for _, f := range s.findings {
		if f.Done != 0 || !r.touches(f.On) {
			continue
		}
		how := "not decided"
		if !f.Open() {
			how = "decided: " + f.Decision
		}
		r.add(RiskFinding, f.On, f.Since, s.nounWords(f.On)+": "+f.What+", finding "+f.ID+" of "+s.day(f.Since)+", "+how)
	}
	for _, h := range s.holds {
		if h.Released == 0 && r.touches(h.On) {
			r.add(RiskHold, h.On, h.Since, s.nounWords(h.On)+": held since "+s.day(h.Since)+because(h.Why))
		}
	}
}

// touches says that a way opens or takes off what a noun names.
func (r *riskList) touches(n string) bool {
	p := r.s.lay.plan
	switch typ, id := cutNoun(n); typ {
	case "part":
		ix, ok := p.Part(events.Part(id))
		return ok && slices.Contains(r.off, ix)
	case "joint":
		j, ok := p.Joint(events.Joint(id))
		return ok && slices.Contains(r.joints, j)
	case "hole":
		ix, ok := p.Seat(events.Seat(id))
		return ok && r.opened[ix]
	}
	return false
}

var holeWords = map[events.HoleState]string{events.HoleChased: "its thread was chased", events.HoleInsert: "an insert is in it",
	events.HoleBushing: "a bushing is in it", events.HoleOversize: "it was made oversize"}

// holes are those that are opened and are not as the plan has them.
func (r *riskList) holes(opened []plan.SeatIndex) {
	for _, ix := range opened {
		h, ok := r.s.holes[ix]
		words := holeWords[h.State]
		if !ok || words == "" {
			continue
		}
		on := noun("hole", r.s.lay.plan.Seats[ix].ID)
		r.add(RiskHole, on, h.Fact, r.s.nounWords(on)+": "+words+" since "+r.s.day(h.Fact))
	}
}

// joint is what the opening of one joint uses up and lets go.
func (r *riskList) joint(j plan.JointIndex, opened []plan.SeatIndex) {
	s := r.s
	yields := s.job.yields()
	single, yield := 0, 0
	var last ledger.Fact
	for _, ix := range opened {
		at := &s.lay.plan.Seats[ix]
		if at.Joint != j {
			continue
		}
		last = max(last, s.seats[ix].changed)
		if yields[ix] {
			yield++
		}
		for m := range at.Members {
			if x := &at.Members[m]; !x.Stays && x.Reuse.Single() {
				single += x.Count
			}
		}
	}
	on := noun("joint", s.lay.plan.Joints[j].ID)
	name := s.nounWords(on)
	since := ", as the engine came"
	if last != 0 {
		since = ", in since " + s.day(last)
	}
	if single > 0 {
		r.add(RiskSingle, on, last, name+": "+plural(single, "single-use fastener")+" let go"+since)
	}
	if yield > 0 {
		r.add(RiskYield, on, last, name+": "+plural(yield, "fastener")+" tightened by angle or stretch let go"+since)
	}
}

// seals are those that the opening of a joint uses up though they may stay
// where they are, and beads of sealant on what comes off.
func (r *riskList) seals() {
	s := r.s
	for i := range s.lay.plan.Parts {
		part := &s.lay.plan.Parts[i]
		ix := plan.PartIndex(i)
		switch on := noun("part", part.ID); {
		case part.Seals != plan.None && slices.Contains(r.joints, part.Seals) && s.now.Part(ix) == plan.PartOn:
			r.add(RiskSeal, on, s.parts[ix].changed, part.Name+": disturbed when "+s.lay.plan.Joints[part.Seals].Name+" is opened")
		case part.Sealant.Used && slices.Contains(r.off, ix):
			r.add(RiskSeal, on, s.parts[ix].changed, part.Name+": its sealant is cut, and put on anew")
		}
	}
}

// yields says of each hole whether what is in it is turned by angle or stretch.
func (j *Job) yields() []bool {
	p := j.State().lay.plan
	if j.yield != nil && j.yieldOf == p {
		return j.yield
	}
	j.yield, j.yieldOf = make([]bool, len(p.Seats)), p
	for t := range p.Tightening {
		if p.Tightening[t].Loosen {
			continue
		}
		for g := range p.Tightening[t].Groups {
			group := &p.Tightening[t].Groups[g]
			angle := slices.ContainsFunc(group.Editions, func(e plan.TightenEdition) bool {
				return slices.ContainsFunc(e.Stages, func(x plan.Stage) bool { return x.Kind == plan.StageAngle || x.Kind == plan.StageStretch })
			})
			for _, ix := range group.Holes {
				j.yield[ix] = j.yield[ix] || angle
			}
		}
	}
	return j.yield
}
