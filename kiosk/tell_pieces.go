package kiosk

import (
	"fmt"
	"slices"
	"strings"

	"countback/events"
	"countback/projections/plan"
)

// pieces tells what happened to fasteners in their holes.
func (t *Telling) pieces(ev events.Event) string {
	switch e := ev.(type) {
	case events.PiecesOut:
		return t.out(e)
	case events.PiecesFitted:
		return t.in(e)
	case events.PiecesParked:
		return t.holes(e.Joint, e.Holes) + " back in finger-tight, to be kept there: not fitted"
	case events.PiecesLoosened:
		return t.holes(e.Joint, e.Holes) + " loose again, in their holes" + howLoosened(e.OutOfTurn, e.Warm)
	case events.StageRecorded:
		return t.stage(e)
	case events.StageRestarted:
		return t.holes(e.Joint, e.Holes) + ": stage " + itoa(e.Stage) + " begun anew; what was turned in it is loose, and goes through all stages again"
	case events.StageAccepted:
		return t.holes(e.Joint, e.Holes) + ": stage " + itoa(e.Stage) + " accepted, " + e.Why
	case events.Counted:
		if joint, ok := strings.CutPrefix(string(e.Place), "joint/"); ok {
			return t.joint(events.Joint(joint)) + ": " + itoa(total(e.Lines)) + " counted in the holes"
		}
	}
	return ""
}

// stage is "Head bolts, hole 3: angle 90 deg, read 88 deg, stage 4 of 4". It is
// finished when its holes are.
func (t *Telling) stage(e events.StageRecorded) string {
	text := t.holes(e.Joint, e.Holes) + ": " + e.What
	if t.st.StudsBy(e.Order) {
		text = t.holes(e.Joint, e.Holes) + ": stud, " + e.What
	}
	empty := !t.st.StudsBy(e.Order) && t.nothingIn(e.Joint, e.Holes)
	switch {
	case e.Read:
		text += ", read " + decimal(e.Value) + " " + e.Unit
	case empty:
		text += " told, and nothing is in"
	default:
		text += " done"
	}
	text += fmt.Sprintf(", stage %d of %d", e.Stage, e.Stages)
	if e.Tool != "" {
		text += ", with " + e.Tool
	}
	if !empty && e.Stage >= e.Stages && t.tight(e.Joint, e.Holes) {
		text += ", finished"
	}
	return text
}

// nothingIn reports whether all of some holes of a joint are empty by the book.
func (t *Telling) nothingIn(joint events.Joint, holes []events.Hole) bool {
	j, ok := t.p.Joint(joint)
	if !ok {
		return false
	}
	named := 0
	for _, ix := range t.p.Joints[j].Seats {
		if len(holes) > 0 && !slices.Contains(holes, t.p.Seats[ix].Hole) {
			continue
		}
		if named++; t.st.Now().Seat(ix) > plan.SeatLoan {
			return false
		}
	}
	return named > 0
}

// tight reports whether holes of a joint are finished, where anything is in
// them.
func (t *Telling) tight(joint events.Joint, holes []events.Hole) bool {
	j, ok := t.p.Joint(joint)
	if !ok {
		return true
	}
	for _, ix := range t.p.Joints[j].Seats {
		if (len(holes) == 0 || slices.Contains(holes, t.p.Seats[ix].Hole)) && t.st.Now().Seat(ix) == plan.SeatFilled {
			return false
		}
	}
	return true
}

func (t *Telling) holes(j events.Joint, holes []events.Hole) string {
	switch len(holes) {
	case 0:
		return t.joint(j)
	case 1:
		return t.joint(j) + ", hole " + string(holes[0])
	}
	list := make([]string, len(holes))
	for i, h := range holes {
		list[i] = string(h)
	}
	return t.joint(j) + ", holes " + joinComma(list)
}

// out is "Front cover to block out and in bag B2KCZ6EE, 17 counted, book says
// 18: one M10x1.5x50 short".
func (t *Telling) out(e events.PiecesOut) string {
	text := t.holes(e.Joint, e.Holes) + " out and loose on this bench"
	if strings.HasPrefix(string(e.To), "bag/") {
		text = t.holes(e.Joint, e.Holes) + " out and bagged in " + strings.TrimPrefix(string(e.To), "bag/")
	} else if e.To != "" {
		text = t.holes(e.Joint, e.Holes) + " out, into " + t.place(e.To)
	}
	switch {
	case len(e.Lines) > 0:
		text += ", " + itoa(total(e.Lines)) + " counted" + t.bookSays(e.Lines)
	case e.All:
		text += ", all of it by your word"
	}
	if len(e.Left) > 0 {
		text += ". Left in: " + t.holeList(e.Left)
	}
	return text + howLoosened(e.OutOfTurn, e.Warm)
}

// howLoosened is what was told of a loosening besides.
func howLoosened(outOfTurn, warm bool) string {
	text := ""
	if outOfTurn {
		text += ", otherwise than the plan orders it: look for warp"
	}
	if warm {
		text += ", while the engine was warm: look for warp"
	}
	return text
}

func (t *Telling) holeList(holes []events.Hole) string {
	list := make([]string, len(holes))
	for i, h := range holes {
		list[i] = string(h)
	}
	return joinComma(list)
}

// bookSays compares a count with the book, once it is in.
func (t *Telling) bookSays(lines []events.Line) string {
	short, over := 0, 0
	var kinds []string
	n := map[string]int{}
	for _, e := range t.Opened {
		kind := t.kind(t.st.Book().ItemName(e.Item).Kind)
		if e.Sign < 0 {
			short += int(e.Qty)
			kind += " short"
		} else {
			over += int(e.Qty)
			kind += " over"
		}
		if n[kind] == 0 {
			kinds = append(kinds, kind)
		}
		n[kind] += int(e.Qty)
	}
	if short+over == 0 {
		return ""
	}
	for _, p := range t.st.Book().Of(t.fact()) { // more than the plan: not of the book until now
		if book := t.st.Book(); book.Path(p.From) == "outside/arrived" && p.Hand {
			over += int(p.Qty)
			kind := t.kind(book.ItemName(p.Item).Kind) + " over"
			if n[kind] == 0 {
				kinds = append(kinds, kind)
			}
			n[kind] += int(p.Qty)
		}
	}
	what := make([]string, len(kinds))
	for i, k := range kinds {
		what[i] = itoa(n[k]) + " " + k
	}
	return ", book says " + itoa(total(lines)+short-over) + ": " + joinAnd(what)
}

// in is "Front cover to block: 18 in by your word".
func (t *Telling) in(e events.PiecesFitted) string {
	n := total(e.Lines)
	if n == 0 {
		n = t.filledNow(e)
	}
	text := t.holes(e.Joint, e.Holes) + ": " + itoa(n) + " in"
	if len(e.Holes) > 1 && len(e.Lines) == 0 {
		text = t.joint(e.Joint) + ": " + itoa(n) + " in"
	}
	switch {
	case e.Trial:
		text += " for a trial: red until out again"
	case e.All && t.Record.Known == events.Claimed:
		text += " by your word"
	case len(e.Lines) > 0:
		text += ", counted" + t.bookSays(e.Lines)
	}
	if e.From != "" && !(e.All && t.Record.Known == events.Claimed) {
		text += ", from " + t.place(e.From)
	}
	return text
}

// lengths says which holes took the longer ones, where two lengths of one
// thread went in: "Long ones: 18, 19, 20, 22".
func (t *Telling) lengths(e events.PiecesFitted) string {
	j, ok := t.p.Joint(e.Joint)
	if !ok || len(e.Holes) == 1 {
		return ""
	}
	byThread := map[string]map[float64][]string{}
	var order []string
	for _, ix := range t.p.Joints[j].Seats {
		m, ok := t.p.Seats[ix].Turned()
		if !ok || m.Stays || m.Spec.LengthMm <= 0 || !inSeat(t.st.Now().Seat(ix)) {
			continue
		}
		thread := m.Spec.Thread.String()
		if byThread[thread] == nil {
			byThread[thread] = map[float64][]string{}
			order = append(order, thread)
		}
		byThread[thread][m.Spec.LengthMm] = append(byThread[thread][m.Spec.LengthMm], string(t.p.Seats[ix].Hole))
	}
	var list []string
	for _, thread := range order {
		longest, holes := 0.0, []string(nil)
		for length, h := range byThread[thread] {
			if length > longest {
				longest, holes = length, h
			}
		}
		if len(byThread[thread]) > 1 {
			list = append(list, "Long "+thread+" in "+joinComma(holes))
		}
	}
	return strings.Join(list, ". ")
}

// sealant says how long the bead under what was fastened may stay open.
func (t *Telling) sealant(e events.PiecesFitted) string {
	j, ok := t.p.Joint(e.Joint)
	if !ok {
		return ""
	}
	for _, ix := range t.p.Joints[j].Seats {
		for _, p := range t.p.Seats[ix].Clamps {
			if s := t.p.Parts[p].Sealant; s.Used && s.OpenTime > 0 {
				return "Sealant: tight within " + itoa(int(s.OpenTime.Minutes())) + " min of the bead"
			}
		}
	}
	return ""
}

// filledNow is how many pieces the fact put in.
func (t *Telling) filledNow(e events.PiecesFitted) int {
	j, ok := t.p.Joint(e.Joint)
	if !ok || t.was == nil || t.was.now.Plan() != t.p {
		return len(e.Holes)
	}
	n := 0
	for _, ix := range t.p.Joints[j].Seats {
		if inSeat(t.st.Now().Seat(ix)) && !inSeat(t.was.now.Seat(ix)) {
			n++
		}
	}
	return n
}

func inSeat(s plan.SeatState) bool { return s >= plan.SeatParked && s != plan.SeatAbsent }
