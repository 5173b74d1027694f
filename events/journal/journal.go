package journal

import (
	"context"
	"fmt"

	"countback/events"
)

// Expect states what the writer of a draft knew. Make one with Checked or
// Recorded; the zero value is refused.
type Expect struct {
	scope Scope
	last  Seq
}

// Scope tells whose last message is expected.
type Scope uint8

// The scopes of an expectation.
const (
	OfJob      Scope = iota + 1 // the draft's job, written by any terminal
	OfTerminal                  // the draft's terminal, to any job
)

// Checked expects lastOfJob to be the last message of the draft's job; 0
// expects that the job has none.
func Checked(lastOfJob Seq) Expect { return Expect{OfJob, lastOfJob} }

// Recorded expects lastOfTerminal to be the last message of the draft's
// terminal; 0 expects that it has none.
func Recorded(lastOfTerminal Seq) Expect { return Expect{OfTerminal, lastOfTerminal} }

// Scope is whose last message is expected; 0 for the zero value.
func (e Expect) Scope() Scope { return e.scope }

// Last is the number that the last message is expected to have.
func (e Expect) Last() Seq { return e.last }

// Check refuses the zero value.
func (e Expect) Check() error {
	if e.scope != OfJob && e.scope != OfTerminal {
		return fmt.Errorf("expectation is empty; use Checked or Recorded")
	}
	return nil
}

// Receipt says that a message is stored durably.
type Receipt struct {
	Seq      Seq
	Repeated bool // it had been stored before; this append stored nothing
}

// Filter chooses what to read. The zero value is the whole shop.
type Filter struct {
	Job events.Job // only this job, if not empty
}

// Match reports whether the filter lets a job's messages through.
func (f Filter) Match(j events.Job) bool { return f.Job == "" || f.Job == j }

// Check refuses a job that cannot be the name of one.
func (f Filter) Check() error {
	if f.Job == "" {
		return nil
	}
	return CheckName("job", string(f.Job))
}

// Journal keeps the messages of one shop. All methods may be called from
// several goroutines at once; appends of one terminal wait for each other.
// After Close every method but Close returns ErrClosed.
type Journal interface {
	// Append stores one message. The package doc has the order of its checks.
	Append(ctx context.Context, d Draft, e Expect) (Receipt, error)

	// Settle finds out after *Unclear whether the draft is stored, by reading
	// the terminal's own last messages; false means that it was not there when
	// looked for. It is a *Conflict if the id is stored with other content.
	// After false the draft's number is still free: append the same draft
	// again, or another one under its number; should the first one arrive late
	// after all, the second is told so (*Conflict).
	Settle(ctx context.Context, d Draft) (Receipt, bool, error)

	// Last is the last message of a terminal; false if it has none. The
	// message's data belong to the caller.
	Last(ctx context.Context, t events.Terminal) (Message, bool, error)

	// LastOfJob is the number of the last message of a job; 0 if it has none.
	LastOfJob(ctx context.Context, j events.Job) (Seq, error)

	// Read calls fn for every message from number from on (0 and 1 are the
	// beginning) that the filter lets through, in order, up to the message
	// that was the last one when Read was called. An error of fn ends it and
	// is returned as it is. Calls of fn never overlap; they may come from
	// another goroutine than the caller's.
	Read(ctx context.Context, from Seq, f Filter, fn func(Message) error) error

	// Follow does what Read does and goes on with every new message, until
	// the context ends (the error is the context's), fn returns an error, or
	// the journal is closed.
	Follow(ctx context.Context, from Seq, f Filter, fn func(Message) error) error

	// Head is the number of the last message; 0 if there is none.
	Head(ctx context.Context) (Seq, error)

	// Health says why an append would fail now, or what is at risk; nil if
	// all is well.
	Health(ctx context.Context) error

	// Close ends the journal and everything that follows it. A second call
	// does nothing.
	Close() error
}
