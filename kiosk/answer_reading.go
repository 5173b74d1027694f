package kiosk

import (
	"countback/kiosk/scan"
)

// readings is how far the readings of one sentence are.
type readings struct {
	names []string // the points, in the order in which they are read
	want  int      // how many readings there will be; 0: until OK
	point int      // index of the point that the next reading is of
	reads []scan.ReadSaid
	doubt *scan.Doubt // about the reading in hand
	hand  scan.ReadSaid
}

func (q *asking) beginReadings(said *scan.Said) {
	if q.Points != nil {
		q.names = q.Points(said)
		q.want = len(q.names)
	}
	if q.Pieces != nil {
		q.want = q.Pieces(said)
	}
}

// answerReadings takes the readings of a measurement, one point after the
// other. One that can hardly be true is asked about, and stored as it is
// answered: no reading is lost.
func (t *turn) answerReadings(tok scan.Token) {
	q := t.ask
	switch {
	case tok.Kind == scan.Number:
		t.readingSaid(tok)
	case q.doubt != nil && tok.Kind == scan.Said1 && tok.Word == scan.Yes:
		r := q.hand
		r.Sure = true
		if q.doubt.Has {
			r = q.doubt.Meant
		}
		t.readingTaken(r)
	case q.doubt != nil && tok.Kind == scan.Said1 && tok.Word == scan.No && q.doubt.Has:
		r := q.hand
		r.Sure = true
		t.readingTaken(r)
	case q.doubt == nil && tok.Kind == scan.Said1 && tok.Word == scan.OK && (len(q.names) > 1 || q.want != 1 && len(q.reads) > 0):
		t.pointPassed()
	default:
		t.unasked(tok)
	}
}

func (t *turn) readingSaid(tok scan.Token) {
	q := t.ask
	r := scan.ReadSaid{Point: q.pointName(), Digits: tok.Digits, Unit: tok.Unit, Value: tok.Real, Celsius: tok.Warm}
	if r.Digits == "" {
		r.Digits = itoa(tok.N)
	}
	if q.Doubt != nil {
		if d := q.Doubt(t.said, r); d != nil {
			q.doubt, q.hand = d, r
			t.view = View{Big: r.String()}
			t.beep(Alert)
			return
		}
	}
	t.readingTaken(r)
}

// readingTaken echoes a reading and ends when every point has one.
func (t *turn) readingTaken(r scan.ReadSaid) {
	q := t.ask
	q.doubt, q.hand = nil, scan.ReadSaid{}
	q.reads = grow(q.reads, r)
	q.point++
	t.view = View{Big: r.String()}
	t.readingsEnd()
}

// pointPassed leaves a point unread, or ends readings that have no number.
func (t *turn) pointPassed() {
	if len(t.ask.names) == 0 {
		t.reply(scan.Reply{Reads: t.ask.reads})
		return
	}
	t.ask.point++
	t.view = View{}
	t.readingsEnd()
}

func (t *turn) readingsEnd() {
	q := t.ask
	if q.want > 0 && q.point >= q.want {
		t.reply(scan.Reply{Reads: q.reads})
		return
	}
	t.beep(Heard)
}

// pointName is the point that the next reading is of; empty where there is one.
func (q *asking) pointName() string {
	if q.point < len(q.names) {
		return q.names[q.point]
	}
	return ""
}

// readingsText is what the screen asks: about the reading in hand, or for the
// next one.
func (q *asking) readingsText(text string) string {
	switch {
	case q.doubt != nil && q.doubt.Has:
		return q.doubt.Text + " YES, " + q.doubt.Meant.String() + "; NO, " + q.hand.String() + "; or the reading again"
	case q.doubt != nil:
		return q.doubt.Text + ". YES, it reads so; or the reading again"
	case q.pointName() != "":
		return text + " At " + q.pointName() + " (" + itoa(q.point+1) + " of " + itoa(q.want) + "; OK: not read)"
	case q.want != 1 && len(q.reads) > 0 && q.want > 0:
		return text + " (" + itoa(q.point+1) + " of " + itoa(q.want) + ")"
	case q.want == 0 && len(q.reads) > 0:
		return "The next one; OK ends it"
	}
	return text
}
