package engine

import (
	"fmt"
	"strings"

	"countback/projections/ledger"
	"countback/projections/plan"
)

// record writes what an audit signs: one line for each thing, in a fixed order.
// It holds no time but those of facts, so that the same facts give the same
// text.
func (s *State) record(a *Audit, points []plan.AuditPoint) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("Audit record: %s (%s)", a.Name, a.Point)
	if r := s.Fact(1); r != nil {
		line("Job %s", r.Job)
	}
	line("Engine %s", s.Opened.Engine)
	if s.Opened.Owner != "" {
		line("Owner %s", s.Opened.Owner)
	}
	if s.Opened.PlanHash != "" {
		line("Plan %s, SHA-256 %s", s.Opened.Family, s.Opened.PlanHash)
	}
	line("Facts %d, seen %s", len(s.job.facts), s.job.Seen())
	if n := len(s.signed); n > 0 {
		line("After the record of %s, SHA-256 %s", s.signed[n-1].Point, s.signed[n-1].Hash)
	}
	section := func(title string, lines []RedLine) {
		line("%s: %d", title, len(lines))
		for _, l := range lines {
			line("- [%s] %s", l.Code, l.String())
		}
	}
	section("Red", a.Red)
	section("Carried", a.Carried)
	line("Let pass by a second person: %d", len(a.Overrides))
	for _, o := range a.Overrides {
		line("- %s", o)
	}
	s.recordGates(line)
	s.recordTightening(line)
	s.recordPieces(line)
	s.recordHoles(line)
	for _, m := range s.measured {
		line("Measured %s", s.Tells(m.Measured))
	}
	return b.String()
}

func (s *State) recordGates(line func(string, ...any)) {
	for _, g := range s.Gates() {
		switch {
		case g.Check != nil:
			line("Second count of %s: %s, %s", g.Step, s.tellsCheck(g.Check.SecondChecked), s.clock(g.Check.Fact))
		case g.Owed && g.Passed:
			line("Second count of %s: let pass", g.Step)
		case g.Owed:
			line("Second count of %s: none", g.Step)
		}
	}
}

// recordTightening says by which edition each list was done where editions
// disagree, and which torques a person chose. Lists that nobody opened are left
// out.
func (s *State) recordTightening(line func(string, ...any)) {
	for li := range s.tight.lists {
		l, ls := s.listOf(int32(li)), &s.tight.lists[li]
		ed := l.Edition(int(ls.choice))
		here := false
		for _, ix := range l.Seats {
			here = here || s.putInHere(ix)
		}
		name := s.jointWords(string(s.lay.plan.Joints[l.Joints[0]].ID))
		switch {
		case !here:
		case l.Chosen:
			line("Torque of %s: %s, chosen by a person", name, valueWords(ed.List.Stages[0]))
		case len(l.Editions) < 2:
		case ls.choice == 0:
			line("Stages of %s: edition %s, the last one; nobody chose", name, ed.Label())
		default:
			line("Stages of %s: edition %s, chosen %s", name, ed.Label(), s.clock(ls.chose))
		}
	}
}

// recordPieces sums the book by the kind of place. The sum of a sound book is
// zero: what came from outside is somewhere.
func (s *State) recordPieces(line func(string, ...any)) {
	var sum [ledger.Classes]int64
	for a := 1; a <= s.book.Accounts(); a++ {
		for _, n := range s.book.At(ledger.AccountID(a)) {
			sum[s.book.Class(ledger.AccountID(a))] += int64(n)
		}
	}
	for c := ledger.Elsewhere; c < ledger.Classes; c++ {
		if sum[c] != 0 {
			line("Pieces %s: %d", c, sum[c])
		}
	}
}

func (s *State) recordHoles(line func(string, ...any)) {
	for i := range s.lay.plan.Seats {
		if h, ok := s.holes[plan.SeatIndex(i)]; ok {
			line("Hole %s: %s", s.lay.plan.Seats[i].ID, becameWords(h))
		}
	}
}
