package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// crew works on the Sorrel by the plan, step after step, and tells what it does
// as people at a bench would: every joint counted into its own bag, single-use
// pieces fitted new, a second person at every gate.
type crew struct {
	t    testing.TB
	job  *Job
	name events.Terminal
	who  events.Badge
	n    uint32
	at   int64
	tick int64 // microseconds between two facts
	bags map[events.Joint]events.Code
	slip events.Code
	recs []events.Record
}

func newCrew(t testing.TB) *crew {
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.tell(events.Told, c.ask(OpenJob{Engine: "Sorrel I4-20", Plan: sorrel(t)}))
	return c
}

func (c *crew) s() *State        { return c.job.State() }
func (c *crew) plan() *plan.Plan { return c.job.State().Plan() }

func (c *crew) tell(known events.Known, ev events.Event) Change {
	c.n++
	c.at = max(c.at, c.job.LatestAt()) + c.tick
	r := events.Record{Shop: "hill", Job: "4K7", Terminal: c.name, N: c.n, Time: c.at, At: c.at, Seen: c.job.Seen(), Known: known, Event: ev, Operator: c.who}
	c.recs = append(c.recs, r)
	return c.job.Apply(&r)
}

func (c *crew) told(ev events.Event) Change { return c.tell(events.Told, ev) }

func (c *crew) counted(ev events.Event) Change { return c.tell(events.CountedBlind, ev) }

func (c *crew) ask(cmd Command) events.Event {
	ev, err := c.job.Decide(cmd)
	require.NoError(c.t, err)
	return ev
}

func (c *crew) refused(cmd Command) *Refusal {
	c.t.Helper()
	ev, err := c.job.Decide(cmd)
	require.Nil(c.t, ev)
	var no *Refusal
	require.ErrorAs(c.t, err, &no)
	require.NotEmpty(c.t, no.Fact)
	require.NotEmpty(c.t, no.Next)
	return no
}

func (c *crew) step(id events.Step) plan.StepIndex {
	ix, ok := c.plan().Step(id)
	require.True(c.t, ok, "step %s", id)
	return ix
}

// bagOf is the bag of a joint, labelled when it is first asked for.
func (c *crew) bagOf(j events.Joint) events.Code {
	if b, ok := c.bags[j]; ok {
		return b
	}
	b := events.Code("B2" + string(rune('A'+len(c.bags)/20)) + string(rune('A'+len(c.bags)%20)) + "AAAA")
	c.bags[j] = b
	c.told(events.BagLabelled{Bag: b, Joint: j})
	return b
}

func (c *crew) byJoint(seats []plan.SeatIndex, do func(j events.Joint, holes []events.Hole, lines []events.Line)) {
	p, s := c.plan(), c.s()
	for ji := range p.Joints {
		var holes []events.Hole
		var lines []events.Line
		for _, ix := range seats {
			if p.Seats[ix].Joint != plan.JointIndex(ji) || s.Now().Seat(ix) == plan.SeatAbsent {
				continue
			}
			holes = append(holes, p.Seats[ix].Hole)
			for _, m := range p.Seats[ix].Members {
				if !m.Stays {
					lines = addLine(lines, m.Kind)
				}
			}
		}
		if len(holes) > 0 {
			do(p.Joints[ji].ID, holes, lines)
		}
	}
}

func addLine(lines []events.Line, k events.Kind) []events.Line {
	for i := range lines {
		if lines[i].Kind == k {
			lines[i].Qty++
			return lines
		}
	}
	return append(lines, events.Line{Kind: k, Qty: 1})
}

// do plays one step of the plan.
func (c *crew) do(id events.Step) {
	p, step := c.plan(), &c.plan().Steps[c.step(id)]
	c.at += step.Wait.Microseconds()
	loans := func(list []plan.LoanIndex, tell func(l *plan.Loan)) {
		for _, l := range list {
			tell(&p.Loans[l])
		}
	}
	in := func(l *plan.Loan) { c.told(events.LoanIn{Loan: l.ID, Count: max(1, l.Count)}) }
	out := func(l *plan.Loan) {
		if st, ok := c.s().loans[l.ID]; ok && st.In > 0 {
			c.told(events.LoanOut{Loan: l.ID, Count: st.In})
		}
	}
	loans(step.LoanOut, out)
	if step.Turns && len(step.Sets) == 0 {
		c.told(events.ActDone{Act: events.Turning})
	}
	if step.Cranks {
		c.told(events.ActDone{Act: events.Cranking})
	}
	loans(step.LoanDuring, in)
	loans(step.LoanDuring, out)
	c.apart(step)
	c.together(step)
	c.readDepths()
	for _, m := range step.Sets {
		c.told(events.MarkMade{Mark: p.Marks[m].ID})
	}
	loans(step.LoanIn, in)
	if step.Gate != plan.None {
		c.pass(id)
	}
}

func (c *crew) apart(step *plan.Step) {
	p := c.plan()
	var on []plan.PartIndex
	for _, r := range step.Removes {
		if st := c.s().Now().Part(r); st == plan.PartOn || st == plan.PartPartly {
			on = append(on, r)
		}
	}
	c.byJoint(step.TakesOut, func(j events.Joint, holes []events.Hole, lines []events.Line) {
		c.counted(events.PiecesOut{Joint: j, Holes: holes, To: events.Place("bag/" + c.bagOf(j)), Lines: lines, All: true})
	})
	c.byJoint(step.Parks, func(j events.Joint, holes []events.Hole, _ []events.Line) {
		c.told(events.PiecesOut{Joint: j, Holes: holes})
		c.told(events.PiecesParked{Joint: j, Holes: holes})
	})
	for _, r := range on {
		to := events.Place("place/shelf")
		if len(p.Parts[r].Positions) > 1 && p.Parts[r].OwnSeat != plan.AnySeat {
			to = events.Place("rack/R" + events.Place(p.Parts[r].ID))
		}
		c.counted(events.PartRemoved{Part: p.Parts[r].ID, To: to, Counted: p.Parts[r].Count})
	}
	for _, d := range step.Drains {
		c.told(events.FluidChanged{Cavity: p.Cavities[d].ID, State: events.Drained})
	}
	for _, part := range step.SendsOut {
		c.slip = "S2AAAAAA"
		c.told(events.SentOut{Slip: c.slip, Parts: []events.Part{p.Parts[part].ID}, Shop: "the machine shop"})
	}
}

func (c *crew) together(step *plan.Step) {
	p := c.plan()
	if len(step.TakesBack) > 0 {
		c.counted(events.Returned{Slip: c.slip})
		for _, part := range step.TakesBack {
			c.told(events.LookedOver{Parts: []events.Part{p.Parts[part].ID}})
		}
	}
	for _, f := range step.Fits {
		if st := c.s().Now().Part(f); st == plan.PartOff || st == plan.PartPartly {
			c.told(events.PartFitted{Part: p.Parts[f].ID, From: c.from(f)})
		}
	}
	c.byJoint(step.Fastens, c.fasten)
	c.byJoint(step.Trial, func(j events.Joint, holes []events.Hole, lines []events.Line) {
		c.told(events.PiecesFitted{Joint: j, Holes: holes, From: c.fromBag(j), All: true, Trial: true})
		c.counted(events.PiecesOut{Joint: j, Holes: holes, To: events.Place("bag/" + c.bagOf(j)), Lines: lines, All: true})
	})
	for _, f := range step.Fills {
		c.told(events.FluidChanged{Cavity: p.Cavities[f].ID, State: events.Filled})
	}
}

// fasten fits the holes of a joint hole by hole where its pieces come from two
// places, and tightens them to the end.
func (c *crew) fasten(j events.Joint, holes []events.Hole, _ []events.Line) {
	c.told(events.PiecesFitted{Joint: j, Holes: holes, From: c.fromBag(j), All: true})
	stages := 1
	for _, h := range holes {
		ix, _ := c.plan().Hole(j, h)
		stages = max(stages, c.s().stagesOf(ix))
	}
	for n := 1; n <= stages; n++ {
		c.told(events.StageRecorded{Joint: j, Holes: holes, Stage: n, Stages: stages, What: "torque 10 N.m"})
	}
}

// fromBag is where the pieces of a joint come from: its bag, where all that is
// wanted is in it and may be used again; anywhere otherwise.
func (c *crew) fromBag(j events.Joint) events.Place {
	ji, _ := c.plan().Joint(j)
	for _, ix := range c.plan().Joints[ji].Seats {
		for _, m := range c.plan().Seats[ix].Members {
			if m.Reuse.Single() {
				return ""
			}
		}
	}
	if len(c.s().At(events.Place("bag/"+c.bagOf(j)))) == 0 {
		return ""
	}
	return events.Place("bag/" + c.bagOf(j))
}

func (c *crew) from(p plan.PartIndex) events.Place {
	pt := &c.plan().Parts[p]
	if pt.Reuse.Single() {
		return "stock/box"
	}
	if len(pt.Positions) > 1 && pt.OwnSeat != plan.AnySeat {
		return events.Place("rack/R" + events.Place(pt.ID))
	}
	return ""
}

// pass counts a step blind by the second person.
func (c *crew) pass(id events.Step) {
	ix := c.step(id)
	ev := c.ask(CheckBySecond{Step: id, Second: "Ole", Total: c.s().toCount(ix)})
	if ev == nil {
		return
	}
	require.True(c.t, ev.(events.SecondChecked).Agreed)
	c.counted(ev)
}

// takeApart does every off and apart step that can be done, the optional ones
// left out, once and in the plan's order, and gives what it did.
func (c *crew) takeApart() (did []events.Step) {
	for again := true; again; {
		again = false
		for _, n := range c.job.WhatNow() {
			if n.Section.Apart() && n.State == CanStart && !n.Optional && !contains(did, n.Step) {
				c.do(n.Step)
				did = append(did, n.Step)
				again = true
				break
			}
		}
	}
	return did
}

// buy receives new pieces for every single-use one of the plan, and measures
// what may only go in again when it was measured.
func (c *crew) buy() {
	p, need := c.plan(), map[events.Kind]int{}
	var kinds []events.Kind
	add := func(k events.Kind, n int) {
		if need[k] == 0 {
			kinds = append(kinds, k)
		}
		need[k] += n
	}
	for i := range p.Seats {
		for _, m := range p.Seats[i].Members {
			if m.Reuse.Single() && !m.Stays {
				add(m.Kind, m.Count)
			}
		}
	}
	for i := range p.Parts {
		if p.Parts[i].Reuse.Single() {
			add(events.Kind(p.Parts[i].ID), p.Parts[i].Count)
		}
	}
	var lines []events.Line
	for _, k := range kinds {
		lines = append(lines, events.Line{Kind: k, Qty: need[k]})
	}
	c.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "stock/box", Lot: "box", Lines: lines})
	c.measure()
}

// measure finds everything good that has to be measured.
func (c *crew) measure() {
	p, s := c.plan(), c.s()
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if !usable(s.book.Class(id)) {
			continue
		}
		for _, l := range s.contents(id) {
			if l.Cond == events.AsFound && measuredKind(p, l.Kind) {
				c.told(events.ConditionChanged{Place: s.book.Path(id), Lines: []events.Line{{Kind: l.Kind, Qty: l.Qty}}, Cond: events.MeasuredGood})
			}
		}
	}
}

// build does every step that puts together, one left out if it is named, in the
// order in which they can be done; a step is done again only where nothing else
// is left. It gives what it did.
func (c *crew) build(without ...events.Step) (did []events.Step) {
	c.chooseEditions()
	for {
		next := events.Step("")
		for _, n := range c.job.WhatNow() {
			if n.Section.Apart() || n.State != CanStart || n.Optional || contains(without, n.Step) {
				continue
			}
			if !contains(did, n.Step) {
				next = n.Step
				break
			}
			if next == "" && c.voided(n.Step) {
				next = n.Step
			}
		}
		if next == "" {
			return did
		}
		c.do(next)
		did = append(did, next)
		c.measure()
	}
}

// readDepths tells of every part that was pressed in how deep it is, in the middle
// of its limits.
func (c *crew) readDepths() {
	for _, u := range c.s().unpressed() {
		for _, pos := range u.Positions {
			n, _ := c.job.NextPress(u.Part, []events.Hole{pos})
			least, most, _ := n.Range()
			c.told(events.PartPressed{Part: u.Part, Positions: n.Holes, Order: n.Order, Stage: n.Stage, What: n.What, Value: (least + most) / 2, Unit: "mm", Read: true})
		}
	}
}

// chooseEditions lets the last edition of every list count that has several.
func (c *crew) chooseEditions() {
	s := c.s()
	for li := range s.lay.lists {
		if l := &s.lay.lists[li]; len(l.Editions) > 1 && c.s().tight.lists[li].choice == 0 {
			c.told(events.EditionChosen{Order: l.ID, Choice: len(l.Editions), Signed: "Marit", Why: "the newest"})
		}
	}
}

// voided says whether a step only sets marks that were voided again.
func (c *crew) voided(id events.Step) bool {
	step := &c.plan().Steps[c.step(id)]
	return !leavesMetal(step) && len(step.Sets) > 0 && len(step.LoanIn) == 0
}

func measuredKind(p *plan.Plan, k events.Kind) bool {
	for i := range p.Seats {
		for _, m := range p.Seats[i].Members {
			if m.Kind == k && m.Reuse.Rule == plan.ReuseMeasure {
				return true
			}
		}
	}
	return false
}

func find(t testing.TB, list []StepNow, id events.Step) StepNow {
	t.Helper()
	for _, n := range list {
		if n.Step == id {
			return n
		}
	}
	t.Fatalf("no step %s", id)
	return StepNow{}
}
