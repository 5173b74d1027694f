package plan

import "slices"

// Stopping is the loans that are in and that stop an act, in the plan's
// order: pins that hold what is on the engine.
func (s *Present) Stopping(a Act) []LoanIndex {
	var out []LoanIndex
	for i := range s.p.Loans {
		moving := a == Turning || a == Cranking
		if s.loans[i] > 0 && slices.Contains(s.p.Loans[i].Stops.Acts, a) && (!moving || s.Pinning(LoanIndex(i))) {
			out = append(out, LoanIndex(i))
		}
	}
	return out
}

// Reminding is the loans that are in and that the plan reminds of before a
// step. They refuse nothing.
func (s *Present) Reminding(i StepIndex) []LoanIndex {
	var out []LoanIndex
	for l := range s.p.Loans {
		x, ok := s.p.bars(&s.p.Loans[l].Reminds, i, LoanIndex(l))
		if ok && s.loans[l] > 0 && s.stopping(x) && !slices.Contains(s.p.Steps[i].LoanOut, LoanIndex(l)) {
			out = append(out, LoanIndex(l))
		}
	}
	return out
}

// Shuts is the cavities that are open now and closed once the step is done:
// whatever fell into them must be looked for before it.
func (s *Present) Shuts(i StepIndex) []CavityIndex {
	after := s.Clone()
	after.Do(i)
	var out []CavityIndex
	for c := range s.p.Cavities {
		if s.Open(CavityIndex(c)) && !after.Open(CavityIndex(c)) {
			out = append(out, CavityIndex(c))
		}
	}
	return out
}

// Reaches is the cavities in which a piece can end that was dropped into one:
// that one first, then those that it leads to, and so on.
func (p *Plan) Reaches(c CavityIndex) []CavityIndex {
	out := []CavityIndex{c}
	for n := 0; n < len(out); n++ {
		for _, next := range p.Cavities[out[n]].LeadsTo {
			addOnce(&out, next)
		}
	}
	return out
}
