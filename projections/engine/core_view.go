package engine

import (
	"strings"

	"countback/events"
)

// CoreView is how one core stands.
type CoreView struct {
	*Core
	Name        string
	DaysLeft    int      // to the day by which it must be back; below zero: past
	Lacks       []string // what keeps it from going back for the whole deposit
	Deducted    int64    // what was taken off, in the smallest unit
	Unexplained int64    // of the deposit neither paid back nor taken off with a reason
}

// Cores is how every core stands, in the order in which terms were agreed.
func (j *Job) Cores() []CoreView {
	s := j.State()
	var list []CoreView
	for _, c := range s.cores {
		v := CoreView{Core: c, Name: s.partWords(string(c.Part))}
		if c.Due.Valid() {
			v.DaysLeft = events.DayOf(j.moment()).Until(c.Due)
		}
		if p, ok := s.lay.plan.Part(c.Part); ok && c.Sent == 0 && c.Open() {
			for _, b := range s.coreLacks(p) {
				v.Lacks = append(v.Lacks, b.Text)
			}
		}
		for _, d := range c.Credit.Off {
			v.Deducted += d.Amount
		}
		if c.Credited != 0 {
			v.Unexplained = c.Deposit - c.Credit.Credit - v.Deducted
		}
		list = append(list, v)
	}
	return list
}

// SendCore asks to let an old part go back to who sold the new one. It is refused
// while the part is held on the engine, or lacks what its terms ask for (rule
// R45). What a second person let pass for "part <id>" is no reason any more.
type SendCore struct {
	Part events.Part
	Note string
}

func (c SendCore) decide(s *State) (events.Event, error) {
	ev := events.CoreSent{Part: c.Part, Note: c.Note}
	p, ok := s.lay.plan.Part(c.Part)
	if !ok {
		return nil, refuse(Unknown, "scan a part of this job", "this job has no part %s", c.Part)
	}
	k := s.core(c.Part)
	switch {
	case k == nil:
		return nil, refuse(Unknown, "scan the part, the supplier, CORE first", "%s has no terms as a core", s.lay.plan.Parts[p].Name)
	case k.Sent != 0:
		return nil, nil
	}
	var why []Blocker
	if s.inst[p] == k.inst {
		why = s.keeps(p, []events.Part{c.Part})
	}
	for _, b := range append(why, s.coreLacks(p)...) {
		if !s.letPass(noun("part", c.Part), b.Text) {
			return nil, refuse(Conflict, b.Clear, "%s", b.Text)
		}
	}
	return ev, nil
}

// What red lines of cores are about.
const (
	RedCore     = "core"
	RedCoreVoid = "core-void"
)

func (r *redList) cores() {
	s := r.s
	for _, v := range s.job.Cores() {
		switch {
		case !v.Open():
		case v.Void != 0 && !s.letPass(noun("part", v.Part), s.voidText(v.Core)):
			r.add(RedCoreVoid, v.Void, s.voidText(v.Core), orSay("send it back all the same: "+say(noun("part", v.Part), "CORE SENT"), override(noun("part", v.Part))))
		case v.Sent != 0:
			r.add(RedCore, v.Sent, s.coreWords(v.Core)+": sent on "+s.day(v.Sent)+", and nothing is credited", "when it is "+say(noun("part", v.Part), "CREDITED"))
		default:
			r.add(RedCore, v.Agreed, s.coreWords(v.Core)+v.dueWords(events.DayOf(s.job.moment())), "when it leaves "+say(noun("part", v.Part), "CORE SENT"))
		}
	}
}

func (s *State) voidText(c *Core) string {
	return s.coreWords(c) + ": the credit is void since " + s.day(c.Void) + ", it was taken apart (" + c.VoidBy + ")"
}

func (v *CoreView) dueWords(today events.Day) string {
	switch {
	case !v.Due.Valid():
		return ", no day was said"
	case v.DaysLeft < 0:
		return " by " + v.Due.Short(today) + ", " + plural(-v.DaysLeft, "day") + " past"
	}
	return " by " + v.Due.Short(today) + ", " + plural(v.DaysLeft, "day") + " left"
}

// tellsCore puts what happens to a core into a sentence.
func (s *State) tellsCore(ev events.Event) string {
	switch e := ev.(type) {
	case events.CoreAgreed:
		text := s.coreWords(&Core{CoreAgreed: e})
		if e.Due.Valid() {
			text += ", by " + e.Due.Short(events.DayOf(s.job.LatestAt()))
		}
		if len(e.With) > 0 {
			text += ", with " + s.partsWords(e.With)
		}
		if e.Whole {
			text += ", not to be taken apart"
		}
		return text
	case events.CoreSent:
		return s.partWords(string(e.Part)) + " sent back as a core" + because(e.Note)
	case events.CoreCredited:
		text := s.partWords(string(e.Part)) + " credited: " + Money{Amount: e.Credit, Currency: e.Currency}.String()
		for _, d := range e.Off {
			text += ", less " + Money{Amount: d.Amount, Currency: e.Currency}.String() + " " + d.Why
		}
		return text
	}
	return ""
}

// DoubtCredit is what is odd about money paid back for an old part: it has not
// left yet, it is more than the deposit, it is in other money. Empty: nothing.
func (j *Job) DoubtCredit(id events.Part, m Money) string {
	s := j.State()
	c := s.core(id)
	if c == nil {
		return "No terms were agreed for the old " + s.partWords(string(id))
	}
	var odd []string
	if c.Sent == 0 {
		odd = append(odd, "it was not sent yet by the book")
	}
	deposit := Money{Amount: c.Deposit, Currency: c.Currency}
	switch {
	case c.Deposit > 0 && c.Currency != "" && m.Currency != "" && c.Currency != m.Currency:
		odd = append(odd, "the deposit was "+deposit.String()+" and this is "+m.String())
	case c.Deposit > 0 && m.Amount > c.Deposit:
		odd = append(odd, m.String()+" is more than the deposit of "+deposit.String())
	}
	if len(odd) == 0 {
		return ""
	}
	return s.partWords(string(id)) + ": " + strings.Join(odd, ", and ")
}
