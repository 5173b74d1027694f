package engine

import "fmt"

// Code names the reason of a refusal, for programs; people read the text.
type Code string

// The reasons for an expected no, in the order in which a rule looks for them.
const (
	Malformed Code = "malformed" // the sentence itself does not make sense
	Unknown   Code = "unknown"   // it names something that this job does not have
	Conflict  Code = "conflict"  // the state of the engine forbids it
	NeedsTwo  Code = "needs-two" // a second person is needed
)

// Refusal is an expected no to an ask: the fact, then the one thing that
// clears it. It fits one status line.
type Refusal struct {
	Code Code
	Fact string // what is so
	Next string // what to do about it
}

// Error gives the fact and the next action.
func (r *Refusal) Error() string {
	if r.Next == "" {
		return r.Fact
	}
	return r.Fact + ": " + r.Next
}

func refuse(c Code, next, fact string, args ...any) *Refusal {
	return &Refusal{Code: c, Fact: fmt.Sprintf(fact, args...), Next: next}
}
