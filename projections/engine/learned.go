package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// learned is what a job without a plan, or a joint that its plan does not
// have, taught: what came out of where, in which order.
type learned struct {
	joints []Learned
	parts  []LearnedPart
}

// Learned is one joint that no plan knew.
type Learned struct {
	Joint events.Joint
	Name  string
	Host  events.Part
	Holes []events.Hole // named holes, in the order in which they were met
	Lines []events.Line // what came out of it, summed by kind
	First ledger.Fact
}

// LearnedPart is one part that no plan knew, and the joints that were opened
// since the part before it.
type LearnedPart struct {
	Part  events.Part
	First ledger.Fact
	Qty   int // pieces that came off with it
}

func (l *learned) joint(j events.Joint, f ledger.Fact) *Learned {
	for i := range l.joints {
		if l.joints[i].Joint == j {
			return &l.joints[i]
		}
	}
	l.joints = append(l.joints, Learned{Joint: j, First: f})
	return &l.joints[len(l.joints)-1]
}

func (l *learned) tag(e *events.JointTagged, f ledger.Fact) {
	j := l.joint(e.Joint, f)
	j.Name, j.Host = e.Name, e.Host
}

// out is the joint that something came out of, with the holes that were named.
func (l *learned) out(e *events.PiecesOut, f ledger.Fact) *Learned {
	j := l.joint(e.Joint, f)
	for _, h := range e.Holes {
		if !contains(j.Holes, h) {
			j.Holes = append(j.Holes, h)
		}
	}
	return j
}

func (j *Learned) add(line events.Line) {
	for i := range j.Lines {
		if j.Lines[i].Kind == line.Kind {
			j.Lines[i].Qty += line.Qty
			return
		}
	}
	j.Lines = append(j.Lines, events.Line{Kind: line.Kind, Qty: line.Qty})
}

func (l *learned) part(p events.Part, f ledger.Fact, more int) {
	for i := range l.parts {
		if l.parts[i].Part == p {
			l.parts[i].Qty += more
			return
		}
	}
	l.parts = append(l.parts, LearnedPart{p, f, more})
}

// missingIn is what came out of a joint that no plan knows and is not back in.
func (s *State) missingIn(j *Learned) []events.Line {
	var list []events.Line
	for _, l := range j.Lines {
		if n := l.Qty - s.fittedHere(string(j.Joint), l.Kind); n > 0 {
			list = append(list, events.Line{Kind: l.Kind, Qty: n})
		}
	}
	return list
}

// offOf is how many pieces of a part that no plan knows are off.
func (s *State) offOf(p *LearnedPart) int {
	return p.Qty - s.fittedHere(string(p.Part), events.Kind(p.Part))
}

// fittedHere is how many of a kind are in a joint, or on, that no plan knows.
func (s *State) fittedHere(where string, k events.Kind) int {
	a, ok := s.book.Lookup(events.Place("fitted/engine/" + where))
	if !ok {
		return 0
	}
	return int(max(0, s.book.Balance(a, ledger.OfKind(s.book.Kind(k)))))
}

// sayBack is the scan that puts back what came out of a joint: from the bag or
// place where some of it lies, else from the bench.
func (s *State) sayBack(j *Learned, lines []events.Line) string {
	for _, l := range lines {
		k := s.book.Kind(l.Kind)
		for _, a := range s.book.Holders(k) {
			if s.book.Class(a) == ledger.Bag && s.book.Balance(a, ledger.OfKind(k)) > 0 {
				return say(strings.Replace(string(s.book.Path(a)), "/", " ", 1), "joint "+string(j.Joint), "ALL IN")
			}
		}
	}
	return say("joint "+string(j.Joint), "ALL IN")
}

// learned are the red lines of an engine without a plan: what came off it, and
// out of it, and is not back.
func (c *auditList) learned() {
	s := c.s
	parts, seats := c.due(plan.PartsOn), c.due(plan.SeatsFinished)
	for i := range s.learned.parts {
		p := &s.learned.parts[i]
		if n := s.offOf(p); n > 0 {
			text := string(p.Part) + ": off"
			if p.Qty > 1 {
				text = string(p.Part) + ": " + itoa(n) + " of " + itoa(p.Qty) + " off"
			}
			c.add(parts, RedPart, p.First, text, say("part "+string(p.Part), "ON"))
		}
	}
	for i := range s.learned.joints {
		j := &s.learned.joints[i]
		if lines := s.missingIn(j); len(lines) > 0 {
			name := j.Name
			if name == "" {
				name = "Joint " + string(j.Joint)
			}
			c.add(seats, RedSeat, j.First, capital(name)+": "+s.linesWords(lines)+" came out and not back in", s.sayBack(j, lines))
		}
	}
}

// LearnedJoints lists the joints that this job has and its plan does not.
func (s *State) LearnedJoints() []Learned { return s.learned.joints }

// LearnedParts lists the parts that this job has and its plan does not.
func (s *State) LearnedParts() []LearnedPart { return s.learned.parts }
