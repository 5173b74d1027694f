package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// RedLine is one thing that is not as it should be, and the scan that makes it
// green.
type RedLine struct {
	Code  string // what is wrong, one of the Red constants
	Text  string // the fact
	Scan  string // what to scan
	Since ledger.Fact
	Short events.ShortID // of a short or over; zero for other lines
}

// String is the fact, then what to scan.
func (l RedLine) String() string { return Blocker{l.Text, l.Scan}.String() }

// What a red line is about.
const (
	RedShort        = "short"
	RedOver         = "over"
	RedDisagreement = "disagreement"
	RedUncounted    = "uncounted"
	RedOddKind      = "odd-kind"
	RedReused       = "reused"
	RedCondemned    = "condemned"
	RedNoStud       = "no-stud"
	RedTrial        = "trial"
	RedParked       = "parked"
	RedLeftOver     = "left-over"
	RedOld          = "old-piece"
	RedSwapped      = "swapped"
	RedOrderLost    = "order-lost"
	RedMixed        = "mixed"
	RedLoan         = "loan"
	RedCase         = "case"
	RedOtherEnd     = "other-end"
	RedPastStop     = "past-stop"
	RedHold         = "hold"
	RedFinding      = "finding"
	RedGate         = "gate"
	RedSlip         = "slip"
	RedSealant      = "sealant"
	RedWait         = "wait"
	RedUnseen       = "unseen"
	RedReopened     = "reopened"
	RedTurned       = "turned"
	RedFoundOdd     = "found-odd"
	RedNoSuch       = "no-such"
	RedUnknown      = "unknown-fact"
	RedGap          = "gap"
	RedMeasure      = "measurement"
	RedStage        = "stage"
	RedStart        = "started-without"
	RedLeft         = "not-taken-over"
	RedRunRead      = "run-reading"
	RedObligation   = "obligation"
)

// Red lists everything on the job that is not as it should be now, each with
// what to scan. It never says what was once and is settled. The answer is kept
// until the next fact or other limits: it is asked before and after each fact. It must not be changed.
func (j *Job) Red() []RedLine {
	of := redOf{len(j.facts), j.refolds, j.Limits(), events.DayOf(j.moment())}
	if j.redOf != of || !j.redKept {
		j.red, j.redOf, j.redKept = j.lines(), of, true
	}
	return j.red[:len(j.red):len(j.red)]
}

// redOf is what red lines were computed from.
type redOf struct {
	facts, refolds int
	limits         Limits
	today          events.Day // what is overdue changes with the day
}

func (j *Job) lines() []RedLine {
	s := j.State()
	r := &redList{s: s}
	r.shorts()
	r.uncounted()
	r.holes()
	r.parts()
	r.leftOver()
	r.positions()
	r.mixed()
	r.loans()
	r.cases()
	r.decisions()
	r.gates()
	r.slips()
	r.tools()
	r.batches()
	r.scopes()
	r.cores()
	r.owner()
	r.measures()
	r.lateBeads()
	r.tooSoon()
	r.stages()
	r.presses()
	r.studs()
	r.running()
	r.handed()
	r.notes()
	r.strange()
	return r.lines
}

type redList struct {
	s     *State
	lines []RedLine
}

func (r *redList) add(code string, since ledger.Fact, text, scan string) {
	r.lines = append(r.lines, RedLine{Code: code, Text: text, Scan: scan, Since: since})
}

func (r *redList) shorts() {
	s := r.s
	for _, k := range s.OpenShorts() {
		en := s.book.Entry(k)
		l := RedLine{Code: RedShort, Text: s.differenceWords(&en), Since: en.Shown, Short: s.ShortID(k)}
		switch {
		case en.Disputed():
			l.Code = RedDisagreement
			l.Scan = say("short "+itoa(int(k)), "SETTLE")
		case en.Sign == ledger.Over:
			l.Code = RedOver
			l.Scan = orSay(s.countAgain(s.book.Path(en.Place)), say("short "+itoa(int(k)), "DO NOT KNOW"))
		default:
			l.Text += ", " + s.intervalWords(&en)
			l.Scan = say("short "+itoa(int(k)), "FOUND")
			if look := s.lookFor(&en); len(look) > 0 {
				l.Scan = "look in " + look[0] + "; " + l.Scan
			}
		}
		r.lines = append(r.lines, l)
	}
}

func (r *redList) uncounted() {
	s := r.s
	for i := range s.uncounted {
		u := &s.uncounted[i]
		if u.Cleared != 0 {
			continue
		}
		what := s.jointWords(string(u.Joint))
		n := 0
		if u.Joint != "" {
			for _, a := range s.looseOf(string(u.Joint)) {
				for _, l := range s.contents(a) {
					n += l.Qty
				}
			}
			what = plural(n, "piece") + " of " + what
		} else {
			what = s.partWords(string(u.Part))
		}
		r.add(RedUncounted, u.Fact, what+" never counted: "+s.partWords(string(u.Because))+" is off, so it was out", s.countOut(u))
	}
}

func (r *redList) holes() {
	s := r.s
	type row struct {
		code, scan, text string
		is               func(*seat, plan.SeatIndex) bool
	}
	rows := [...]row{
		{RedOddKind, "OUT", "holds a kind that it does not want", func(st *seat, ix plan.SeatIndex) bool { return st.in != 0 && s.wrongKind(ix) }},
		{RedReused, "OUT", "single-use, and not a new piece", func(st *seat, _ plan.SeatIndex) bool { return st.reused && st.in != 0 }},
		{RedCondemned, "OUT", "a condemned piece or a sample is in it", func(st *seat, _ plan.SeatIndex) bool { return st.badPiece && st.in != 0 }},
		{RedNoStud, "OUT", "the stud is out, and what goes onto it is in by the book: it came out too", func(st *seat, ix plan.SeatIndex) bool { return studless(st, &s.lay.seats[ix]) }},
		{RedTrial, "OUT", "in as a trial", func(st *seat, _ plan.SeatIndex) bool { return st.trial && st.in != 0 }},
		{RedParked, "STAGE", "in finger-tight only, looks finished and is not", func(_ *seat, ix plan.SeatIndex) bool { return s.now.Seat(ix) == plan.SeatParked }},
	}
	for _, w := range rows {
		var list []plan.SeatIndex
		since := ledger.Fact(0)
		for i := range s.seats {
			if w.is(&s.seats[i], plan.SeatIndex(i)) {
				list = append(list, plan.SeatIndex(i))
				since = max(since, s.seats[i].changed)
			}
		}
		for len(list) > 0 { // one line for each joint
			n := 1
			for n < len(list) && s.lay.plan.Seats[list[n]].Joint == s.lay.plan.Seats[list[0]].Joint {
				n++
			}
			r.add(w.code, since, s.lay.plan.SeatNames(list[:n])+": "+w.text, s.mendHoles(w.scan, list[:n]))
			list = list[n:]
		}
	}
}

// wrongKind says that a hole holds a piece that neither the plan nor what became
// of the hole wants in it.
func (s *State) wrongKind(ix plan.SeatIndex) bool {
	takes, changed := s.takesOther(ix)
	if !s.seats[ix].oddKind {
		return changed && s.seats[ix].in&mainMember(&s.lay.seats[ix]) != 0
	}
	return !changed || !alike(takes, s.odd[ix])
}

func (r *redList) parts() {
	s := r.s
	for i := range s.parts {
		p, name := &s.parts[i], s.lay.plan.Parts[i].Name
		on := s.now.Part(plan.PartIndex(i))
		if on != plan.PartOn && on != plan.PartPartly {
			continue
		}
		if p.reused > 0 {
			r.add(RedReused, p.changed, name+": "+itoa(int(p.reused))+" single-use, and not known to be new", s.sayPart(plan.PartIndex(i), plan.IsOff)+"; then fit new ones")
		}
		if p.condemned > 0 {
			r.add(RedCondemned, p.changed, name+": "+itoa(int(p.condemned))+" condemned, or a sample", s.sayPart(plan.PartIndex(i), plan.IsOff))
		}
	}
}

// leftOver lists what lies about though everything that it could go into is
// complete. Old single-use pieces whose places are filled with new ones are
// explained, and have only to be scrapped or kept; anything else is one piece
// too many.
func (r *redList) leftOver() {
	s := r.s
	about, needed := s.keptFor(), s.stillNeeded()
	for a := 1; a < len(about); a++ {
		id := ledger.AccountID(a)
		if c := s.book.Class(id); !usable(c) || c == ledger.Stock {
			continue
		}
		done := about[a] != "" && s.complete(about[a])
		var over, old []events.Line
		for _, l := range s.contents(id) {
			switch {
			case l.Cond == events.Sample || s.kitOf(l.Kind) != nil || !done && s.wantedSomewhere(l.Kind, needed):
			case l.Cond != events.New && s.singleUse(l.Kind):
				old = append(old, l)
			default:
				over = append(over, l)
			}
		}
		where := capital(s.placeWords(s.book.Path(id)))
		if len(over) > 0 {
			r.add(RedLeftOver, s.book.Touched(id), where+" holds "+s.linesWords(over)+" too many: what they belong to is complete",
				s.putAway(id, over, "count it again: "+s.countAgain(s.book.Path(id))))
		}
		if len(old) > 0 {
			r.add(RedOld, s.book.Touched(id), where+" holds old single-use pieces: "+s.linesWords(old), s.putAway(id, old, ""))
		}
	}
}

// stillNeeded marks the kinds, by their place in the layout, that some hole or
// part still needs.
func (s *State) stillNeeded() []bool {
	needed := make([]bool, len(s.lay.kinds))
	for i := range s.lay.seats {
		sl := &s.lay.seats[i]
		if s.now.Seat(plan.SeatIndex(i)) == plan.SeatAbsent {
			continue
		}
		for m := range sl.members {
			if s.seats[i].in&(1<<m) == 0 {
				needed[sl.members[m].kind] = true
			}
		}
	}
	for i := range s.lay.parts {
		if st := s.now.Part(plan.PartIndex(i)); st != plan.PartOn && st != plan.PartAbsent {
			needed[s.lay.parts[i].kind] = true
		}
	}
	return needed
}

// wantedSomewhere says whether a kind, or one that it may stand in for, is still
// needed, or is of no place that the plan knows.
func (s *State) wantedSomewhere(k events.Kind, needed []bool) bool {
	i, ok := s.kindIndex(k)
	if !ok {
		return true
	}
	if needed[i] {
		return true
	}
	for _, o := range s.lay.alike[i] {
		if needed[o] {
			return true
		}
	}
	return false
}

// singleUse says whether every place of a kind takes only new pieces.
func (s *State) singleUse(k events.Kind) bool {
	i, ok := s.kindIndex(k)
	return ok && s.lay.single[i]
}

// complete says whether a joint or part has all its pieces in.
func (s *State) complete(about string) bool {
	if j, ok := s.lay.plan.Joint(events.Joint(about)); ok {
		any := false
		for _, ix := range s.lay.plan.Joints[j].Seats {
			sl := &s.lay.seats[ix]
			if sl.full == 0 || s.now.Seat(ix) == plan.SeatAbsent {
				continue
			}
			any = true
			if s.seats[ix].in != sl.full {
				return false
			}
		}
		return any
	}
	_, id := cutNoun(about)
	p, ok := s.lay.plan.Part(events.Part(id))
	return ok && s.now.Part(p) == plan.PartOn
}

func (r *redList) mixed() {
	s := r.s
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if c := s.book.Class(id); c != ledger.Bag && c != ledger.Rack {
			continue
		}
		if k, ok := s.mixedKind(id); ok {
			r.add(RedMixed, s.book.Touched(id), capital(s.placeWords(s.book.Path(id)))+" holds new and old "+s.kindWords(k), "put the new ones into another bag: "+say(append(placeNouns(s.book.Path(id)), "SORT")...))
		}
	}
}

// mixedKind is a kind of which an account holds new and other pieces.
func (s *State) mixedKind(a ledger.AccountID) (events.Kind, bool) {
	for it, n := range s.book.At(a) {
		if name := s.book.ItemName(it); n > 0 && name.Cond == events.New {
			for other, m := range s.book.At(a) {
				if m > 0 && s.book.KindOf(other) == s.book.KindOf(it) && s.book.ItemName(other).Cond != events.New {
					return name.Kind, true
				}
			}
		}
	}
	return "", false
}
