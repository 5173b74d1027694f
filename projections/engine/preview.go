package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
)

// Effects are what a correction would change.
type Effects struct {
	Opened     []Difference        // that there would be and are not now
	Closed     []Difference        // that there are now and would not be
	Gates      []events.Step       // second counts that would have lost their ground
	Signatures []events.AuditPoint // signed records that were signed over what it changes
	Acted      []string            // what has acted on the world and is not undone
	Notes      []string            // what the fold would note beside
}

// Preview is what a correction would change, before it is confirmed: the job is
// folded a second time with it, and the job itself stays as it is. by is the
// envelope that it would be recorded in; nil: one behind all facts, from
// nobody. Labels that were printed are not known here.
func (j *Job) Preview(c events.Corrected, by *events.Record) Effects {
	r := j.envelope(c, by)
	after := &Job{limits: j.limits, limited: j.limited, clock: j.clock}
	after.Load(append(append(make([]events.Record, 0, len(j.facts)+1), j.facts...), r))
	s, t := j.State(), after.State()
	var e Effects
	was, is := j.Differences(), after.Differences()
	e.Opened, e.Closed = lacking(is, was), lacking(was, is)
	e.Gates = lostGates(s, t)
	at := j.index(c.Wrong)
	for i := range s.signed {
		if sg := &s.signed[i]; at >= 0 && sg.Fact > ledger.Fact(at+1) {
			e.Signatures = append(e.Signatures, sg.Point)
			e.Acted = append(e.Acted, "the record of "+s.nounWords(noun("audit", sg.Point))+" was signed "+s.clock(sg.Fact)+" by "+string(sg.By))
		}
	}
	for _, sl := range s.slips {
		if at >= 0 && sl.Since > ledger.Fact(at+1) && !slices.Equal(j.linesThen(sl, nil), j.linesThen(sl, &r)) {
			e.Acted = append(e.Acted, "slip "+string(sl.Code)+" went out "+s.clock(sl.Since)+to(sl.Shop)+" with the lines of that day")
		}
	}
	e.Notes = newNotes(s, t)
	return e
}

// envelope is a correction as a record behind all facts, or in the envelope
// given.
func (j *Job) envelope(c events.Corrected, by *events.Record) events.Record {
	r := events.Record{Terminal: "preview", N: 1, At: j.LatestAt() + 1, Seen: j.Seen()}
	if by != nil {
		r = *by
	}
	r.Event = c
	return r
}

// lacking lists the differences of a that b does not have.
func lacking(a, b []Difference) []Difference {
	var list []Difference
	for i := range a {
		found := false
		for k := range b {
			found = found || (a[i].Short == b[k].Short && a[i].Kind == b[k].Kind && a[i].Sign == b[k].Sign && a[i].Qty == b[k].Qty && a[i].Place == b[k].Place)
		}
		if !found {
			list = append(list, a[i])
		}
	}
	return list
}

func lostGates(s, t *State) []events.Step {
	passed := make(map[events.Step]bool)
	for _, g := range t.Gates() {
		passed[g.Step] = g.Passed
	}
	var lost []events.Step
	for _, g := range s.Gates() {
		if g.Passed && !passed[g.Step] {
			lost = append(lost, g.Step)
		}
	}
	return lost
}

// linesThen is what was on the parts of a slip when it went out, by the facts up
// to then, the corrections made since, and one more.
func (j *Job) linesThen(sl *Slip, more *events.Record) []events.Line {
	facts := append([]events.Record(nil), j.facts[:sl.Since]...)
	for i := int(sl.Since); i < len(j.facts); i++ {
		if _, ok := j.facts[i].Event.(events.Corrected); ok {
			facts = append(facts, j.facts[i])
		}
	}
	if more != nil {
		facts = append(facts, *more)
	}
	then := &Job{}
	then.Load(facts)
	return then.State().Contents(sl.Parts...)
}

func newNotes(s, t *State) []string {
	var list []string
	for _, n := range t.notes {
		met := false
		for _, o := range s.notes {
			met = met || (o.What == n.What && o.On == n.On && o.Text == n.Text)
		}
		if !met {
			list = append(list, t.nounWords(n.On)+because(n.Text))
		}
	}
	return list
}
