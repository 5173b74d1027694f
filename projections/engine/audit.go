package engine

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Audit is how the job stands at one audit point.
type Audit struct {
	Point     events.AuditPoint
	Name      string
	Signs     int        // persons that sign: 0 to 2
	Red       []RedLine  // must be green, or overridden, before it is signed
	Carried   []RedLine  // falls due at a later point; carried on the record
	Overrides []string   // what second persons let pass; stays on every later record
	Record    string     // the whole record as text; the same facts give the same text
	Hash      string     // SHA-256 of Record, 64 hexadecimal digits
	Signed    *Signature // the last signature over this point that still stands; nil: none
}

// What a red line of an audit is about, beside those of Red.
const (
	RedPart      = "part-off"
	RedSeat      = "seat-not-finished"
	RedCavity    = "cavity-open"
	RedInside    = "not-looked-into"
	RedDue       = "due-later"
	RedCondition = "condition"
	RedEdition   = "edition-not-chosen"
)

// The audit points of a job whose plan has none: ready to start, and released.
var usualPoints = []plan.AuditPoint{
	{ID: "ready-to-start", Name: "Ready to start", Signs: 1,
		Needs: []plan.AuditNeed{plan.PartsOn, plan.SeatsFinished, plan.StoppingLoansOut, plan.CavitiesClosed, plan.NoDifferenceInside}},
	{ID: "released", Name: "Released", Signs: 2,
		Needs: []plan.AuditNeed{plan.DuesMet, plan.AllLoansOut, plan.NoDifference}},
}

// AuditPoints lists the audit points of this job in their order: the plan's,
// or the usual two.
func (s *State) AuditPoints() []plan.AuditPoint {
	if len(s.lay.plan.AuditPoints) > 0 {
		return s.lay.plan.AuditPoints
	}
	return usualPoints
}

// NextAudit is the first audit point that is not signed, or whose ground work
// done since took away. false: all are signed.
func (j *Job) NextAudit() (events.AuditPoint, bool) {
	s := j.State()
	for _, p := range s.AuditPoints() {
		if s.signature(p.ID) == nil {
			return p.ID, true
		}
	}
	return "", false
}

// Audit is how the job stands at an audit point: what is red there, what is
// carried to a later one, and the record that a signature signs. Every line has
// the first point at which it is red. Rule R27. false: the job has no such
// point.
func (j *Job) Audit(point events.AuditPoint) (Audit, bool) {
	s := j.State()
	points := s.AuditPoints()
	at := -1
	for i := range points {
		if points[i].ID == point {
			at = i
		}
	}
	if at < 0 {
		return Audit{}, false
	}
	a := Audit{Point: point, Name: points[at].Name, Signs: points[at].Signs, Signed: s.signature(point)}
	if a.Name == "" {
		a.Name = string(point)
	}
	for _, l := range s.auditLines(points, at) {
		if l.due <= at {
			a.Red = append(a.Red, l.RedLine)
		} else {
			a.Carried = append(a.Carried, l.RedLine)
		}
	}
	for i := range s.passes {
		o := &s.passes[i]
		a.Overrides = append(a.Overrides, s.clock(o.Fact)+": "+s.nounWords(o.Ask)+" let pass by "+string(o.Second)+", "+o.Why)
	}
	a.Record = s.record(&a, points)
	sum := sha256.Sum256([]byte(a.Record))
	a.Hash = hex.EncodeToString(sum[:])
	return a, true
}

// auditLine is a red line with the number of the first point at which it is
// red; a number behind the last point is never red, only carried.
type auditLine struct {
	RedLine
	due int
}

// auditLines gathers every line that is red at some point, and says where.
func (s *State) auditLines(points []plan.AuditPoint, at int) []auditLine {
	c := &auditList{s: s, points: points}
	c.due = func(need plan.AuditNeed) int {
		for i := range points {
			for _, n := range points[i].Needs {
				if n == need {
					return i
				}
			}
		}
		return len(points)
	}
	c.parts()
	c.studs()
	c.seats()
	c.learned()
	c.editions()
	c.presses()
	c.cavities()
	for i := 0; i <= at; i++ {
		c.conditions(i)
	}
	for _, l := range s.job.Red() {
		c.redLine(l)
	}
	c.dues()
	c.obligations()
	return c.lines
}

type auditList struct {
	s      *State
	points []plan.AuditPoint
	lines  []auditLine
	due    func(plan.AuditNeed) int
}

func (c *auditList) add(due int, code string, since ledger.Fact, text, scan string) {
	c.lines = append(c.lines, auditLine{RedLine{Code: code, Text: text, Scan: scan, Since: since}, due})
}

func (c *auditList) parts() {
	s, due := c.s, c.due(plan.PartsOn)
	for i := range s.lay.plan.Parts {
		ix, pt := plan.PartIndex(i), &s.lay.plan.Parts[i]
		state := s.now.Part(ix)
		if state == plan.PartOn || state == plan.PartAbsent {
			continue
		}
		text := pt.Name + ": off"
		switch {
		case s.partLeft(ix):
			text = pt.Name + ": off, and thrown away"
		case state == plan.PartAway:
			text = pt.Name + ": away"
		case state == plan.PartPartly:
			text = pt.Name + ": only partly on"
		}
		c.add(due, RedPart, s.parts[i].changed, text, s.sayPart(ix, plan.IsOn))
	}
}

func (c *auditList) seats() {
	s, due := c.s, c.due(plan.SeatsFinished)
	for _, w := range [...]struct {
		text, some, all string
		is              func(plan.SeatState, plan.SeatIndex) bool
	}{
		{"empty", "IN", "ALL IN", func(st plan.SeatState, ix plan.SeatIndex) bool {
			return st <= plan.SeatLoan && !studless(&s.seats[ix], &s.lay.seats[ix])
		}},
		{"in, and not with all its pieces", "IN", "ALL IN", func(st plan.SeatState, ix plan.SeatIndex) bool {
			return (st == plan.SeatFilled || st == plan.SeatFinished) && s.seats[ix].in != s.lay.seats[ix].full
		}},
		{"in, not tightened to the end", "STAGE", "STAGE", func(st plan.SeatState, _ plan.SeatIndex) bool { return st == plan.SeatFilled }},
	} {
		var list []plan.SeatIndex
		for i := range s.seats {
			if ix := plan.SeatIndex(i); s.lay.seats[i].full != 0 && w.is(s.now.Seat(ix), ix) {
				list = append(list, ix)
			}
		}
		for len(list) > 0 {
			n := 1
			for n < len(list) && s.lay.plan.Seats[list[n]].Joint == s.lay.plan.Seats[list[0]].Joint {
				n++
			}
			text, scan := w.text, s.sayHoles(list[:n], w.some, w.all)
			if what, how := s.missingStage(list[:n]); what != "" && w.some == "STAGE" {
				text, scan = text+": "+what, how
			}
			c.add(due, RedSeat, s.seats[list[0]].changed, s.lay.plan.SeatNames(list[:n])+": "+text, scan)
			list = list[n:]
		}
	}
}

func (c *auditList) cavities() {
	s := c.s
	for i := range s.lay.plan.Cavities {
		if ix := plan.CavityIndex(i); s.now.Open(ix) {
			c.add(c.due(plan.CavitiesClosed), RedCavity, 0, s.cavityWords(ix)+": open", s.closing(ix))
		}
	}
	for _, sp := range s.suspects() {
		for _, ix := range sp.cavities {
			c.add(min(c.due(plan.NoDifferenceInside), c.due(plan.CavitiesClosed)), RedInside, sp.entry.Shown,
				s.cavityWords(ix)+" may hold "+s.shortWords(&sp.entry), s.lookInto(ix))
		}
	}
}

// closing is what to scan when a cavity is closed.
func (s *State) closing(ix plan.CavityIndex) string {
	closed := plan.Condition{Op: plan.OfCavity, Cavity: ix, Is: plan.IsClosed}
	for _, u := range closed.Explain(s.now) {
		return s.sayCondition(&u)
	}
	return say("cavity "+string(s.lay.plan.Cavities[ix].ID), "CLOSED")
}

// conditions adds what an audit point asks of the present state.
func (c *auditList) conditions(at int) {
	for _, u := range c.points[at].When.Explain(c.s.now) {
		b := c.s.unmet(&u)
		c.add(at, RedCondition, 0, b.Text, b.Clear)
	}
}

// redLine says at which point a line of Red is red.
func (c *auditList) redLine(l RedLine) {
	last := len(c.points) - 1
	due := 0
	switch l.Code {
	case RedShort, RedOver, RedDisagreement, RedOtherEnd:
		due = c.due(plan.NoDifference)
	case RedLoan:
		due = c.loanDue(l)
	case RedTool:
		due = min(c.due(plan.StoppingLoansOut), c.due(plan.AllLoansOut), last)
	case RedSlip, RedRunRead, RedObligation, RedMixed, RedFoundOdd, RedNoSuch, RedOld,
		RedCoreVoid, RedOwner, RedWish:
		due = last
	case RedCore:
		due = last + 1
	case RedReopened:
		due = last + 1 // a new signature answers it
	case RedUnseen:
		if c.answeredBySigning(l) {
			due = last + 1
		}
	}
	c.lines = append(c.lines, auditLine{l, due})
}

// answeredBySigning says whether signing is what answers a line: an audit or an
// end of the job that passed without knowing is passed again.
func (c *auditList) answeredBySigning(l RedLine) bool {
	for i := range c.s.notes {
		if n := &c.s.notes[i]; n.What == Unseen && n.Fact == l.Since {
			if typ, _ := cutNoun(n.On); typ == "audit" || typ == "job" {
				return true
			}
		}
	}
	return false
}

// loanDue is the first point that a loan stops: named by the loan, or asking for
// all loans out, where harmless ones may stay in.
func (c *auditList) loanDue(l RedLine) int {
	s := c.s
	for i := range c.points {
		for id, st := range s.loans {
			if st.Since == l.Since && st.In > 0 && l.Text == s.loanIsIn(id, st) && s.loanStops(id, &c.points[i], i) {
				return i
			}
		}
	}
	return len(c.points)
}

func (s *State) loanStops(id events.Loan, p *plan.AuditPoint, at int) bool {
	ix, ok := s.lay.plan.Loan(id)
	if ok && at == s.startPoint() {
		for _, act := range s.lay.plan.Loans[ix].Stops.Acts {
			if act == plan.Turning || act == plan.Cranking {
				return true // who cranks it with this in breaks something
			}
		}
	}
	for _, n := range p.Needs {
		switch n {
		case plan.AllLoansOut:
			return !ok || !s.lay.plan.Loans[ix].Harmless
		case plan.StoppingLoansOut:
			if !ok {
				return true // the plan does not know it: it may stop anything
			}
			if i, planned := s.lay.plan.AuditPoint(p.ID); planned && contains(s.lay.plan.Loans[ix].Stops.Audits, i) {
				return true
			}
			if !s.lay.plan.Loans[ix].Harmless && len(s.lay.plan.AuditPoints) == 0 {
				return true
			}
		}
	}
	if i, planned := s.lay.plan.AuditPoint(p.ID); ok && planned {
		return contains(s.lay.plan.Loans[ix].Stops.Audits, i)
	}
	return false
}

// startPoint is the audit point that the first start hangs on: the one that a
// step that cranks waits for, else the first that asks for stopping loans out.
// -1: there is none.
func (s *State) startPoint() int {
	for i := range s.lay.plan.Steps {
		if step := &s.lay.plan.Steps[i]; step.Cranks && step.Audit != plan.None {
			return int(step.Audit)
		}
	}
	return slices.IndexFunc(s.AuditPoints(), func(p plan.AuditPoint) bool {
		return slices.Contains(p.Needs, plan.StoppingLoansOut)
	})
}

// dues lists the stages that fall due later and were not recorded.
func (c *auditList) dues() {
	for _, d := range c.s.Dues() {
		c.add(c.due(plan.DuesMet), RedDue, 0, c.s.holesWords(d.Joint, d.Holes)+": "+d.What, "then "+sayJoint(d.Joint, d.Holes, "STAGE"))
	}
}
