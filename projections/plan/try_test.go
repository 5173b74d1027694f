package plan

import (
	"fmt"
	"testing"
)

func TestTry(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	ids := func(l []StepIndex) (o []string) {
		for _, i := range l {
			o = append(o, string(p.Steps[i].ID))
		}
		return
	}
	did, never := s.Greedy(Off, BenchApart)
	fmt.Println(ids(did), "NEVER", ids(never))
	for i := range p.Parts {
		if s.there(PartIndex(i)) {
			fmt.Println("on:", p.Parts[i].ID)
		}
	}
	for i := range p.Seats {
		if s.held(SeatIndex(i)) {
			fmt.Println("in:", p.Seats[i].ID)
		}
	}
	for i := range p.Loans {
		if s.loans[i] > 0 {
			fmt.Println("loan:", p.Loans[i].ID)
		}
	}
	a := s.Clone()
	did, never = s.Greedy(BenchTogether, On)
	fmt.Println(ids(did), "NEVER", ids(never))
	for i := range p.Loans {
		if s.loans[i] > 0 {
			fmt.Println("loan:", p.Loans[i].ID)
		}
	}
	for i := range p.Marks {
		fmt.Println("mark:", p.Marks[i].ID, s.marks[i])
	}
	_ = a
}
