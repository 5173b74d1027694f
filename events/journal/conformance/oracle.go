package conformance

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

// Oracle is the contract of Append in its plainest form: a list that is
// looked through from end to end.
type Oracle struct{ List []journal.Draft }

// Verdict is what an append comes to.
type Verdict string

// The verdicts on an append that is not malformed and whose answer arrives.
const (
	Stored   Verdict = "stored"
	Conflict Verdict = "conflict"
	Skipped  Verdict = "skipped"
	Stale    Verdict = "stale"
)

// Judge says what an append must answer, and keeps what it stores.
func (o *Oracle) Judge(d journal.Draft, e journal.Expect) (journal.Receipt, Verdict) {
	ofJob, ofTerminal, highest := journal.Seq(0), journal.Seq(0), uint32(0)
	for i, have := range o.List {
		seq := journal.Seq(i + 1)
		if have.Job == d.Job {
			ofJob = seq
		}
		if have.Terminal != d.Terminal {
			continue
		}
		ofTerminal, highest = seq, have.N
		if have.N == d.N && have.Job == d.Job && string(have.Data) == string(d.Data) {
			return journal.Receipt{Seq: seq, Repeated: true}, Stored
		}
		if have.N == d.N {
			return journal.Receipt{}, Conflict
		}
	}
	last := ofJob
	if e.Scope() == journal.OfTerminal {
		last = ofTerminal
	}
	switch {
	case d.N != highest+1:
		return journal.Receipt{}, Skipped
	case last != e.Last():
		return journal.Receipt{}, Stale
	}
	o.List = append(o.List, d)
	return journal.Receipt{Seq: journal.Seq(len(o.List))}, Stored
}

// VerdictOf names the verdict that an error of Append stands for.
func VerdictOf(err error) Verdict {
	var stale *journal.Stale
	var conflict *journal.Conflict
	var skipped *journal.Skipped
	switch {
	case err == nil:
		return Stored
	case errors.As(err, &stale):
		return Stale
	case errors.As(err, &conflict):
		return Conflict
	case errors.As(err, &skipped):
		return Skipped
	}
	return Verdict(err.Error())
}

// Draw makes up an append that has a fair chance of each verdict; intn picks
// a number from 0 to n-1.
func (o *Oracle) Draw(intn func(n int) int) (journal.Draft, journal.Expect) {
	d := journal.Draft{
		Terminal: events.Terminal(fmt.Sprint("b", intn(3))),
		Job:      events.Job(fmt.Sprint("J", intn(2))),
		Data:     []byte{'x' + byte(intn(2))},
		N:        1,
	}
	ofJob, ofTerminal := journal.Seq(0), journal.Seq(0)
	for i, have := range o.List {
		if have.Job == d.Job {
			ofJob = journal.Seq(i + 1)
		}
		if have.Terminal == d.Terminal {
			ofTerminal, d.N = journal.Seq(i+1), have.N+1
		}
	}
	switch intn(6) {
	case 0: // something of before
		if len(o.List) > 0 {
			d = o.List[intn(len(o.List))]
			d.Data = []byte{'x' + byte(intn(2))}
		}
	case 1:
		d.N += uint32(intn(3))
	}
	if intn(6) == 0 {
		ofJob, ofTerminal = journal.Seq(intn(len(o.List)+1)), journal.Seq(intn(len(o.List)+1))
	}
	if intn(2) == 0 {
		return d, journal.Checked(ofJob)
	}
	return d, journal.Recorded(ofTerminal)
}

// plainList: whatever is appended, in whatever order, with restarts in
// between, the answers are the oracle's.
func plainList(t *testing.T, s Store) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 1))
	var o Oracle
	seen := map[Verdict]int{}
	for range 4 {
		j := s.Open(t)
		for range 60 {
			d, e := o.Draw(random.IntN)
			want, verdict := o.Judge(d, e)
			got, err := j.Append(within(t), d, e)
			require.Equal(t, verdict, VerdictOf(err), "%s %+v", d.ID(), e)
			require.Equal(t, want, got)
			seen[verdict]++
		}
		holds(t, j, o.List...)
		require.NoError(t, j.Close())
	}
	require.Len(t, seen, 4, "every verdict was given: %v", seen)
}
