package engine

import (
	"strings"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// What clears a reason or a red line is said as people scan it. In such a text a
// sentence of the grammar begins with the word "scan" and ends with a semicolon
// or the text: "look into it; scan cavity sump, LOOKED". Nouns have their type
// before them, so that they can be typed as they stand; numbers stands for the
// numbers that are counted.

// say is what to scan: the nouns, then the verb.
func say(scans ...string) string { return "scan " + strings.Join(scans, ", ") }

// orSay joins ways of which any will do.
func orSay(ways ...string) string {
	var list []string
	for _, w := range ways {
		if w != "" && !contains(list, w) {
			list = append(list, w)
		}
	}
	return strings.Join(list, "; or ")
}

// Sentences are the sentences that a text says to scan, each as its scans in
// their order.
func Sentences(text string) [][]string {
	var list [][]string
	for _, one := range strings.Split(text, ";") {
		words := " " + strings.TrimSpace(one)
		if at := strings.LastIndex(words, " scan "); at >= 0 {
			list = append(list, strings.Split(words[at+len(" scan "):], ", "))
		}
	}
	return list
}

// scansOf are the sentences of a text as they are said, for reports.
func ScansOf(text string) []string {
	list := []string{}
	for _, s := range Sentences(text) {
		list = append(list, strings.Join(s, ", "))
	}
	return list
}

// placeNouns names a place as it is scanned: "rack R2ABCDEF", "position 1Ia". A
// joint or part of which pieces lie loose on a bench comes behind the bench.
func placeNouns(p events.Place) []string {
	word, rest, _ := strings.Cut(string(p), "/")
	switch word {
	case "rack":
		if code, pos, ok := strings.Cut(rest, "/"); ok {
			return []string{"rack " + code, "position " + pos}
		}
	case "bench":
		bench, about, ok := strings.Cut(rest, "/")
		if !ok || about == "" {
			return []string{"bench " + bench}
		}
		if typ, id := cutNoun(about); typ == "part" {
			return []string{"part " + id}
		}
		return []string{"bench " + bench, "joint " + about}
	}
	if tray, ok := strings.CutPrefix(string(p), trayPrefix); ok && tray != "" {
		return []string{"tray " + tray}
	}
	return []string{word + " " + rest}
}

// countAgain is how a place is counted: a container by its numbers, what lies
// loose of a joint by a look at the bench.
func (s *State) countAgain(p events.Place) string {
	nouns := placeNouns(p)
	typ, id := cutNoun(nouns[len(nouns)-1])
	switch word, rest, _ := strings.Cut(string(p), "/"); {
	case word == "fitted", word == "stub":
		_, name, _ := strings.Cut(rest, "/")
		if _, ok := s.lay.plan.Joint(events.Joint(name)); ok {
			return say("joint "+name, "COUNT")
		}
		return say("part "+name, "numbers")
	case word == "slip":
		return say("slip "+rest, "BACK")
	case typ == "part":
		return say(nouns[0], "numbers")
	case typ == "joint":
		if _, ok := s.lay.plan.Joint(events.Joint(id)); !ok {
			return say(nouns[0], "SWEPT") // what was found lies on it
		}
		return say(append(nouns, "SWEPT")...)
	case typ == "position":
		return say(nouns[0], nouns[1], "EMPTY")
	case typ == "bag", typ == "rack", typ == "place", typ == "stock", typ == "bench", typ == "tray":
		return say(nouns[0], "COUNT")
	}
	return "count it"
}

// sayHoles is one sentence for the holes of each joint: the joint alone where
// all of its holes are meant, its holes by name where some are.
func (s *State) sayHoles(seats []plan.SeatIndex, some, all string) string {
	var list []string
	for n := 0; len(seats) > 0; seats = seats[n:] {
		j := s.lay.plan.Seats[seats[0]].Joint
		scans := []string{"joint " + string(s.lay.plan.Joints[j].ID)}
		n = 1
		for n < len(seats) && s.lay.plan.Seats[seats[n]].Joint == j {
			n++
		}
		if s.allHoles(j, seats[:n]) {
			list = append(list, say(scans[0], all))
			continue
		}
		for _, ix := range seats[:n] {
			scans = append(scans, "hole "+string(s.lay.plan.Seats[ix].Hole))
		}
		list = append(list, say(append(scans, some)...))
	}
	return strings.Join(list, "; ")
}

// allHoles reports whether seats are all that a joint has on this engine, of
// those that hold something.
func (s *State) allHoles(j plan.JointIndex, seats []plan.SeatIndex) bool {
	for _, ix := range s.lay.plan.Joints[j].Seats {
		if s.lay.plan.Seats[ix].Joint == j && s.lay.seats[ix].full != 0 && s.now.Seat(ix) != plan.SeatAbsent && !contains(seats, ix) {
			return false
		}
	}
	return true
}

// sayCondition is what to scan when a condition is made to hold; empty where
// nothing that is scanned makes it.
func (s *State) sayCondition(u *plan.Unmet) string {
	p, c := s.lay.plan, &u.Cond
	switch c.Op {
	case plan.AnyOf:
		return s.sayAny(u.Any)
	case plan.OfPart:
		if c.Is == plan.IsOff && s.onIt(c.Part) {
			for _, by := range u.By { // what holds it is counted as it comes out
				if !s.now.IsDone(by) {
					return s.sayStep(by)
				}
			}
		}
		return s.sayPart(c.Part, c.Is)
	case plan.OfSeats, plan.OfSome:
		switch c.Is {
		case plan.IsEmpty, plan.IsOut:
			return s.sayHoles(u.Seats, "OUT", "numbers")
		case plan.IsParked:
			return s.sayHoles(u.Seats, "PARKED", "PARKED")
		case plan.IsFinished:
			return s.sayTight(u.Seats)
		}
		return s.sayHoles(u.Seats, "IN", "ALL IN")
	case plan.OfLoan:
		verb := "IN"
		if c.Is == plan.IsOut {
			verb = "OUT"
		}
		return say("loan "+string(p.Loans[c.Loan].ID), verb)
	case plan.OfCavity:
		return s.sayCavity(u)
	case plan.OfMark:
		return say("mark "+string(p.Marks[c.Mark].ID), "DONE")
	case plan.OfStep:
		return s.sayStep(c.Step)
	}
	return ""
}

func (s *State) sayAny(any [][]plan.Unmet) string {
	var ways []string
	for _, way := range any {
		var all []string
		for i := range way {
			if text := s.sayCondition(&way[i]); text != "" && !contains(all, text) {
				all = append(all, text)
			}
		}
		ways = append(ways, strings.Join(all, "; "))
	}
	return orSay(ways...)
}

func (s *State) sayPart(p plan.PartIndex, is plan.Is) string {
	id := s.lay.plan.Parts[p].ID
	if sl := s.slipOf(p); sl != nil && s.now.Part(p) == plan.PartAway {
		return "when it is here " + say("slip "+string(sl.Code), "BACK")
	}
	switch is {
	case plan.IsOn:
		return "scan part " + string(id) + ", ON"
	case plan.IsAway:
		return "SEND it with a slip; " + say("part "+string(id), "HELP")
	}
	return "scan part " + string(id) + ", OFF"
}

// sayTight is the next stage of holes that are in, or what fills those that are
// empty.
func (s *State) sayTight(seats []plan.SeatIndex) string {
	var empty []plan.SeatIndex
	for _, ix := range seats {
		if s.now.Seat(ix) < plan.SeatFilled {
			empty = append(empty, ix)
		}
	}
	if empty != nil {
		return s.sayHoles(empty, "IN", "ALL IN")
	}
	return s.sayHoles(seats, "STAGE", "STAGE")
}

// sayCavity opens, closes, fills or drains: a cavity is opened and closed by
// what goes off and on, where the plan knows which.
func (s *State) sayCavity(u *plan.Unmet) string {
	id := "cavity " + string(s.lay.plan.Cavities[u.Cond.Cavity].ID)
	switch u.Cond.Is {
	case plan.IsDrained:
		return say(id, "DRAINED")
	case plan.IsOpen:
		if text := s.sayAny(u.Any); text != "" {
			return text
		}
		return say(id, "OPEN")
	case plan.IsClosed:
		for _, by := range u.By {
			if text := s.sayStep(by); text != "" {
				return text
			}
		}
		return say(id, "CLOSED")
	}
	return say(id, "FILLED")
}

// sayStep is the next scan of a step: of what it leaves and is not there yet the
// first that a hand would do.
func (s *State) sayStep(ix plan.StepIndex) string {
	if s.said == nil {
		return s.sayNext(ix)
	}
	if s.said[ix] == "" {
		s.said[ix] = s.sayNext(ix)
	}
	return s.said[ix]
}

func (s *State) sayNext(ix plan.StepIndex) string {
	p, step, d := s.lay.plan, &s.lay.plan.Steps[ix], &s.undone
	s.now.DoneIn(d, ix)
	apart := step.Section.Apart()
	switch {
	case apart && len(d.Seats) > 0:
		if contains(step.Parks, d.Seats[0]) {
			return s.sayHoles(d.Seats, "PARKED", "PARKED")
		}
		return s.sayHoles(d.Seats, "OUT", "numbers")
	case len(d.Parts) > 0:
		part := d.Parts[0]
		switch {
		case contains(step.SendsOut, part) && s.now.Part(part) != plan.PartAway:
			return s.sayPart(part, plan.IsAway)
		case contains(step.Fits, part), contains(step.TakesBack, part):
			return s.sayPart(part, plan.IsOn)
		}
		return s.sayPart(part, plan.IsOff)
	case len(d.Seats) > 0:
		return s.sayHoles(d.Seats, "IN", "ALL IN")
	case len(d.Cavities) > 0:
		verb := "FILLED"
		if contains(step.Drains, d.Cavities[0]) {
			verb = "DRAINED"
		}
		return say("cavity "+string(p.Cavities[d.Cavities[0]].ID), verb)
	case len(d.Marks) > 0:
		return say("mark "+string(p.Marks[d.Marks[0]].ID), "DONE")
	case len(d.Loans) > 0:
		verb := "IN"
		if contains(step.LoanOut, d.Loans[0]) {
			verb = "OUT"
		}
		return say("loan "+string(p.Loans[d.Loans[0]].ID), verb)
	}
	return say("step "+string(step.ID), "CAN I?")
}

// override is how a second person lets something pass, and why.
func override(on string) string { return "a second person: " + say(on, "OVERRIDE") }

// sayJoint is a joint, with its holes where some are meant, and a verb.
func sayJoint(j events.Joint, holes []events.Hole, verb string) string {
	scans := []string{"joint " + string(j)}
	for _, h := range holes {
		scans = append(scans, "hole "+string(h))
	}
	return say(append(scans, verb)...)
}

// countOut is how what came out unseen is counted: in the bag that is labelled
// for it, else by the joint or part and its numbers.
func (s *State) countOut(u *Uncounted) string {
	for _, b := range s.bagList {
		if b.Retired == 0 && (u.Joint != "" && b.Joint == u.Joint || u.Joint == "" && u.Part != "" && b.Part == u.Part) {
			return say("bag "+string(b.Code), "COUNT")
		}
	}
	if u.Joint != "" {
		return say("joint "+string(u.Joint), "numbers")
	}
	return say("part "+string(u.Part), "numbers")
}

// mendHoles is what to scan about holes that are not as they should be: what is
// finger-tight is tightened, anything else comes out.
func (s *State) mendHoles(verb string, seats []plan.SeatIndex) string {
	if verb == "tight" {
		return s.sayHoles(seats, "STAGE", "STAGE")
	}
	if verb == "STAGE" {
		return orSay(s.sayHoles(seats, "STAGE", "STAGE"), s.sayHoles(seats, "OUT", "ALL OUT"))
	}
	return s.sayHoles(seats, "OUT", "ALL OUT")
}

// putAway is how pieces that nothing wants leave a place: thrown away or kept,
// parts by their name.
func (s *State) putAway(a ledger.AccountID, lines []events.Line, first string) string {
	nouns := placeNouns(s.book.Path(a))
	if p, ok := s.lay.partKind[lines[0].Kind]; ok {
		nouns = []string{"part " + string(s.lay.plan.Parts[p].ID)}
	}
	return orSay(first, say(append(nouns, "SCRAP")...), say(append(nouns, "KEEP")...))
}

// signNext is the audit that is to be signed next.
func (s *State) signNext() string {
	if p, ok := s.job.NextAudit(); ok {
		return say(noun("audit", p), "SIGN")
	}
	return say("AUDIT")
}

// jobName is the job as its card has it.
func (s *State) jobName() events.Job {
	if r := s.Fact(1); r != nil {
		return r.Job
	}
	return ""
}

// sayOn puts parts on.
func (s *State) sayOn(parts []plan.PartIndex) string {
	var list []string
	for _, p := range parts {
		list = append(list, s.sayPart(p, plan.IsOn))
	}
	return strings.Join(list, "; ")
}

// sayStages is what ends what is doubtful or too far in a stage.
func (s *State) sayStages(turns []Turn, next string, row *StageRow) string {
	var holes []events.Hole
	joint := turns[0].Joint
	if part := turns[0].Part; part != "" {
		scans := []string{"part " + string(part)}
		for _, t := range turns {
			if p, ok := s.lay.plan.Part(part); ok && t.Hole != "" && len(s.lay.plan.Parts[p].Positions) > 1 {
				scans = append(scans, "position "+string(t.Hole))
			}
		}
		for _, c := range row.Cells {
			if c.State == stage.Over {
				return next + ": " + say(append(scans, "OFF")...)
			}
		}
		return orSay(next+": "+say(append(scans, "STAGE")...), say(append(scans[:len(scans):len(scans)], "ACCEPT")...))
	}
	for _, t := range turns {
		if t.Joint == joint {
			holes = append(holes, t.Hole)
		}
	}
	if j, ok := s.lay.plan.Joint(joint); ok && len(holes) == len(s.lay.plan.Joints[j].Seats) {
		holes = nil
	}
	for _, c := range row.Cells {
		if c.State == stage.Over {
			return orSay(next+": "+sayJoint(joint, holes, "LOOSE"), sayJoint(joint, holes, "OUT"))
		}
	}
	return orSay(next, sayJoint(joint, holes, "RESTART"), sayJoint(joint, holes, "ACCEPT"))
}

// sayLoanOut takes a loan out; a tool that went in is no loan of the plan.
func (s *State) sayLoanOut(id events.Loan) string {
	if _, ok := s.lay.plan.Loan(id); !ok {
		return say("tool "+string(id), "OUT")
	}
	return say("loan "+string(id), "OUT")
}

// goalNouns names what was decided on as it is scanned: a hole behind its joint.
func goalNouns(goals []string) []string {
	var list []string
	for _, g := range goals {
		typ, id := cutNoun(g)
		if joint, hole := events.Seat(id).Split(); typ == "hole" {
			list = append(list, "joint "+string(joint), "hole "+string(hole))
			continue
		}
		list = append(list, g)
	}
	return list
}
