package plan

// Doneness says how far the state that a step leaves holds.
type Doneness uint8

// How far a step is done.
const (
	NotDone Doneness = iota
	PartDone
	Done
)

// Progress is how far a step is done, and what is still missing: seats that
// it has to empty or fill, parts that it has to move, cavities that it has to
// drain or fill, marks, loans. What this engine does not have is not missing.
type Progress struct {
	State    Doneness
	Seats    []SeatIndex
	Parts    []PartIndex
	Cavities []CavityIndex
	Marks    []MarkIndex
	Loans    []LoanIndex
}

// trace is one thing by which a step is seen to be done.
type trace struct {
	kind traceKind
	at   int16 // index of what kind says
}

type traceKind uint8

const (
	tracePartOff traceKind = iota
	tracePartAway
	tracePartBack
	tracePartOn
	traceSeatOut
	traceSeatParked // parked or out: not fitted
	traceSeatIn
	traceDrained
	traceFilled
	traceMark
	traceLoanIn
	traceLoanOut
)

// traces lists what a step leaves: parts, seats and fluids; where it changes
// none of these the marks that it sets; where it sets none the loans that it
// moves.
func traces(s *Step) []trace {
	var out []trace
	out = traceAll(out, tracePartOff, s.Removes)
	out = traceAll(out, tracePartAway, s.SendsOut)
	out = traceAll(out, tracePartBack, s.TakesBack)
	out = traceAll(out, tracePartOn, s.Fits)
	out = traceAll(out, traceSeatOut, s.TakesOut)
	out = traceAll(out, traceSeatParked, s.Parks)
	out = traceAll(out, traceSeatIn, s.Fastens)
	out = traceAll(out, traceDrained, s.Drains)
	out = traceAll(out, traceFilled, s.Fills)
	if out == nil {
		out = traceAll(out, traceMark, s.Sets)
	}
	if out == nil {
		out = traceAll(out, traceLoanIn, s.LoanIn)
		out = traceAll(out, traceLoanOut, s.LoanOut)
	}
	return out
}

func traceAll[I ~int16](out []trace, k traceKind, list []I) []trace {
	for _, i := range list {
		out = append(out, trace{k, int16(i)})
	}
	return out
}

// shows reports whether a trace is there, and whether this engine can have it
// at all.
func (s *Present) shows(t trace) (there, possible bool) {
	switch t.kind {
	case tracePartOff, tracePartAway, tracePartBack, tracePartOn:
		state := s.parts[t.at]
		if state == PartAbsent {
			return true, false
		}
		switch t.kind {
		case tracePartOff:
			return state == PartOff || state == PartAway, true
		case tracePartAway:
			return state == PartAway, true
		case tracePartBack:
			return state != PartAway, true
		}
		return state == PartOn, true
	case traceSeatOut, traceSeatParked, traceSeatIn:
		state := s.seats[t.at]
		if state == SeatAbsent {
			return true, false
		}
		switch t.kind {
		case traceSeatOut:
			return state <= SeatLoan, true
		case traceSeatParked:
			return state <= SeatParked, true
		}
		return state >= SeatFilled, true
	case traceDrained:
		return s.fluids[t.at] != Filled, true
	case traceFilled:
		return s.fluids[t.at] == Filled, true
	case traceMark:
		return s.marks[t.at] != 0, true
	case traceLoanIn:
		return s.loanIs(LoanIndex(t.at), IsIn), true
	case traceLoanOut:
		return s.loans[t.at] == 0, true
	}
	panic("unreachable: trace kind")
}

// IsDone reports whether the state that a step leaves holds: parts, seats and
// fluids; for a step that changes none of these the marks that it sets; for
// one that sets none the loans that it puts in and takes out. A step that
// leaves nothing is never done. It allocates nothing.
func (s *Present) IsDone(i StepIndex) bool {
	step := &s.p.Steps[i]
	for i := range step.traces {
		if t := &step.traces[i]; t.kind == traceSeatIn { // most are
			if s.seats[t.at] < SeatFilled {
				return false
			}
		} else if there, _ := s.shows(*t); !there {
			return false
		}
	}
	return len(step.traces) > 0
}

// HowDone is how far the state that a step leaves holds. It allocates nothing.
func (s *Present) HowDone(i StepIndex) Doneness {
	traces := s.p.Steps[i].traces
	met, all := 0, 0
	for k := range traces {
		there, possible := s.shows(traces[k])
		if !possible {
			continue
		}
		if all++; there {
			met++
		}
	}
	switch {
	case len(traces) > 0 && met == all:
		return Done
	case met > 0:
		return PartDone
	}
	return NotDone
}

// Done is how far the state that a step leaves holds, with what is missing.
func (s *Present) Done(i StepIndex) (out Progress) {
	s.DoneIn(&out, i)
	return out
}

// DoneIn is Done in the memory of one that is no longer needed.
func (s *Present) DoneIn(out *Progress, i StepIndex) {
	*out = Progress{s.HowDone(i), out.Seats[:0], out.Parts[:0], out.Cavities[:0], out.Marks[:0], out.Loans[:0]}
	traces := s.p.Steps[i].traces
	for _, t := range traces {
		if there, possible := s.shows(t); possible && !there {
			out.miss(t, len(traces))
		}
	}
}

// miss adds what is missing; a list that begins has room for most.
func (p *Progress) miss(t trace, most int) {
	switch t.kind {
	case tracePartOff, tracePartAway, tracePartBack, tracePartOn:
		p.Parts = append(begun(p.Parts, most), PartIndex(t.at))
	case traceSeatOut, traceSeatParked, traceSeatIn:
		p.Seats = append(begun(p.Seats, most), SeatIndex(t.at))
	case traceDrained, traceFilled:
		p.Cavities = append(p.Cavities, CavityIndex(t.at))
	case traceMark:
		p.Marks = append(p.Marks, MarkIndex(t.at))
	case traceLoanIn, traceLoanOut:
		p.Loans = append(p.Loans, LoanIndex(t.at))
	}
}

// Finished reports whether everything that a step fastens is tightened to the
// end. A step that fastens nothing is finished when it is done.
func (s *Present) Finished(i StepIndex) bool {
	for _, seat := range s.p.Steps[i].Fastens {
		if state := s.seats[seat]; state != SeatFinished && state != SeatAbsent {
			return false
		}
	}
	return s.IsDone(i)
}

// begun gives an empty list room for n elements.
func begun[T any](list []T, n int) []T {
	if list == nil {
		return make([]T, 0, n)
	}
	return list
}
