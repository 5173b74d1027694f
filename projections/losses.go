package projections

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// Losses are the losses of a shop. They hold no person: a count above or below
// the book says where the process loses pieces, and who counts well finds more.
type Losses struct {
	Jobs  []JobLosses // in the order of the jobs
	Total Sum
}

// JobLosses are the losses of one job.
type JobLosses struct {
	Job    events.Job
	Family string
	Sum    Sum
	Lines  []Loss // in the order in which they were shown
}

// Loss is one short: pieces that a count missed.
type Loss struct {
	Short    events.ShortID
	Kind     events.Kind
	Qty      int
	Open     int
	Ending   events.Ending // empty: open
	Where    Stage         // where they were at the last good count
	Place    events.Place
	At       string  // the place for people
	Caught   Catch   // which count caught them
	Position string  // the joint or part, for what repeats over engines
	Shown    int64   // when it was missed, microseconds since 1970 UTC
	Hours    float64 // width of its interval: from the last good count to the first short one
	Days     float64 // from missed to explained; 0 while it is open
}

// Stage is a part of the process.
type Stage string

// The stages of the process.
const (
	AtRemoval Stage = "removal"
	InBag     Stage = "bag"
	InRack    Stage = "rack"
	OnBench   Stage = "bench"
	InWash    Stage = "wash"
	InPlace   Stage = "place" // shelf, box
	AtSublet  Stage = "sublet"
	InStock   Stage = "stock"
	AtRefit   Stage = "refit"
)

// Stages lists the stages in the order of the process.
func Stages() []Stage {
	return []Stage{AtRemoval, OnBench, InBag, InRack, InWash, InPlace, AtSublet, InStock, AtRefit}
}

// Catch is which count caught a loss.
type Catch string

// The counts that catch losses, from the earliest. After the start must be none.
const (
	CaughtAtRemoval Catch = "removal"
	CaughtAtClose   Catch = "bag closed"
	CaughtByCount   Catch = "count"
	CaughtAtReturn  Catch = "return from another shop"
	CaughtAtAudit   Catch = "after an audit was signed"
	CaughtAtStart   Catch = "after the start"
)

// Catches lists the counts in the order of the process.
func Catches() []Catch {
	return []Catch{CaughtAtRemoval, CaughtAtClose, CaughtByCount, CaughtAtReturn, CaughtAtAudit, CaughtAtStart}
}

// Sum adds losses up, in pieces.
type Sum struct {
	Handled    int // pieces that a hand moved from one place to another here, each move counted
	Opened     int // pieces missed, found again or not: a found one cost a search too
	Found      int // in hand again, or paired with a count above the book
	Miscount   int // counted wrong, or never out of its hole
	PlanWrong  int
	Borrowed   int
	WrittenOff int
	Open       int
	Over       int // pieces too many, in counts above the book
	Broken     int // cases of broken fasteners
	OtherEnds  int // ends of broken fasteners that were not in hand; not among Opened
	Arrival    int // missing when the engine came; not among Opened

	Where  map[Stage]int // Opened by stage
	Caught map[Catch]int // Opened by count
	Days   []float64     // to explain each line that is explained, the shortest first
	Hours  []float64     // width of each interval, the shortest first
}

// PerThousand is how many pieces were missed per 1,000 handled, with its 95 %
// interval; all 0 where nothing was handled.
func (s *Sum) PerThousand() (rate, low, high float64) {
	if s.Handled == 0 {
		return 0, 0, 0
	}
	low, high = PoissonInterval(s.Opened)
	k := 1000 / float64(s.Handled)
	return float64(s.Opened) * k, low * k, high * k
}

// Losses are what was lost on every job, and on all of them.
func (r *Runner) Losses() Losses {
	var l Losses
	l.Total.empty()
	for _, id := range r.Jobs() {
		j := r.contribution(id).losses
		l.Jobs = append(l.Jobs, j)
		l.Total.add(&j.Sum)
	}
	return l
}

func (s *Sum) empty() { s.Where, s.Caught = make(map[Stage]int), make(map[Catch]int) }

func (s *Sum) add(o *Sum) {
	s.Handled += o.Handled
	s.Opened += o.Opened
	s.Found += o.Found
	s.Miscount += o.Miscount
	s.PlanWrong += o.PlanWrong
	s.Borrowed += o.Borrowed
	s.WrittenOff += o.WrittenOff
	s.Open += o.Open
	s.Over += o.Over
	s.Broken += o.Broken
	s.OtherEnds += o.OtherEnds
	s.Arrival += o.Arrival
	for _, w := range Stages() {
		if n := o.Where[w]; n > 0 {
			s.Where[w] += n
		}
	}
	for _, c := range Catches() {
		if n := o.Caught[c]; n > 0 {
			s.Caught[c] += n
		}
	}
	s.Days = append(s.Days, o.Days...)
	s.Hours = append(s.Hours, o.Hours...)
	slices.Sort(s.Days)
	slices.Sort(s.Hours)
}

// lossesOf works out the losses of one job.
func lossesOf(id events.Job, j *engine.Job) JobLosses {
	s := j.State()
	l := JobLosses{Job: id, Family: s.Opened.Family}
	l.Sum.empty()
	l.Sum.Handled = handled(s)
	l.Sum.Broken = len(s.Cases())
	for _, a := range j.Intake() {
		l.Sum.Arrival += a.Missing
	}
	c := &catcher{j: j}
	c.milestones()
	for k := 1; k <= s.Book().Entries(); k++ {
		en := s.Book().Entry(ledger.EntryNo(k))
		switch {
		case en.Sign == ledger.Over:
			l.Sum.Over += int(en.Qty)
		case en.Ending == events.NeverThere:
			// it was missing when the engine came
		case otherEnd(s.Book().ItemName(en.Item).Kind):
			l.Sum.OtherEnds += int(en.Qty)
		default:
			loss := c.loss(&en)
			l.Lines = append(l.Lines, loss)
			l.Sum.count(&loss)
		}
	}
	slices.Sort(l.Sum.Days)
	slices.Sort(l.Sum.Hours)
	return l
}

// handled counts the pieces that hands moved from one place to another: not what
// the plan presumed, what was missing on arrival, what a count put right, loans,
// or the ends of broken fasteners.
func handled(s *engine.State) int {
	b, n := s.Book(), 0
	arrived, _ := b.Lookup("outside/arrived")
	for _, p := range b.Log() {
		if !p.Hand || p.From == p.To || p.Fact <= s.Started || p.From == arrived || p.To == arrived {
			continue
		}
		if b.Class(p.From) != ledger.Loan && b.Class(p.To) != ledger.Loan && !otherEnd(b.ItemName(p.Item).Kind) {
			n += int(p.Qty)
		}
	}
	return n
}

// otherEnd says that a kind is the end of a broken fastener, not a whole piece.
func otherEnd(k events.Kind) bool { return strings.HasPrefix(string(k), "other end of ") }

func (s *Sum) count(l *Loss) {
	s.Opened += l.Qty
	s.Open += l.Open
	s.Where[l.Where] += l.Qty
	s.Caught[l.Caught] += l.Qty
	s.Hours = append(s.Hours, l.Hours)
	if l.Ending == "" {
		return
	}
	s.Days = append(s.Days, l.Days)
	switch l.Ending {
	case events.Found, events.Paired:
		s.Found += l.Qty
	case events.Miscount, events.StillIn:
		s.Miscount += l.Qty
	case events.PlanWrong:
		s.PlanWrong += l.Qty
	case events.Borrowed:
		s.Borrowed += l.Qty
	case events.WrittenOff:
		s.WrittenOff += l.Qty
	}
}
