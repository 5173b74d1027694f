package engine

import (
	"slices"
	"sort"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/scope"
)

// Job is one engine's way through the shop: its facts in canonical order and
// the state folded from them. It does no I/O, starts no goroutine and reads no
// clock. The zero Job is empty and ready. It is not safe for several
// goroutines at once.
type Job struct {
	facts   []events.Record
	meant   []meant   // by fact
	high    []highest // highest n of each terminal, in order of first meeting
	state   *State
	mended  bool                             // a correction is among the facts
	stands  func(i int) (events.Event, bool) // what stands in the place of each fact; nil: each for itself
	refolds int

	view   *view
	viewOf viewOf

	spots     spots        // that the facts name
	setsOf    *layout      // whose holes the sets are
	sets      [][]*holeSet // by joint
	spans     [][]plan.SeatIndex
	benchesOf *layout // whose parts these are of
	partBench []partBench
	byHole    bool        // never by sets: tests compare both ways
	lineList  []lineMeant // of all facts

	plan     *plan.Plan // of planText
	planText string

	limits  Limits // of the shop; see Limits
	limited bool
	clock   int64

	away      map[string]string // tools that cannot be had; see Tools
	toolsSaid int               // how often that changed

	red     []RedLine // kept by Red
	redOf   redOf
	redKept bool
	holes   gaps // kept by Gaps
	scopes  *scope.Finder
	yield   []bool // by hole of yieldOf: see yields
	yieldOf *plan.Plan
}

type highest struct {
	terminal events.Terminal
	n        uint32
}

// Change is what one record did to a job.
type Change struct {
	Repeated bool          // this (terminal, n) was there already; nothing happened
	Refolded bool          // it came late, or corrects: the job was folded again
	Fact     ledger.Fact   // its place in the canonical order now
	Opened   ledger.Opened // shorts and overs that it showed
}

// State gives the folded state. It belongs to the job: read it, never keep it
// over the next Apply.
func (j *Job) State() *State {
	if j.state == nil {
		j.state = newState(j)
	}
	return j.state
}

// Facts gives the facts in canonical order. They must not be changed.
func (j *Job) Facts() []events.Record { return j.facts[:len(j.facts):len(j.facts)] }

// Apply takes one more record, in whatever order records arrive. Rule R1: any
// order of arrival of the same facts gives the same state. Rule R2: a
// (terminal, n) is taken once. It never fails: folding is total.
func (j *Job) Apply(r *events.Record) Change {
	if j.has(r) {
		return Change{Repeated: true}
	}
	j.note(r)
	_, corrects := r.Event.(events.Corrected)
	n := len(j.facts)
	if corrects || (n > 0 && r.Before(&j.facts[n-1])) {
		return j.insert(r, corrects)
	}
	j.facts, j.meant = append(j.facts, *r), append(j.meant, meant{})
	rec := &j.facts[n]
	s := j.State()
	s.apply(ledger.Fact(n+1), rec, rec.Event, &j.meant[n])
	return Change{Fact: ledger.Fact(n + 1), Opened: s.opened}
}

func (j *Job) insert(r *events.Record, corrects bool) Change {
	at := sort.Search(len(j.facts), func(i int) bool { return r.Before(&j.facts[i]) })
	j.facts = append(j.facts, events.Record{})
	copy(j.facts[at+1:], j.facts[at:])
	j.facts[at] = *r
	j.meant = slices.Insert(j.meant, at, meant{})
	j.mended = j.mended || corrects
	opened := j.fold(at)
	return Change{Refolded: true, Fact: ledger.Fact(at + 1), Opened: opened}
}

// roomForLate is the part of a job's facts that may still come before all of
// them have to be moved: one in 16.
const roomForLate = 16

// Load folds many records at once. It gives the same job as applying them one
// by one.
func (j *Job) Load(records []events.Record) {
	j.facts = slices.Grow(j.facts, len(records)+len(records)/roomForLate)
	for i := range records {
		r := &records[i]
		if j.has(r) {
			continue
		}
		j.note(r)
		if _, ok := r.Event.(events.Corrected); ok {
			j.mended = true
		}
		j.facts = append(j.facts, *r)
	}
	if !sort.SliceIsSorted(j.facts, func(a, b int) bool { return j.facts[a].Before(&j.facts[b]) }) {
		sort.SliceStable(j.facts, func(a, b int) bool { return j.facts[a].Before(&j.facts[b]) })
	}
	j.meant = make([]meant, len(j.facts), cap(j.facts))
	j.fold(-1)
	j.refolds--
}

// fold folds all facts from the first and gives what the fact at index watch
// opened.
func (j *Job) fold(watch int) (opened ledger.Opened) {
	j.refolds++
	if j.state == nil {
		j.state = newState(j)
	} else {
		j.state = newStateFrom(j.state)
	}
	j.state.spots = grown(j.state.spots, len(j.spots.list))
	stands, mended := j.mending()
	j.stands = stands
	s, facts, meants := j.state, j.facts, j.meant[:len(j.facts)]
	for i := range facts {
		r, m := &facts[i], &meants[i]
		if mended != nil && mended[i] != 0 {
			ev, _ := stands(i)
			kept := len(j.lineList)
			s.apply(ledger.Fact(i+1), r, ev, &meant{}) // another event stands here
			j.lineList = j.lineList[:kept]
		} else {
			s.again(ledger.Fact(i+1), r, m)
		}
		if i == watch {
			opened = s.opened
		}
	}
	return opened
}

// benchNo is the place of a terminal in the order of first meeting; the highest
// that can be told stands for all behind it.
func (j *Job) benchNo(t events.Terminal) uint16 {
	for i := range j.high {
		if j.high[i].terminal == t {
			return uint16(min(i, anyBench))
		}
	}
	return anyBench
}

// anyBench is the number of benches that have none of their own.
const anyBench = 1<<16 - 1

// note remembers the highest n of a terminal.
func (j *Job) note(r *events.Record) {
	for i := range j.high {
		if j.high[i].terminal == r.Terminal {
			j.high[i].n = max(j.high[i].n, r.N)
			return
		}
	}
	j.high = append(j.high, highest{r.Terminal, r.N})
}

// has finds out whether (terminal, n) was taken before. A terminal's n grows
// with every fact, so the common case looks at one number.
func (j *Job) has(r *events.Record) bool {
	for i := range j.high {
		if j.high[i].terminal == r.Terminal {
			return r.N <= j.high[i].n && j.index(r.ID()) >= 0
		}
	}
	return false
}

// index is where a fact stands in the canonical order, -1 if it is not there.
func (j *Job) index(id events.FactID) int {
	for i := len(j.facts) - 1; i >= 0; i-- {
		if j.facts[i].N == id.N && j.facts[i].Terminal == id.Terminal {
			return i
		}
	}
	return -1
}

// Find gives a fact by its name.
func (j *Job) Find(id events.FactID) (*events.Record, bool) {
	if i := j.index(id); i >= 0 {
		return &j.facts[i], true
	}
	return nil, false
}

// FactOf is the place of a fact in the canonical order.
func (j *Job) FactOf(id events.FactID) (ledger.Fact, bool) {
	i := j.index(id)
	return ledger.Fact(i + 1), i >= 0
}

// Seen is what a terminal that has folded this job has seen of it.
func (j *Job) Seen() events.Seen {
	high := make(map[events.Terminal]uint32, len(j.high))
	for _, h := range j.high {
		high[h.terminal] = h.n
	}
	return events.SeenOf(high)
}

// LatestAt is the greatest At among the facts, 0 without facts: the next fact
// of a terminal that has folded this job must be later.
func (j *Job) LatestAt() int64 {
	if len(j.facts) == 0 {
		return 0
	}
	return j.facts[len(j.facts)-1].At
}
