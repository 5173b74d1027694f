package plan

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// audit is a slow look at the whole engine for what no legal row of steps can
// leave behind.
func audit(t require.TestingT, s *Present) {
	p := s.p
	for i := range p.Seats {
		seat := &p.Seats[i]
		if !s.held(SeatIndex(i)) || !seat.Moves() {
			continue
		}
		for _, c := range seat.Clamps {
			require.False(t, s.lacks(c), "%s is in, and %s that it clamps is off", seat.ID, p.Parts[c].ID)
		}
		for _, f := range p.guide.fillers[i] {
			require.LessOrEqual(t, s.Loan(f.loan), f.nth, "%s and loan %s are in one hole", seat.ID, p.Loans[f.loan].ID)
		}
	}
	for i := range p.Parts {
		for _, below := range p.Below(PartIndex(i)) {
			if s.there(PartIndex(i)) {
				require.False(t, s.lacks(below), "%s is on over %s, which is off", p.Parts[i].ID, p.Parts[below].ID)
			}
		}
	}
	for i := range p.Marks {
		if s.Mark(MarkIndex(i)) {
			require.False(t, p.Marks[i].VoidBy.Eval(s), "mark %s stands though it is void", p.Marks[i].ID)
		}
	}
}

// auditTurn looks that no pin holds a crank that is about to turn.
func auditTurn(t require.TestingT, s *Present, step *Step) {
	if !step.Turns {
		return
	}
	after := s.Clone()
	for _, l := range step.LoanOut {
		after.SetLoan(l, 0)
	}
	for i := range s.p.Loans {
		for _, act := range s.p.Loans[i].Stops.Acts {
			if act == Turning && after.Pinning(LoanIndex(i)) && !listed(step.LoanMay, LoanIndex(i)) {
				require.Zero(t, after.Loan(LoanIndex(i)), "%s turns the crank with %s in", step.ID, s.p.Loans[i].ID)
			}
		}
	}
}

func listed[T comparable](list []T, v T) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}

func TestLegalStepsKeepTheEngineWhole(t *testing.T) {
	p := sorrel(t)
	rapid.Check(t, func(t *rapid.T) {
		s := NewPresent(p)
		if rapid.Bool().Draw(t, "apart") {
			s.Greedy(Off, BenchApart)
		}
		audit(t, s)
		for range rapid.IntRange(1, 60).Draw(t, "steps") {
			var can []StepIndex
			for i := range p.Steps {
				ok := s.Can(StepIndex(i))
				require.Equal(t, ok, s.CanDo(StepIndex(i)) == nil, "%s: with and without reasons", p.Steps[i].ID)
				if ok && !s.IsDone(StepIndex(i)) {
					can = append(can, StepIndex(i))
				}
			}
			if len(can) == 0 {
				return
			}
			step := rapid.SampledFrom(can).Draw(t, "step")
			auditTurn(t, s, &p.Steps[step])
			s.Do(step)
			audit(t, s)
			if len(p.Steps[step].traces) > 0 && len(p.Steps[step].Trial) == 0 {
				require.Equal(t, Done, s.Done(step).State, "%s leaves its own state", p.Steps[step].ID)
			}
		}
	})
}

// slowCan asks the demands one by one, as they are explained, instead of the
// compiled lists.
func slowCan(s *Present, i StepIndex) bool {
	step := &s.p.Steps[i]
	if len(s.explainBench(step)) > 0 {
		return false
	}
	for _, d := range s.p.demands(i) {
		if !d.cond.Eval(s) && (d.active == nil || d.active(s)) {
			return false
		}
	}
	return true
}

func TestCanAgreesWithItsDemandsInAnyState(t *testing.T) {
	p := sorrel(t)
	rapid.Check(t, func(t *rapid.T) {
		s := anyState(t, p)
		for i := range p.Steps {
			require.Equal(t, slowCan(s, StepIndex(i)), s.Can(StepIndex(i)), p.Steps[i].ID)
		}
	})
}

// anyState is a state that may make no sense: facts come in any order.
func anyState(t *rapid.T, p *Plan) *Present {
	s := NewPresent(p)
	for range rapid.IntRange(0, 80).Draw(t, "facts") {
		switch rapid.IntRange(0, 4).Draw(t, "what") {
		case 0:
			s.SetPart(PartIndex(rapid.IntRange(0, len(p.Parts)-1).Draw(t, "part")), PartState(rapid.IntRange(0, int(PartAbsent)).Draw(t, "state")))
		case 1:
			s.SetSeat(SeatIndex(rapid.IntRange(0, len(p.Seats)-1).Draw(t, "seat")), SeatState(rapid.IntRange(0, int(SeatAbsent)).Draw(t, "state")))
		case 2:
			s.SetLoan(LoanIndex(rapid.IntRange(0, len(p.Loans)-1).Draw(t, "loan")), rapid.IntRange(0, 5).Draw(t, "pieces"))
		case 3:
			s.SetMark(MarkIndex(rapid.IntRange(0, len(p.Marks)-1).Draw(t, "mark")), rapid.Bool().Draw(t, "stands"))
		default:
			s.Do(StepIndex(rapid.IntRange(0, len(p.Steps)-1).Draw(t, "step")))
		}
	}
	return s
}

func TestCloneIsIndependent(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	c := s.Clone()
	require.True(t, s.Equal(c))
	require.Equal(t, s.AppendKey(nil), c.AppendKey(nil))
	c.SetPart(part(t, p, "cam-cover"), PartOff)
	require.False(t, s.Equal(c))
	require.NotEqual(t, s.AppendKey(nil), c.AppendKey(nil))
	require.Equal(t, PartOn, s.Part(part(t, p, "cam-cover")))
	c.CopyFrom(s)
	require.True(t, s.Equal(c))
}

func mark(t testing.TB, p *Plan, id events.Mark) MarkIndex {
	t.Helper()
	i, ok := p.Mark(id)
	require.True(t, ok, "mark %s", id)
	return i
}

func loan(t testing.TB, p *Plan, id events.Loan) LoanIndex {
	t.Helper()
	i, ok := p.Loan(id)
	require.True(t, ok, "loan %s", id)
	return i
}

func TestMarksStandPresumedAtArrivalAndFall(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	require.True(t, s.Mark(mark(t, p, "pre-oiled")))
	require.False(t, s.Mark(mark(t, p, "checked-in")), "nobody has looked yet")
	require.False(t, s.Mark(mark(t, p, "at-one")))

	// Somebody only lifts the cam cover: nothing asks for oil or clearances.
	for _, i := range stepsOfPlan(t, p, "check-in", "harness-off", "coils-off", "cam-cover-off") {
		s.Do(i)
	}
	require.True(t, s.Can(stepsOfPlan(t, p, "cam-cover-on")[0]))

	s.SetPart(part(t, p, "oil-pan"), PartOff)
	require.False(t, s.Mark(mark(t, p, "pre-oiled")))
	s.SetPart(part(t, p, "oil-pan"), PartOn)
	require.False(t, s.Mark(mark(t, p, "pre-oiled")), "what fell does not rise by itself")

	s.SetMark(mark(t, p, "at-one"), true)
	s.Act(Turning)
	require.False(t, s.Mark(mark(t, p, "at-one")))
	s.SetPart(part(t, p, "chain"), PartOff)
	s.SetMark(mark(t, p, "two-turns"), true)
	require.False(t, s.Mark(mark(t, p, "two-turns")), "no two turns without a chain")
}

func TestLoansTakeTheirSeats(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	pin, bore := loan(t, p, "crank-pin"), seat(t, p, "timing-bore:1")
	s.SetLoan(pin, 1)
	require.Equal(t, SeatLoan, s.Seat(bore))
	s.SetSeat(bore, SeatEmpty)
	require.Equal(t, SeatLoan, s.Seat(bore), "the pin is known to be in it")
	s.SetLoan(pin, 0)
	require.Equal(t, SeatEmpty, s.Seat(bore))

	plugs := loan(t, p, "spark-hole-plug")
	s.SetLoan(plugs, 4)
	require.Equal(t, SeatFinished, s.Seat(seat(t, p, "spark-plugs:2")), "the spark plug is still in it")
	s.SetSeat(seat(t, p, "spark-plugs:2"), SeatEmpty)
	require.Equal(t, SeatLoan, s.Seat(seat(t, p, "spark-plugs:2")))
	require.False(t, s.Open(cavityOf(t, p, "cylinders")), "plugged")
	s.SetLoan(plugs, 1)
	require.Equal(t, SeatEmpty, s.Seat(seat(t, p, "spark-plugs:2")))
	require.True(t, s.Open(cavityOf(t, p, "cylinders")), "one hole is enough")

	bolts := Condition{Op: OfLoan, Loan: loan(t, p, "stand-bolt"), Is: IsIn}
	s.SetLoan(bolts.Loan, 3)
	require.False(t, bolts.Eval(s), "three of four")
	require.Equal(t, "Stand bolts: 3 of 4 in", bolts.Explain(s)[0].Text)
	s.SetLoan(bolts.Loan, 4)
	require.True(t, bolts.Eval(s))
}

func cavityOf(t testing.TB, p *Plan, id events.Cavity) CavityIndex {
	t.Helper()
	i, ok := p.Cavity(id)
	require.True(t, ok, "cavity %s", id)
	return i
}

func TestPinInAPartOnTheBenchStopsNothing(t *testing.T) {
	p := sorrel(t)
	s := apart(t, p)
	s.Greedy(BenchTogether)
	for _, i := range stepsOfPlan(t, p, "plugs-in", "shells-in", "crank-on", "mains-tried", "bedplate-on") {
		s.Do(i)
	}
	play := stepsOfPlan(t, p, "end-play")[0]
	require.True(t, s.Can(play))
	s.SetLoan(loan(t, p, "cam-bar"), 1)
	s.SetLoan(loan(t, p, "tensioner-pin"), 1)
	require.True(t, s.Can(play), "the cams and the tensioner lie on the bench")
	s.SetLoan(loan(t, p, "crank-pin"), 1)
	require.False(t, s.Can(play))
	require.Equal(t, "Crank timing pin: in, and the crank would turn", s.CanDo(play)[0].Text)
}

func TestAwayPartsAreWorkedOnByNobody(t *testing.T) {
	p := sorrel(t)
	s := apart(t, p)
	require.Equal(t, PartAway, s.Part(part(t, p, "head")))
	require.True(t, s.Here(part(t, p, "head-dowels")), "dowels stay in the block")
	whole := NewPresent(p)
	whole.Do(stepsOfPlan(t, p, "check-in")[0])
	whole.Do(stepsOfPlan(t, p, "harness-off")[0])
	valve := stepsOfPlan(t, p, "oil-control-off")[0]
	require.True(t, whole.Can(valve))
	whole.SetPart(part(t, p, "head"), PartAway)
	require.False(t, whole.Can(valve))
	require.Equal(t, "Head: away", whole.CanDo(valve)[0].Text)

	build := stepsOfPlan(t, p, "head-build")[0]
	require.False(t, s.Can(build))
	s.Do(stepsOfPlan(t, p, "head-back")[0])
	require.True(t, s.Can(build))
}

func TestDonenessNamesWhatIsMissing(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	off := stepsOfPlan(t, p, "pump-off")[0]
	require.Equal(t, Progress{State: NotDone, Parts: []PartIndex{part(t, p, "water-pump"), part(t, p, "water-pump-gasket")},
		Seats: []SeatIndex{seat(t, p, "water-pump:1"), seat(t, p, "water-pump:2"), seat(t, p, "water-pump:3"), seat(t, p, "water-pump:4")}}, s.Done(off))
	for _, id := range []events.Seat{"water-pump:1", "water-pump:2", "water-pump:3"} {
		s.SetSeat(seat(t, p, id), SeatEmpty)
	}
	s.SetPart(part(t, p, "water-pump"), PartOff)
	require.Equal(t, Progress{State: PartDone, Parts: []PartIndex{part(t, p, "water-pump-gasket")}, Seats: []SeatIndex{seat(t, p, "water-pump:4")}}, s.Done(off))
	cond := Condition{Op: OfStep, Step: off}
	require.Equal(t, "Pump off: part done; not yet Water pump gasket, Water pump 4", cond.Explain(s)[0].Text)
	s.SetSeat(seat(t, p, "water-pump:4"), SeatEmpty)
	s.SetPart(part(t, p, "water-pump-gasket"), PartOff)
	require.Equal(t, Done, s.Done(off).State)

	on := stepsOfPlan(t, p, "pump-on")[0]
	s.Do(on)
	s.SetSeat(seat(t, p, "water-pump:2"), SeatParked)
	require.Equal(t, PartDone, s.Done(on).State, "parked looks finished and is not")
	s.SetSeat(seat(t, p, "water-pump:2"), SeatFilled)
	require.Equal(t, Done, s.Done(on).State)
	require.False(t, s.Finished(on), "in, not tightened")
	s.SetSeat(seat(t, p, "water-pump:2"), SeatFinished)
	require.True(t, s.Finished(on))

	require.Equal(t, NotDone, s.Done(stepsOfPlan(t, p, "run-in")[0]).State, "it leaves nothing to be seen")
}

func TestPresumedBefore(t *testing.T) {
	p := sorrel(t)
	for _, row := range []struct {
		part events.Part
		want []string
	}{
		{"oil-pan", []string{"check-in", "flywheel-off", "stand-on", "drain", "pan-off"}},
		{"cam-cover", []string{"check-in", "harness-off", "coils-off", "cam-cover-off"}},
		{"cam-intake", append([]string{"check-in"}, boreOut...)},
	} {
		s := NewPresent(p)
		steps, ok := s.PresumedBefore(part(t, p, row.part))
		require.True(t, ok)
		require.Equal(t, row.want, stepIDs(p, steps))
		legal(t, s, steps)
	}
	s := NewPresent(p)
	for _, i := range stepsOfPlan(t, p, append([]string{"check-in"}, coverOut[:13]...)...) {
		s.Do(i)
	}
	steps, ok := s.PresumedBefore(part(t, p, "cam-intake"))
	require.True(t, ok)
	require.Equal(t, []string{"tensioner-pinned", "chain-hung", "phasers-off", "cams-off"}, stepIDs(p, steps), "the open case needs no bore")
	legal(t, s, steps)
	steps, ok = s.PresumedBefore(part(t, p, "oil-pan"))
	require.True(t, ok)
	require.Empty(t, steps, "it is off already")
	_, ok = s.PresumedBefore(part(t, p, "block"))
	require.False(t, ok, "nothing takes the block off")
}

// Every part that a step takes off has a legal way there from the whole
// engine, and none of its steps can be left out.
func TestPresumedBeforeIsLegalAndTight(t *testing.T) {
	p := sorrel(t)
	for i := range p.Parts {
		if len(p.Removers(PartIndex(i))) == 0 {
			continue
		}
		s := NewPresent(p)
		steps, ok := s.PresumedBefore(PartIndex(i))
		require.True(t, ok, p.Parts[i].ID)
		legal(t, s, steps)
		for n := range steps {
			try := s.Clone()
			for k, step := range steps {
				if k != n && try.Can(step) {
					try.Do(step)
				}
			}
			require.NotEqual(t, PartOff, try.Part(PartIndex(i)), "%s without %s", p.Parts[i].ID, p.Steps[steps[n]].ID)
		}
	}
}
