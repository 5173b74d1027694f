package kiosk

import (
	"slices"
	"strconv"
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// takesText reports whether a text answers the question on the screen. Cards
// about the sentence itself are never text.
func (t *turn) takesText(tok scan.Token) bool {
	if t.ask.Kind == scan.AskDate {
		return t.takesDate(tok)
	}
	if t.ask.Kind != scan.AskText && t.ask.Kind != scan.AskTime && t.ask.Kind != scan.AskValue || tok.Scan {
		return false
	}
	switch tok.Kind {
	case scan.Said1, scan.Digit, scan.Swallowed:
		return false
	case scan.Saw, scan.Several:
		if t.ask.Kind == scan.AskValue {
			return false // a noun is no value
		}
	case scan.Number:
		return t.ask.Kind == scan.AskText
	}
	return true
}

// answer takes what was scanned for the question on the screen.
func (t *turn) answer(tok scan.Token) {
	q := *t.ask
	t.ask = &q
	if tok.Kind != scan.Saw {
		t.astray = nil
	}
	if tok.Kind == scan.Said1 && tok.Word == scan.OK && q.Skip && q.Kind != scan.AskLines && q.day == "" {
		t.reply(scan.Reply{None: true})
		return
	}
	switch q.Kind {
	case scan.AskSizes:
		t.answerSizes(tok)
	case scan.AskLine, scan.AskLines:
		t.answerLine(tok)
	case scan.AskNumber:
		t.answerIf(tok.Kind == scan.Number && tok.Whole, tok)
	case scan.AskReal:
		t.answerIf(tok.Kind == scan.Number && tok.Unit == "" && tok.Warm == 0, tok)
	case scan.AskAccept:
		t.answerAccept(tok)
	case scan.AskReadings:
		t.answerReadings(tok)
	case scan.AskWord:
		t.answerIf(tok.Kind == scan.Said1 && slices.Contains(q.Words, tok.Word), tok)
	case scan.AskText:
		t.answerText(tok)
	case scan.AskNoun:
		if tok.Kind == scan.Number && tok.Whole && slices.Contains(q.Types, scan.Hole) {
			tok = scan.Token{Kind: scan.Saw, Noun: scan.Noun{Type: scan.Hole, ID: itoa(tok.N)}, Line: tok.Line}
		}
		t.answerIf(tok.Kind == scan.Saw && slices.Contains(q.Types, tok.Noun.Type) && (q.Fits == nil || q.Fits(t.said, tok.Noun)), tok)
	case scan.AskOK:
		t.answerOK(tok)
	case scan.AskValue:
		t.answerValue(tok)
	case scan.AskDate:
		t.answerDate(tok)
	case scan.AskTime:
		t.answerTime(tok)
	case scan.AskBadge:
		t.unasked(tok)
	}
}

func (t *turn) answerIf(fits bool, tok scan.Token) {
	if !fits {
		t.unasked(tok)
		return
	}
	r := scan.Reply{N: tok.N, Real: tok.Real, Word: tok.Word, Noun: tok.Noun}
	if tok.Kind == scan.Number {
		t.view.Big = tok.Line
	}
	t.reply(r)
}

func (t *turn) answerText(tok scan.Token) {
	switch {
	case tok.Kind == scan.Said1 && slices.Contains(t.ask.Words, tok.Word):
		t.reply(scan.Reply{Word: tok.Word})
	case tok.Kind == scan.Saw && slices.Contains(t.ask.Types, tok.Noun.Type):
		t.reply(scan.Reply{Text: tok.Noun.ID, Noun: tok.Noun})
	case t.takesText(tok):
		t.reply(scan.Reply{Text: textOf(tok)})
	default:
		t.unasked(tok)
	}
}

// answerValue takes a number, scanned or typed, or a text with its unit.
func (t *turn) answerValue(tok scan.Token) {
	switch {
	case tok.Kind == scan.Number:
		t.view.Big = tok.Line
		text := tok.Line
		if tok.Scan {
			text = decimal(tok.Real)
		}
		t.reply(scan.Reply{N: tok.N, Real: tok.Real, Text: text})
	case t.takesText(tok):
		t.reply(scan.Reply{Text: strings.TrimPrefix(strings.TrimPrefix(tok.Line, "text "), "TEXT ")})
	default:
		t.unasked(tok)
	}
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func (t *turn) answerOK(tok scan.Token) {
	if tok.Kind != scan.Said1 || tok.Word != scan.OK && tok.Word != scan.Yes {
		t.unasked(tok)
		return
	}
	t.ask.item++
	if t.ask.item < len(t.ask.items) {
		t.beep(Heard)
		return
	}
	t.reply(scan.Reply{Text: strings.Join(t.ask.items, "\n")})
}

// answerSizes takes a number for the size that is asked, or a size card that
// says for which one the next number is.
func (t *turn) answerSizes(tok scan.Token) {
	q := t.ask
	k := q.turnOf()
	n, sure, answered := t.doubtAnswered(tok)
	switch {
	case sure:
		q.got = addLine(q.got, events.Line{Kind: k, Qty: n})
		q.size = ""
		t.sizeTaken(itoa(n))
	case answered:
	case tok.Kind == scan.Number && tok.Whole && k != "" && t.doubtCount(k, tok.N):
	case tok.Kind == scan.Saw && (tok.Noun.Type == scan.Size || tok.Noun.Type == scan.Part):
		q.size = events.Kind(tok.Noun.ID)
		t.beep(Heard)
	case tok.Kind == scan.Number && tok.Whole && k != "":
		q.got = addLine(q.got, events.Line{Kind: k, Qty: tok.N})
		q.size = ""
		t.sizeTaken(itoa(tok.N))
	case tok.Kind == scan.Said1 && tok.Word == scan.StillIn && q.Left && k != "":
		q.left = grow(q.left, k)
		q.size = ""
		t.sizeTaken("left in")
	case tok.Kind == scan.Said1 && tok.Word == scan.OK && len(q.kinds) == 0 && len(q.got) > 0:
		t.reply(scan.Reply{Lines: q.got, Left: q.left})
	default:
		t.unasked(tok)
	}
}

// sizeTaken echoes a number and ends the count when every size has one.
func (t *turn) sizeTaken(echo string) {
	t.view.Big = echo
	if t.ask.whole() {
		t.reply(scan.Reply{Lines: t.ask.got, Left: t.ask.left})
		return
	}
	t.view.Sign, t.view.Lines = Plain, []string{t.gotText()}
	t.beep(Heard)
}

// gotText is the count so far, in the person's own numbers.
func (s *Screen) gotText() string {
	var list []string
	for _, l := range s.ask.got {
		name := string(l.Kind)
		if i := slices.Index(s.ask.kinds, l.Kind); i >= 0 {
			name = s.ask.short[i]
		}
		list = append(list, engine.Several(l.Qty, name))
	}
	return joinComma(list)
}

// answerLine takes a size, then a number.
func (t *turn) answerLine(tok scan.Token) {
	q := t.ask
	n, sure, answered := t.doubtAnswered(tok)
	switch {
	case sure:
		t.lineTaken(n)
	case answered:
	case tok.Kind == scan.Number && tok.Whole && q.size != "" && t.doubtCount(q.size, tok.N):
	case tok.Kind == scan.Saw && (tok.Noun.Type == scan.Size || tok.Noun.Type == scan.Part):
		q.size = events.Kind(tok.Noun.ID)
		t.beep(Heard)
	case tok.Kind == scan.Number && tok.Whole && q.size != "":
		t.lineTaken(tok.N)
	case tok.Kind == scan.Said1 && tok.Word == scan.OK && q.Kind == scan.AskLines && q.size == "":
		t.reply(scan.Reply{Lines: q.got})
	default:
		t.unasked(tok)
	}
}

// lineTaken takes a number for the size that was scanned before it.
func (t *turn) lineTaken(n int) {
	q := t.ask
	q.got = addLine(q.got, events.Line{Kind: q.size, Qty: n})
	t.view.Big = itoa(n)
	if q.Kind == scan.AskLine {
		t.reply(scan.Reply{Lines: q.got})
		return
	}
	q.size = ""
	t.view.Sign, t.view.Lines = Plain, []string{t.gotText()}
	t.beep(Heard)
}

// unasked is a scan that does not answer: a question that may be passed over
// is, if the next one takes it; otherwise it is refused and nothing is lost.
func (t *turn) unasked(tok scan.Token) {
	if t.ask.Skip && tok.Kind != scan.Saw {
		said := *t.said
		said.Replies = grow(t.said.Replies, scan.Reply{Key: t.ask.Key, None: true})
		if next, ok := t.row.Next(&said); ok {
			t.said, t.ask = &said, newAsking(next, &said)
			t.answer(tok)
			return
		}
	}
	if tok.Kind == scan.Saw {
		t.nounUnasked(tok)
		return
	}
	t.view.Sign = Stop
	t.view.Lines = []string{capital(tokenText(tok)) + " does not answer that; CANCEL drops it"}
	t.beep(Refusing)
}

// reply stores an answer and goes on.
func (t *turn) reply(r scan.Reply) {
	r.Key = t.ask.Key
	said := *t.said
	said.Replies = grow(t.said.Replies, r)
	t.said = &said
	if t.mend != nil && t.mend.row != nil {
		t.mendReply()
		return
	}
	t.next()
}
