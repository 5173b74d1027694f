package kiosk

import (
	"slices"
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// nounSaid adds a noun to the sentence, or begins another one.
func (t *turn) nounSaid(tok scan.Token, repeat bool) {
	n := tok.Noun
	switch {
	case n.Type == scan.Badge && !n.Blank:
		t.badgeSaid(n)
		return
	case t.ask != nil:
		t.answer(tok)
		return
	case t.question != nil && len(t.question.choose) > 0:
		t.chosen(n)
		return
	case n.Type == scan.JobNoun && !n.Blank && events.Job(n.ID) != t.id && !scan.Goes(grow(t.nouns, n)),
		n.Type == scan.JobNoun && !n.Blank && events.Job(n.ID) != t.id && len(t.nouns) == 0:
		t.switchTo(events.Job(n.ID))
		return
	case t.id == "" && needsJob(n.Type):
		t.no("No job is on the screen", "Scan a job card first")
		return
	}
	if n.Type == scan.Size {
		t.sizeSaid(n)
		return
	}
	if repeat && len(t.nouns) > 0 && t.nouns[len(t.nouns)-1].Same(n) {
		t.nounShown("")
		return
	}
	t.question, t.mend = nil, nil
	t.addNoun(n)
}

// needsJob reports whether a noun makes no sense without a job.
func needsJob(t scan.Type) bool {
	switch t {
	case scan.JobNoun, scan.Engine, scan.Plan, scan.Badge, scan.Range, scan.Bench, scan.Label:
		return false
	}
	return true
}

// addNoun puts a noun behind those that are there where some sentence goes on
// like that; otherwise a new sentence begins, and what was there is dropped
// aloud.
func (t *turn) addNoun(n scan.Noun) {
	next := grow(t.nouns, n)
	if implied, ok := impliedBy(t.nouns, n); ok && !scan.Goes(next) {
		next = grow(grow(t.nouns, implied), n)
	}
	dropped := ""
	if !scan.Goes(next) {
		dropped = t.saidText()
		t.clear()
		next = []scan.Noun{n}
		if implied, ok := impliedBy(nil, n); ok {
			next = []scan.Noun{implied, n}
		}
		if !scan.Goes(next) {
			t.no(capital(n.Text())+": nothing can be said that begins with it", "Scan the bag or part first")
			return
		}
	}
	if relative(n) && !hasOwner(next, n) {
		t.no(capital(n.Text())+" of what?", "Scan its "+map[scan.Type]string{scan.Hole: "joint", scan.Position: "part"}[n.Type]+" first")
		return
	}
	t.nouns = next
	if row := scan.Fires(t.nouns); row != nil {
		t.begin(row)
		return
	}
	t.nounShown(dropped)
}

// impliedBy is the joint of a hole, or the part of a position, that was
// scanned without it.
func impliedBy(before []scan.Noun, n scan.Noun) (scan.Noun, bool) {
	owner, _, ok := strings.Cut(n.ID, ":")
	if !ok || n.Type != scan.Hole && n.Type != scan.Position {
		return scan.Noun{}, false
	}
	typ := scan.Joint
	if n.Type == scan.Position {
		typ = scan.Part
	}
	for _, b := range before {
		if b.Type == typ {
			return scan.Noun{}, false
		}
	}
	return scan.Noun{Type: typ, ID: owner}, true
}

func relative(n scan.Noun) bool {
	return (n.Type == scan.Hole || n.Type == scan.Position) && !strings.Contains(n.ID, ":")
}

func hasOwner(nouns []scan.Noun, n scan.Noun) bool {
	for _, b := range nouns {
		switch b.Type {
		case scan.Joint:
			if n.Type == scan.Hole {
				return true
			}
		case scan.Part, scan.Rack, scan.Measurement:
			return true
		}
	}
	return false
}

// nounShown shows the sentence so far and what it can become.
func (t *turn) nounShown(dropped string) {
	if dropped != "" {
		dropped = "Dropped: " + dropped
	}
	t.show(Plain, append([]string{dropped}, t.about(t.nouns[len(t.nouns)-1])...)...)
	t.view.Ask = t.offersText()
	t.beep(Heard)
}

// sizeSaid takes a size card: a number follows it, or the verb.
func (t *turn) sizeSaid(n scan.Noun) {
	t.sizes = grow(t.sizes, events.Kind(n.ID))
	t.show(Plain, "Size "+n.ID)
	t.view.Ask = "How many? A number, or a verb"
	t.beep(Heard)
}

// badgeSaid changes the person, unless the sentence asks for one.
func (t *turn) badgeSaid(n scan.Noun) {
	if t.ask != nil && t.ask.Kind == scan.AskBadge {
		t.reply(scan.Reply{Noun: n})
		return
	}
	dropped := ""
	if t.pending() {
		dropped = "Dropped: " + t.saidText()
	}
	t.clear()
	t.question, t.mend = nil, nil
	t.badge = events.Badge(n.ID)
	t.show(Plain, n.ID+" at bench "+string(t.here), dropped)
	t.view.Ask = "Scan a joint, a bag, a part; or WHAT NOW"
	if t.id == "" {
		t.view.Ask = "Scan a job card"
	}
	t.beep(Chime)
}

func (t *turn) switchTo(id events.Job) {
	dropped := ""
	if t.pending() {
		dropped = "Dropped: " + t.saidText()
	}
	t.clear()
	t.question, t.mend = nil, nil
	t.show(Plain, dropped)
	t.do(Switch{id})
}

// numberSaid takes a number: for the question on the screen, for a size, as
// the verb of a sentence that numbers are, or for a verb that comes.
func (t *turn) numberSaid(tok scan.Token) {
	switch {
	case t.ask != nil:
		t.answer(tok)
	case t.question != nil && len(t.question.choose) > 0:
		t.chosenBy(tok.N)
	case t.mend != nil:
		t.mendNumber(tok.N)
	case len(t.sizes) > 0 && tok.Whole:
		k := t.sizes[len(t.sizes)-1]
		t.sizes = slices.Clone(t.sizes[:len(t.sizes)-1])
		t.lines = addLine(t.lines, events.Line{Kind: k, Qty: tok.N})
		t.show(Plain, itoa(tok.N)+" "+string(k))
		t.view.Big, t.view.Ask = itoa(tok.N), "Another size, or a verb"
		t.beep(Heard)
	case len(t.nouns) == 0:
		t.no("A number, and nothing that it counts", "Scan the bag or part first")
	default:
		t.numberAfterNouns(tok)
	}
}

func (t *turn) numberAfterNouns(tok scan.Token) {
	if row := t.numbersRow(); row != nil {
		t.begin(row)
		if t.ask != nil {
			t.answer(tok)
		}
		return
	}
	if tok.Whole && scan.Find(t.nouns, "", false, false) != nil && !t.hasN {
		t.no("There is one of it, not "+itoa(tok.N), t.offersText())
		return
	}
	if !tok.Whole || t.hasN || !scan.TakesNumber(t.nouns) {
		t.no("No number is wanted here", t.offersText())
		return
	}
	t.number, t.hasN = tok.N, true
	t.show(Plain, itoa(tok.N))
	t.view.Big, t.view.Ask = itoa(tok.N), t.offersText()
	t.beep(Heard)
}

// numbersRow is the sentence whose verb is the number, for the nouns on the
// screen. A part of which the plan has one is not counted: it is OFF or ON.
func (s *Screen) numbersRow() *scan.Sentence {
	if s.hasN {
		return nil
	}
	row := scan.Find(s.nouns, "", len(s.lines) > 0, false)
	if row == nil || row.Event != "part-removed" {
		return row
	}
	said := scan.Said{Nouns: s.nouns}
	p, ok := s.jobOrNone().State().Plan().Part(said.Part())
	if ok && s.job.State().Plan().Parts[p].Count == 1 {
		return nil
	}
	return row
}

// wordSaid takes a card.
func (t *turn) wordSaid(tok scan.Token) {
	w := tok.Word
	if t.self(w) {
		return
	}
	if t.ask != nil {
		t.answer(tok)
		return
	}
	if t.mend != nil {
		t.mendWord(w)
		return
	}
	nouns := t.nouns
	if len(nouns) == 0 && t.question != nil && slices.Contains(t.question.offers, w) {
		nouns = t.question.subject
		if w == scan.Pair {
			nouns = t.question.pair
		}
	}
	if row := scan.Find(nouns, w, len(t.lines) > 0, t.hasN); row != nil {
		t.nouns = nouns
		t.begin(row)
		return
	}
	if num := t.numbersRow(); num != nil && w == scan.StillIn && len(num.Asks) > 0 && num.Asks[0].Left {
		t.begin(num)
		t.answer(tok)
		return
	}
	if turned := slices.Clone(nouns); len(nouns) == 2 {
		slices.Reverse(turned)
		if scan.Find(turned, w, len(t.lines) > 0, t.hasN) != nil {
			t.clear()
			t.no(string(w)+": the first noun is where it comes from. Dropped", "Say it the other way: "+nounsText(turned)+", "+string(w))
			return
		}
	}
	run, others := lastRun(nouns, w, len(t.lines) > 0, t.hasN)
	switch {
	case len(run) > 0 && len(others) > 0:
		t.which(w, append(others, run[len(run)-1]))
	case len(run) > 0:
		t.dropped = "Dropped: " + nounsText(nouns[:len(nouns)-len(run)])
		t.nouns = run
		t.begin(scan.Find(t.nouns, w, len(t.lines) > 0, t.hasN))
	default:
		t.noSentence(w)
	}
}

// lastRun is what a verb can be about when a noun before it was only looked
// at: the longest run of the last nouns that makes a sentence with it. others
// are nouns before the run that the verb could be about as well. What was said
// behind the subject is never left out.
func lastRun(nouns []scan.Noun, w scan.Word, lines, n bool) (run, others []scan.Noun) {
	for i := 1; i < len(nouns); i++ {
		if scan.Find(nouns[i:], w, lines, n) == nil {
			continue
		}
		for _, o := range nouns[:i] {
			if scan.Find([]scan.Noun{o}, w, lines, n) != nil {
				others = append(others, o)
			}
		}
		return slices.Clip(nouns[i:]), others
	}
	return nil, nil
}

// which asks what the verb is about where it could be about several things:
// never the last one unasked.
func (t *turn) which(w scan.Word, choose []scan.Noun) {
	t.clear()
	t.several(scan.Token{Nouns: choose})
	t.view.Lines = []string{string(w) + " is about one of them. Then " + string(w) + " again"}
}

// noSentence says why a verb does nothing here.
func (t *turn) noSentence(w scan.Word) {
	known, alone := scan.Wants(w)
	switch {
	case !known:
		t.no(string(w)+" answers nothing here", t.still())
	case len(t.nouns) == 0 && !alone:
		t.no(string(w)+" of what?", "Scan the bag or part first")
	default:
		// the nouns are used up: a number that follows must not find them
		text, offers := nounsText(t.nouns), t.offersText()
		t.clear()
		t.no(string(w)+" does not go with "+text+". Dropped", "Say it again from its first noun. It can take: "+offers)
	}
}

// begin takes a sentence whose subject and verb are there.
func (t *turn) begin(row *scan.Sentence) {
	if t.id == "" && row.Event != "job-opened" && row.Event != "badge-issued" && row.Event != "range-reserved" {
		t.clear()
		t.no("No job is on the screen", "Scan a job card first")
		return
	}
	t.row, t.latest = row, row
	t.said = &scan.Said{Nouns: t.nouns, Verb: row.Verb, Lines: t.lines, Sizes: t.sizes, Number: t.number, HasN: t.hasN,
		Job: t.jobOrNone(), Dir: t.dir, Here: t.here, Who: t.badge, Clock: t.at, NextN: t.nextN}
	t.next()
}

func (s *Screen) jobOrNone() *engine.Job {
	if s.job == nil {
		return &engine.Job{}
	}
	return s.job
}

// next asks what the sentence still needs, or gives it to the rules.
func (t *turn) next() {
	ask, ok := t.row.Next(t.said)
	if ok {
		t.ask = newAsking(ask, t.said)
		t.view = View{}
		t.beep(Heard)
		return
	}
	t.ask = nil
	if t.row.Nature == scan.Query {
		t.query()
		return
	}
	cmd, err := t.row.Build(t.said)
	if refusal, ok := err.(*engine.Refusal); ok {
		t.clear()
		t.no(capital(refusal.Fact), capital(refusal.Next))
		return
	}
	if cmd == nil {
		t.already()
		return
	}
	t.send(cmd, &flight{row: t.row, said: t.said, undo: -1, redo: -1})
}

// send gives a command to the rules; the answer comes as a message.
func (t *turn) send(cmd engine.Command, f *flight) {
	f.before = snapshot(t.job)
	t.flight = f
	t.ask, t.row = nil, nil
	job := t.id
	if f.said != nil {
		job = jobOf(t.id, f)
	}
	known := events.Told
	if f.row != nil {
		known = f.row.KnownOf(f.said)
	}
	t.do(Store{Job: job, Command: cmd, Known: known, Who: t.badge, Row: f.row, Checked: f.row == nil || f.row.Nature == scan.AskFor})
}

// jobOf is the subject that a sentence is stored under: the shop's own for
// what belongs to no job, the new job's for its opening.
func jobOf(id events.Job, f *flight) events.Job {
	switch f.row.Event {
	case "badge-issued", "range-reserved":
		return events.ShopJob
	case "job-opened":
		return events.Job(f.said.At(0, scan.JobNoun).ID)
	}
	return id
}

func addLine(lines []events.Line, l events.Line) []events.Line {
	out := slices.Clone(lines)
	for i := range out {
		if out[i].Kind == l.Kind {
			out[i] = l
			return out
		}
	}
	return append(out, l)
}

// chosen takes one of several nouns of one name by its scan.
func (t *turn) chosen(n scan.Noun) {
	for _, c := range t.question.choose {
		if c.Same(n) {
			t.question = nil
			t.addNoun(n)
			return
		}
	}
	t.question = nil
	t.addNoun(n)
}

// chosenBy takes one of several nouns by its number.
func (t *turn) chosenBy(n int) {
	if n < 1 || n > len(t.question.choose) {
		t.no("There is no number "+itoa(n), t.question.text)
		return
	}
	c := t.question.choose[n-1]
	t.question = nil
	t.nounSaid(scan.Token{Kind: scan.Saw, Noun: c}, false)
}
