package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"countback/events"
	"countback/projections/plan"
)

// putIn fills the empty holes of a joint from its own bags first, then from
// the stock; what is single-use only from what is new.
func (r *routine) putIn(j events.Joint) {
	for _, from := range r.containers(string(j)) {
		kinds := r.job().State().SizesOut(j)
		counts := make([]string, len(kinds))
		some := false
		for i, k := range kinds {
			n := min(r.wanted(j, k), r.usable(from, k, r.single(j, k)))
			counts[i], some = itoa(n), some || n > 0
		}
		if some {
			r.say(noun(from), "joint "+string(j))
			r.say(counts...)
			if bag, ok := strings.CutPrefix(string(from), "bag/"); ok && len(r.job().State().At(from)) == 0 {
				r.say("bag "+bag, "EMPTY")
			}
		}
	}
}

// joint fills a joint that no step fastens, to its last stage.
func (r *routine) joint(j events.Joint) {
	r.putIn(j)
	ix, _ := r.plan().Joint(j)
	r.stages(j, r.plan().Joints[ix].Seats)
}

// measure finds what lies in the bag of a joint, and has to be measured before
// it is used again, to be good.
func (r *routine) measure(j events.Joint) {
	for _, p := range r.containers(string(j)) {
		for _, l := range r.job().State().At(p) {
			if l.Cond != events.AsFound || !r.measured(j, l.Kind) || r.wanted(j, l.Kind) == 0 {
				continue
			}
			r.say(noun(p), "size "+string(l.Kind), itoa(l.Qty), "MEASURED GOOD")
		}
	}
}

// measured reports whether a kind may be used again if a measurement allows it.
func (r *routine) measured(j events.Joint, k events.Kind) bool {
	ix, _ := r.plan().Joint(j)
	for _, seat := range r.plan().Joints[ix].Seats {
		for _, m := range r.plan().Seats[seat].Members {
			if m.Kind == k {
				return m.Reuse.Rule == plan.ReuseMeasure
			}
		}
	}
	return false
}

// scrap throws away every piece that was used up by coming out. The bag of the
// phasers is left, for somebody to take a bolt from it.
func (r *routine) scrap() {
	p := r.plan()
	for i := range p.Parts {
		part := &p.Parts[i]
		at := r.job().State().PartAt(part.ID)
		if part.Reuse.Single() && at != "" && r.usable(at, events.Kind(part.ID), false) > 0 {
			r.say("part "+string(part.ID), "SCRAP")
		}
	}
	for _, b := range r.job().State().Bags() {
		for _, l := range r.job().State().At(b.Place()) {
			if j := r.jointOf(l.Kind); j != "" && j != "phasers" && l.Cond == events.AsFound {
				r.say("bag "+string(b.Code), "size "+string(l.Kind), itoa(l.Qty), "SCRAP")
			}
		}
	}
}

// jointOf is a joint in which a kind is single-use; empty if it is in none.
func (r *routine) jointOf(k events.Kind) events.Joint {
	p := r.plan()
	for i := range p.Seats {
		for _, m := range p.Seats[i].Members {
			if m.Kind == k && m.Reuse.Single() {
				return p.Joints[p.Seats[i].Joint].ID
			}
		}
	}
	return ""
}

// noun is a place as it is typed.
func noun(p events.Place) string { return strings.Replace(string(p), "/", " ", 1) }

// bagOf is the bag that holds most of what the holes of a joint want.
func (r *routine) bagOf(j events.Joint) string {
	best, most := "", 0
	for _, p := range r.containers(string(j)) {
		n := 0
		for _, k := range r.job().State().SizesOut(j) {
			n += min(r.wanted(j, k), r.usable(p, k, r.single(j, k)))
		}
		if strings.HasPrefix(string(p), "bag/") && n > most {
			best, most = noun(p), n
		}
	}
	return best
}

// containers are the places that may have pieces for a joint or a part: those
// labelled for it, then the stocks, then every other bag.
func (r *routine) containers(name string) []events.Place {
	var own, stock, other []events.Place
	s := r.job().State()
	for _, b := range s.Bags() {
		if b.Retired != 0 {
			continue
		}
		if string(b.Joint) == name || string(b.Part) == name {
			own = append(own, b.Place())
		} else {
			other = append(other, b.Place())
		}
	}
	for i := range r.job().Facts() {
		var to events.Place
		switch e := r.job().Facts()[i].Event.(type) {
		case events.HardwareReceived:
			to = e.To
		case events.KitOpened:
			to = e.To
		}
		if strings.HasPrefix(string(to), "stock/") && !slices.Contains(stock, to) {
			stock = append(stock, to)
		}
	}
	slices.Reverse(own)
	return slices.Concat(own, stock, other)
}

// wanted is how many pieces of a kind the holes of a joint lack, by the book.
func (r *routine) wanted(j events.Joint, k events.Kind) int {
	n := 0
	p := r.plan()
	ix, _ := p.Joint(j)
	hosts := map[plan.PartIndex]bool{}
	for _, seat := range p.Joints[ix].Seats[:p.Joints[ix].Own] {
		if r.now().Seat(seat) == plan.SeatAbsent {
			continue
		}
		for _, m := range p.Seats[seat].Members {
			if m.Kind == k {
				n++
			}
		}
		hosts[p.Seats[seat].Host] = true
	}
	for host := range hosts {
		for one := range 9 { // the head that came back may be another one
			in := fmt.Sprintf("fitted/%s %d/%s", p.Parts[host].ID, one+1, j)
			n -= r.usable(events.Place(in), k, false)
		}
	}
	return n
}

// single reports whether a kind has to be new in a joint.
func (r *routine) single(j events.Joint, k events.Kind) bool {
	p := r.plan()
	ix, _ := p.Joint(j)
	for _, seat := range p.Joints[ix].Seats {
		for _, m := range p.Seats[seat].Members {
			if m.Kind == k {
				return m.Reuse.Single() || m.Reuse.Rule == plan.ReuseNewIfOut
			}
		}
	}
	return false
}

// usable is how many pieces of a kind in a place may go in.
func (r *routine) usable(at events.Place, k events.Kind, fresh bool) int {
	n := 0
	for _, l := range r.job().State().At(at) {
		switch {
		case l.Kind != k, l.Cond == events.Condemned, l.Cond == events.Sample:
		case fresh && l.Cond != events.New:
		default:
			n += l.Qty
		}
	}
	return n
}

// putOn puts a part on: a new one where the old one is used up by coming off.
func (r *routine) putOn(ix plan.PartIndex) {
	part := &r.plan().Parts[ix]
	if st := r.now().Part(ix); st == plan.PartOn || st == plan.PartAbsent {
		return
	}
	words := []string{"part " + string(part.ID)}
	if part.Reuse.Single() {
		for _, from := range r.containers(string(part.ID)) {
			if r.usable(from, events.Kind(part.ID), true) >= part.Count {
				words = append(words, noun(from))
				break
			}
		}
	}
	r.say(append(words, "ON")...)
	if part.WayRound != "" && part.Count == 1 {
		r.say("OK")
	}
	r.depths(part.ID)
}

// depths reads how deep a part was pressed in, position by position.
func (r *routine) depths(part events.Part) {
	for range 20 {
		n, ok := r.job().NextPress(part, nil)
		if !ok {
			return
		}
		least, most, _ := n.Range()
		r.say("part "+string(part), "STAGE", strconv.FormatFloat((least+most)/2, 'f', -1, 64))
	}
}

// stages tightens the holes of a joint that a step fastens, stage by stage,
// until nothing is due.
func (r *routine) stages(j events.Joint, seats []plan.SeatIndex) {
	open := func() bool {
		for _, ix := range seats {
			if r.plan().Joints[r.plan().Seats[ix].Joint].ID == j && r.now().Seat(ix) == plan.SeatFilled {
				return true
			}
		}
		return false
	}
	for range 20 {
		if !open() {
			return
		}
		n, _ := r.job().NextStage(j, nil)
		r.stageWants(n.Wrong)
		if least, most, known := n.Range(); known && n.Kind == "stretch" {
			r.byReading(j, n.Holes, (least+most)/2)
			continue
		}
		r.say("joint "+string(j), "STAGE")
	}
}

// stageWants puts in or takes out the loan that a stage wants first.
func (r *routine) stageWants(why string) {
	for i := range r.plan().Loans {
		l := &r.plan().Loans[i]
		in := r.now().Loan(plan.LoanIndex(i)) > 0
		switch {
		case in && strings.Contains(why, l.Name+" out"):
			r.say("loan "+string(l.ID), "OUT")
		case !in && strings.Contains(why, l.Name+" in"):
			r.say("loan "+string(l.ID), "IN")
		}
	}
}

// byReading tells a stage that is done by what is read, hole by hole.
func (r *routine) byReading(j events.Joint, holes []events.Hole, mm float64) {
	if len(holes) == 0 {
		ix, _ := r.plan().Joint(j)
		for _, s := range r.plan().Joints[ix].Seats {
			holes = append(holes, r.plan().Seats[s].Hole)
		}
	}
	for _, h := range holes {
		r.say("joint "+string(j), "hole "+string(h), "STAGE", strconv.FormatFloat(mm, 'g', 4, 64))
	}
}

// buy receives everything new that the steps on still miss.
func (r *routine) buy(supplier, lot string) {
	type order struct {
		kind events.Kind
		n    int
	}
	var orders []order
	for _, f := range r.job().Missing() {
		if f.Missing == 0 {
			continue
		}
		i := slices.IndexFunc(orders, func(o order) bool { return o.kind == f.Kind })
		if i < 0 {
			orders = append(orders, order{kind: f.Kind})
			i = len(orders) - 1
		}
		orders[i].n += f.Missing
	}
	for _, o := range orders {
		what := "size " + string(o.kind)
		if _, isPart := r.plan().Part(events.Part(o.kind)); isPart {
			what = "part " + string(o.kind)
		}
		r.say("supplier "+supplier, "stock "+lot, "RECEIVED", what, itoa(o.n))
	}
}
