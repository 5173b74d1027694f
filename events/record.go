package events

// Known says how a fact is known. Only a count bounds a search.
type Known uint8

// The ways of knowing, from the weakest. Stored as words.
const (
	Told          Known = iota // said by a person who did it; the zero value, stored as nothing
	Presumed                   // the plan says so
	Reconstructed              // put together afterwards
	Claimed                    // ALL OUT, ALL IN: a word for many pieces
	CountedOpen                // counted, and the expected number could be seen
	CountedBlind               // counted without seeing any number
)

// Record is one fact with its envelope: who stated it, where, when, and what
// the terminal had seen of this job when it was stated.
type Record struct {
	Shop     Shop
	Job      Job
	Terminal Terminal
	N        uint32 // the terminal's own gapless counter, from 1
	Time     int64  // the terminal's clock as it was, microseconds since 1970 UTC
	At       int64  // hybrid logical clock, microseconds since 1970 UTC
	Seen     Seen   // the highest n of each terminal folded for this job before this fact
	Operator Badge
	Known    Known
	From, To int64 // when it happened, microseconds; both 0: at At
	Event    Event
}

// ID names the record's fact.
func (r *Record) ID() FactID { return FactID{r.Terminal, r.N} }

// Before is the canonical order of a job's facts: at, terminal, n.
func (r *Record) Before(o *Record) bool {
	if r.At != o.At {
		return r.At < o.At
	}
	if r.Terminal != o.Terminal {
		return r.Terminal < o.Terminal
	}
	return r.N < o.N
}

// Saw tells whether r was stated with o known to its terminal.
func (r *Record) Saw(o *Record) bool {
	if r.Terminal == o.Terminal {
		return o.N < r.N
	}
	return r.Seen.N(o.Terminal) >= o.N
}

// Concurrent tells whether neither fact was stated with the other known.
func (r *Record) Concurrent(o *Record) bool { return !r.Saw(o) && !o.Saw(r) }
