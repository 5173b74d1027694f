package fastener

import (
	"fmt"
	"strings"
)

// Outcome is what comes of a fastener in a hole, from harmless to refused.
type Outcome uint8

// The outcomes. The numbers are not stored.
const (
	Unknown    Outcome = iota // not all is known, and what is known is no objection
	Fits                      // inside the window
	NotScrewed                // a nut, washer or ring: no window applies
	Short                     // warned: less thread than the material wants
	NutShort                  // warned: the stud does not fill its nut
	NutOff                    // refused: the stud does not reach its nut
	NoReach                   // refused: it ends before the thread
	Strikes                   // refused: it stands out behind further than there is room
	Bottoms                   // refused: it reaches the end of the thread before it clamps
	NoStart                   // refused: its thread does not start in this hole
)

var outcomeWords = [...]string{"unknown", "fits", "not screwed in", "too little thread", "nut not filled",
	"nut not reached", "thread not reached", "no room behind", "bottoms", "does not start"}

// String is the outcome in a few words.
func (o Outcome) String() string {
	if int(o) < len(outcomeWords) {
		return outcomeWords[o]
	}
	return fmt.Sprintf("outcome %d", uint8(o))
}

// Refused reports whether a fastener with this outcome must not go in.
func (o Outcome) Refused() bool { return o >= NutOff }

// Warned reports whether somebody should look before it goes in.
func (o Outcome) Warned() bool { return o == Short || o == NutShort }

func worse(a, b Outcome) Outcome { return max(a, b) }

// Lack is a set of things that are not known of a hole or a fastener.
type Lack uint16

// What may be unknown.
const (
	LackThread    Lack = 1 << iota // which thread the hole or the fastener has
	LackLength                     // how long the fastener is
	LackGrip                       // what is clamped
	LackDepth                      // how deep the thread goes
	LackRoom                       // the room behind a through hole
	LackMaterial                   // what the thread is cut in
	LackRunIn                      // how deep a stud is run in
	LackNutHeight                  // how high the nut is
	lacksEnd
)

var lackWords = [...]string{"thread", "length", "grip", "depth of the thread", "room behind", "material of the thread", "run-in", "height of the nut"}

// String names what is unknown, with commas.
func (l Lack) String() string {
	var names []string
	for i, bit := 0, Lack(1); bit < lacksEnd; i, bit = i+1, bit<<1 {
		if l&bit != 0 {
			names = append(names, lackWords[i])
		}
	}
	return strings.Join(names, ", ")
}

// Verdict is what would happen if a fastener went into a hole. Lengths that
// could not be computed are unknown.
type Verdict struct {
	Outcome Outcome
	Spec    Spec
	Hole    Hole
	Lacks   Lack // what is unknown, also where the outcome is known without it

	EntersMm  Length  // how much enters, or would; of a stud the run-in
	MayMm     Length  // the most that may enter
	WantsMm   Length  // the least that should carry
	CarriesMm Length  // the thread that carries
	ByMm      float64 // by how much it bottoms early, strikes, or ends before the thread
	ProudMm   Length  // of a stud: what stands out of its hole
	NeedsMm   Length  // of a stud: clamped stack and nut
	ShortMm   float64 // of a stud: how much of the nut, or the way to it, is missing

	factor float64 // diameters that the material wants
	metric bool    // say it in millimetres only
}

// Refused reports whether the fastener must not go in.
func (v Verdict) Refused() bool { return v.Outcome.Refused() }

// Warned reports whether somebody should look before it goes in.
func (v Verdict) Warned() bool { return v.Outcome.Warned() }

// String says it in plain words: in inches with the millimetres beside them
// where the hole's thread, or else the fastener's, is an inch thread; otherwise
// in millimetres.
func (v Verdict) String() string { return v.Spec.Size() + " in this hole: " + v.words() }

// Metric is the verdict that says all lengths in millimetres, whatever the
// thread.
func (v Verdict) Metric() Verdict {
	v.metric = true
	return v
}

// far writes a length in the unit of the verdict.
func (v Verdict) far(mm float64) string {
	t := v.Hole.Thread
	if !t.Known() {
		t = v.Spec.Thread
	}
	if v.metric || !t.System.inches() {
		return mmText(mm)
	}
	return bothText(mm)
}

func (v Verdict) long(l Length) string {
	if !l.known {
		return l.String()
	}
	return v.far(l.mm)
}

func (v Verdict) words() string {
	switch v.Outcome {
	case NotScrewed:
		return fmt.Sprintf("%s is not screwed into it", v.Spec.Form.withArticle())
	case NoStart:
		if v.Spec.Thread.Jams(v.Hole.Thread) {
			return fmt.Sprintf("it starts in %s and jams: its pitch is %s, the hole's %s", v.Hole.Thread.withHand(), v.Spec.Thread.pitchText(), v.Hole.Thread.pitchText())
		}
		return fmt.Sprintf("it does not start in %s", v.Hole.Thread.withHand())
	case NoReach:
		if v.ByMm < lookMm {
			return "it ends where the thread begins"
		}
		return fmt.Sprintf("it ends %s before the thread", v.far(v.ByMm))
	case Bottoms:
		return fmt.Sprintf("%s would enter, %s may: it bottoms %s early", v.long(v.EntersMm), v.long(v.MayMm), v.far(v.ByMm))
	case Strikes:
		return fmt.Sprintf("%s would enter, %s may: it stands %s too far out behind", v.long(v.EntersMm), v.long(v.MayMm), v.far(v.ByMm))
	case NutOff:
		return fmt.Sprintf("%s stands out, %s are clamped: it ends %s before the nut", v.long(v.ProudMm), v.long(v.Hole.GripMm), v.far(v.ShortMm))
	case NutShort:
		return fmt.Sprintf("%s stands out, stack and nut need %s: %s of the nut stay empty", v.long(v.ProudMm), v.long(v.NeedsMm), v.far(v.ShortMm))
	case Short:
		return v.shortWords()
	case Fits:
		return v.fitWords()
	}
	if v.EntersMm.known {
		return fmt.Sprintf("%s enters; not known: %s", v.long(v.EntersMm), v.Lacks)
	}
	return "cannot be said; not known: " + v.Lacks.String()
}

func (v Verdict) shortWords() string {
	wants := fmt.Sprintf("%s should in %s (%s x diameter)", v.long(v.WantsMm), v.Hole.ThreadIn, decimal(v.factor))
	if v.CarriesMm != v.EntersMm {
		return fmt.Sprintf("%s of thread carries, %s", v.long(v.CarriesMm), wants)
	}
	return fmt.Sprintf("it catches by %s, %s", v.long(v.EntersMm), wants)
}

func (v Verdict) fitWords() string {
	text := v.long(v.EntersMm) + " enters"
	if v.MayMm.known {
		text += fmt.Sprintf(", %s may", v.long(v.MayMm))
	}
	if v.ProudMm.known && v.NeedsMm.known {
		text += fmt.Sprintf("; %s stands out, stack and nut need %s", v.long(v.ProudMm), v.long(v.NeedsMm))
	}
	return text + ": it fits"
}
