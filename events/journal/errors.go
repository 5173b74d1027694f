package journal

import (
	"errors"
	"fmt"

	"countback/events"
)

// Errors that a caller branches on; the types below carry more.
var (
	// ErrClosed: the journal was closed.
	ErrClosed = errors.New("journal is closed")
	// ErrOffline: the journal cannot be reached, and the message was
	// certainly not stored.
	ErrOffline = errors.New("journal cannot be reached")
	// ErrFull: there is no room, and the message was certainly not stored.
	ErrFull = errors.New("no room for more events")
)

// Stale says that the last message was not the expected one; nothing was
// stored.
type Stale struct {
	ID    string // of the draft
	Scope Scope
	Of    string // whose last message: "job J4K7", "terminal b2"
	Want  Seq    // expected
	Have  Seq    // found
}

// NewStale describes an expectation of a draft that does not hold.
func NewStale(d Draft, e Expect, have Seq) *Stale {
	s := &Stale{ID: d.ID(), Of: "job " + string(d.Job), Want: e.last, Have: have, Scope: e.scope}
	if e.scope == OfTerminal {
		s.Of = "terminal " + string(d.Terminal)
	}
	return s
}

func (e *Stale) Error() string {
	return fmt.Sprintf("event %s not stored: last message of %s is %d, expected %d", e.ID, e.Of, e.Have, e.Want)
}

// Conflict says that the draft's id is stored with another job or other
// bytes: two writers used one terminal's name, or one writer used a number
// twice. Nothing was stored.
type Conflict struct {
	ID  string
	Seq Seq // of what is stored
}

func (e *Conflict) Error() string {
	return fmt.Sprintf("event %s not stored: message %d has the same id and other content; two writers use one terminal's name", e.ID, e.Seq)
}

// Skipped says that a draft's n is not the next one of its terminal; nothing
// was stored.
type Skipped struct {
	Terminal events.Terminal
	N        uint32 // of the draft
	Last     uint32 // of the terminal's last stored message, 0 if none
}

func (e *Skipped) Error() string {
	return fmt.Sprintf("event %s not stored: the next one of terminal %s is %s",
		ID(e.Terminal, e.N), e.Terminal, ID(e.Terminal, e.Last+1))
}

// Unclear says that no answer came: the message may be stored, may not be, or
// may still arrive. Settle it, or append the same draft again, before
// anything else of its terminal.
type Unclear struct {
	ID    string // of the draft whose answer is missing
	Cause error
}

func (e *Unclear) Error() string {
	return fmt.Sprintf("event %s: unclear whether it is stored: %v", e.ID, e.Cause)
}

func (e *Unclear) Unwrap() error { return e.Cause }

// Gap says that messages are missing which must be there: nothing is ever
// deleted, so the store is damaged.
type Gap struct {
	Job   events.Job // of a reader of one job; empty for the whole shop
	After Seq        // the last message read before the gap, 0 at the beginning
	Next  Seq        // the first one after it, 0 if the end was reached
	Lost  uint64     // how many are missing, at least
}

func (e *Gap) Error() string {
	what := "message"
	if e.Job != "" {
		what = "message of job " + string(e.Job)
	}
	if e.Lost != 1 {
		what += "s"
	}
	where := fmt.Sprintf("between %d and %d", e.After, e.Next)
	if e.Next == 0 {
		where = fmt.Sprintf("after %d", e.After)
	}
	return fmt.Sprintf("journal is damaged: %d %s missing %s; stop working and run: countback store check", e.Lost, what, where)
}
