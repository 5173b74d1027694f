package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/plan"
)

// about says what a noun is and how it stands. What a count will be compared
// with is not said before the count is in.
func (s *Screen) about(n scan.Noun) []string {
	if n.Type == scan.JobNoun && n.Blank {
		return []string{"There is no job " + n.ID}
	}
	if s.job == nil {
		return []string{capital(n.Text())}
	}
	st := s.job.State()
	nm := namesOf(st)
	switch n.Type {
	case scan.Joint:
		return []string{nm.joint(events.Joint(n.ID)) + s.jointStand(events.Joint(n.ID))}
	case scan.Hole:
		return s.holeAbout(n)
	case scan.Part:
		return []string{nm.part(events.Part(n.ID)) + s.partStand(events.Part(n.ID))}
	case scan.Bag:
		return []string{s.bagAbout(n)}
	case scan.Step:
		return []string{nm.step(events.Step(n.ID))}
	case scan.Cavity:
		c, _ := st.Plan().Cavity(events.Cavity(n.ID))
		if c >= 0 && st.Now().Open(c) {
			return []string{nm.cavity(events.Cavity(n.ID)) + ": open"}
		}
		return []string{nm.cavity(events.Cavity(n.ID)) + ": closed"}
	case scan.Loan:
		if l, ok := st.Loans()[events.Loan(n.ID)]; ok && l.In > 0 {
			return []string{nm.loan(events.Loan(n.ID)) + ": in"}
		}
		return []string{nm.loan(events.Loan(n.ID)) + ": out"}
	case scan.Tool:
		return []string{s.toolStand(events.Tool(n.ID))}
	case scan.Mark:
		if m, ok := st.Plan().Mark(events.Mark(n.ID)); ok && st.Now().Mark(m) {
			return []string{nm.mark(events.Mark(n.ID)) + ": stands"}
		}
		return []string{nm.mark(events.Mark(n.ID)) + ": not made"}
	case scan.Short:
		en := st.Book().Entry(st.Short(n.Short))
		if en.No != 0 {
			return []string{capital(entryWord(en)) + " " + n.ID + ": " + engine.Several(int(en.Open), nm.kind(st.Book().ItemName(en.Item).Kind))}
		}
	case scan.Slip:
		if v, ok := s.job.SlipNow(events.Code(n.ID)); ok {
			return []string{s.slipStand(&v)}
		}
	case scan.Case:
		if c, ok := st.Case(events.Code(n.ID)); ok {
			return []string{"Case " + n.ID + ": " + lower(nm.joint(c.Joint)) + " hole " + string(c.Hole)}
		}
	}
	return []string{capital(n.Text())}
}

// jointStand says whether a joint is in, out or in between, without numbers.
func (s *Screen) jointStand(id events.Joint) string {
	st := s.job.State()
	j, ok := st.Plan().Joint(id)
	if !ok {
		return ": not in the plan"
	}
	in, out, parked, finished := 0, 0, 0, 0
	for _, ix := range st.Plan().Joints[j].Seats {
		switch st.Now().Seat(ix) {
		case plan.SeatEmpty, plan.SeatLoan:
			out++
		case plan.SeatParked:
			parked++
		case plan.SeatFilled:
			in++
		case plan.SeatFinished:
			finished++
		}
	}
	switch {
	case in+parked+finished == 0:
		return ": out"
	case out > 0:
		return ": partly out"
	case parked > 0:
		return ": parked, only finger-tight"
	case in > 0:
		return ": in, not tightened to the end"
	}
	return ": in"
}

func (s *Screen) partStand(id events.Part) string {
	st := s.job.State()
	p, ok := st.Plan().Part(id)
	if !ok {
		return ": not in the plan"
	}
	text := map[plan.PartState]string{plan.PartOff: ": off", plan.PartPartly: ": partly on", plan.PartOn: ": on",
		plan.PartAway: ": away", plan.PartAbsent: ": this engine has none"}[st.Now().Part(p)]
	if at := st.PartAt(id); at != "" && st.Now().Part(p) != plan.PartOn {
		text += ", " + namesOf(st).place(at)
	}
	return text
}

func (s *Screen) bagAbout(n scan.Noun) string {
	st := s.job.State()
	b, ok := st.Bag(events.Code(n.ID))
	switch {
	case n.Blank || !ok:
		text := "A new bag, " + n.ID
		for _, o := range s.nouns[:max(0, len(s.nouns)-1)] {
			if o.Type == scan.Joint {
				text += ", for " + lower(namesOf(st).joint(events.Joint(o.ID)))
			}
		}
		return text
	case b.Retired != 0:
		return "Bag " + n.ID + " was retired"
	}
	joint, part := scan.BagOf(s.job, b.Code)
	switch {
	case joint != "":
		return "Bag " + n.ID + " of " + lower(namesOf(st).joint(joint)) + s.bagSeen(b)
	case part != "":
		return "Bag " + n.ID + " of " + lower(namesOf(st).part(part)) + s.bagSeen(b)
	}
	return "Bag " + n.ID + s.bagSeen(b)
}

// bagSeen says when a bag was last counted, and not what was in it.
func (s *Screen) bagSeen(b *engine.Bag) string {
	st := s.job.State()
	text := ""
	if b.Closed {
		text = ", closed"
	}
	a, ok := st.Book().Lookup(b.Place())
	if !ok {
		return text
	}
	r := st.Fact(st.Book().LastCount(a).Fact)
	if r == nil {
		return text
	}
	at, _ := st.Happened(st.Book().LastCount(a).Fact)
	return text + ", last counted " + clockText(at)
}

func (s *Screen) holeAbout(n scan.Noun) []string {
	st := s.job.State()
	said := scan.Said{Nouns: s.nouns}
	joint := said.Joint()
	holes := said.Holes()
	if joint == "" || len(holes) == 0 {
		return []string{capital(n.Text())}
	}
	text := namesOf(st).joint(joint) + ", hole " + string(holes[len(holes)-1])
	ix, ok := st.Plan().Hole(joint, holes[len(holes)-1])
	if !ok {
		return []string{text + ": the plan has no such hole"}
	}
	return []string{text + ": " + seatWords[st.Now().Seat(ix)]}
}

var seatWords = map[plan.SeatState]string{plan.SeatEmpty: "empty", plan.SeatLoan: "a loan is in it", plan.SeatParked: "parked, only finger-tight",
	plan.SeatFilled: "in, not tightened to the end", plan.SeatFinished: "in", plan.SeatAbsent: "this engine has none"}

// hintVerbs is how many verbs a hint names; HELP shows the others.
const hintVerbs = 6

// offersText says what the nouns on the screen can become.
func (s *Screen) offersText() string {
	if len(s.nouns) == 0 {
		return "Scan the bag or part first"
	}
	if n := s.nouns[0]; n.Type == scan.JobNoun && n.Blank && len(s.nouns) == 1 {
		return "Another job's card; or type its engine, then OPEN JOB, to open it"
	}
	text := ""
	if row := s.numbersRow(); row != nil {
		said := &scan.Said{Nouns: s.nouns, Job: s.jobOrNone(), Dir: s.dir, Here: s.here}
		if ask, ok := row.Next(said); ok && (len(s.nouns) > 1 || ask.Kind != scan.AskSizes) {
			o := Screen{ask: newAsking(ask, said), said: said}
			text = o.askText() + " Or: "
		}
	}
	var list []string
	for _, w := range scan.Offers(s.nouns) {
		if len(list) < hintVerbs && w != scan.Help && w != "a number" {
			list = append(list, string(w))
		}
	}
	if len(list) == 0 {
		return text + s.wantNoun()
	}
	return text + joinComma(append(list, "HELP"))
}

// wantNoun says which nouns may come next where no verb fits yet.
func (s *Screen) wantNoun() string {
	var list []string
	for _, t := range scan.Types {
		if scan.Goes(append(append([]scan.Noun(nil), s.nouns...), scan.Noun{Type: t, ID: "x"})) {
			list = append(list, string(t))
		}
	}
	if len(list) == 0 {
		return "HELP"
	}
	return "Scan " + joinComma(list) + "; or HELP"
}
