package stretch

import (
	"fmt"

	"countback/projections/fastener/torque"
	"countback/projections/gauge"
)

// Target is what a fastener is to be longer by when it is tight. Readings that
// are none, and a torque that is zero, are not limited.
type Target struct {
	Min    gauge.Reading
	Max    gauge.Reading
	Never  gauge.Reading // beyond this it is spent; none: beyond Max
	Torque torque.Value  // a stretch above Max at less than this torque means that it yields: it is spent
	Source string
}

// Check says what is wrong with a target: no ends, or ends that run backwards.
func (t Target) Check() error {
	limits := gauge.Limits{Of: "stretch", New: gauge.Between(t.Min, t.Max)}
	if t.Max.Known() && t.Never.Known() {
		limits.Service = gauge.AtMost(t.Never)
	}
	if t.Never.Known() && !t.Max.Known() {
		return fmt.Errorf("stretch never above %s: its most is not given", t.Never)
	}
	return limits.Check()
}

// Pull is one tightening of one fastener: its length before and after, and what
// the wrench showed at the end.
type Pull struct {
	Before, After gauge.Reading
	Torque        torque.Value // zero: not read
	Try           int          // 1 for the first; 0 counts as 1
}

// Outcome is what comes of a pull.
type Outcome uint8

// The outcomes. The numbers are not stored.
const (
	NotRead   Outcome = iota // a length is missing
	Doubted                  // no fastener does this: read it again
	ReadAgain                // nearer to a limit than the gauge can tell
	Holds                    // stretched as wanted
	TooLittle                // loosen it with its neighbours, and again
	Still                    // too little a second time: it or what it holds in has to be replaced
	TooMuch                  // not spent: loosen it with its neighbours, and again
	Spent                    // replace it
)

var outcomeWords = [...]string{
	"a length is missing: measure it before and after",
	"no fastener does that: read both lengths again",
	"nearer to the limit than the gauge can tell: read it again",
	"stretched as wanted",
	"too little: loosen it with its neighbours, and do it again",
	"too little again: replace it, and what it is threaded into",
	"too much, not yet spent: loosen it with its neighbours, and do it again",
	"stretched too far: replace it",
}

// String is the outcome with what to do.
func (o Outcome) String() string {
	if int(o) < len(outcomeWords) {
		return outcomeWords[o]
	}
	return fmt.Sprintf("outcome %d", uint8(o))
}

// Verdict is how one pull came out.
type Verdict struct {
	Outcome Outcome
	Target  Target
	Pull    Pull
	Stretch gauge.Reading // after less before
	Reading gauge.Verdict // the stretch against Min and Max
}

// mostOfLength is the greatest stretch as a part of the length that is
// believed: bolts of class 8.8 break at 12 %, of 12.9 at 8 % (ISO 898-1 table
// 3, from memory), and a tight one is stretched by a few tenths of a per cent.
const mostOfLength = 0.05

// Judge says how a pull came out. The band is the guard band of the gauge that
// read the lengths; no reading is no band.
func (t Target) Judge(band gauge.Reading, p Pull) Verdict {
	v := Verdict{Target: t, Pull: p, Stretch: p.After.Minus(p.Before)}
	if !v.Stretch.Known() {
		return v
	}
	if s, whole := v.Stretch.Mm(), p.Before.Mm(); s < 0 || whole <= 0 || s > mostOfLength*whole {
		v.Outcome = Doubted
		return v
	}
	if band.Known() {
		band = band.Plus(band)
	}
	v.Reading = gauge.Limits{Of: "stretch", New: gauge.Between(t.Min, t.Max), Source: t.Source}.Judge(band, v.Stretch)
	v.Outcome = t.outcome(v)
	return v
}

func (t Target) outcome(v Verdict) Outcome {
	above := t.Max.Known() && v.Stretch.Compare(t.Max) > 0
	switch {
	case t.Never.Known() && v.Stretch.Compare(t.Never) > 0:
		return Spent
	case v.Reading.Place == gauge.ReadAgain:
		return ReadAgain
	case v.Reading.Place != gauge.Beyond:
		return Holds
	case above && (!t.Never.Known() || t.Torque.Known() && v.Pull.Torque.Known() && v.Pull.Torque.Nm() < t.Torque.Nm()):
		return Spent
	case above:
		return TooMuch
	case v.Pull.Try > 1:
		return Still
	}
	return TooLittle
}

// String is the stretch, what it was held against, and the outcome.
func (v Verdict) String() string {
	if !v.Stretch.Known() {
		return v.Outcome.String()
	}
	text := fmt.Sprintf("stretched %s, wanted %s", v.Stretch, gauge.Between(v.Target.Min, v.Target.Max))
	if v.Target.Never.Known() {
		text += ", never above " + v.Target.Never.String()
	}
	if v.Pull.Torque.Known() {
		text += ", at " + v.Pull.Torque.String()
	}
	if v.Target.Source != "" {
		text += " (" + v.Target.Source + ")"
	}
	return text + ": " + v.Outcome.String()
}
