package fastener

import (
	"fmt"
	"math"
	"strings"
)

// Field is a set of the things in which two kinds can differ.
type Field uint16

// The fields of a Spec as people tell kinds apart.
const (
	FieldForm    Field = 1 << iota // bolt, stud, plug
	FieldThread                    // diameter or system
	FieldPitch                     // same diameter and system, other pitch
	FieldHand                      // left or right
	FieldNutEnd                    // second thread of a stud
	FieldLength                    // length
	FieldSizes                     // sizes of rings and washers
	FieldClass                     // property class, grade, material
	FieldHead                      // head
	FieldUse                       // what it is used for
	FieldFeature                   // the feature that sets it apart
	fieldsEnd
)

var fieldWords = [...]string{"form", "thread", "pitch", "hand", "nut end", "length", "sizes", "class", "head", "use", "feature"}

// String names the fields, with commas.
func (f Field) String() string {
	var names []string
	for i, bit := 0, Field(1); bit < fieldsEnd; i, bit = i+1, bit<<1 {
		if f&bit != 0 {
			names = append(names, fieldWords[i])
		}
	}
	return strings.Join(names, ", ")
}

// Match is how two kinds compare: in which fields they differ, and which are
// unknown in one of them and so could not be compared.
type Match struct{ Differ, Unknown Field }

// Yes reports whether one may stand in for the other as far as is known.
func (m Match) Yes() bool { return m.Differ == 0 }

// String is "the same", "the same; not known: class" or "differ in length".
func (m Match) String() string {
	text := "the same"
	if m.Differ != 0 {
		text = "differ in " + m.Differ.String()
	}
	if m.Unknown != 0 {
		text += "; not known: " + m.Unknown.String()
	}
	return text
}

// Interchangeable compares two kinds. A field that one of them leaves open
// matches and is named as unknown; where both leave it open there is nothing to
// compare. No feature means plain, so a patch or a
// bore through the middle makes another kind.
func Interchangeable(a, b Spec) Match {
	var m Match
	m.field(FieldForm, a.Form == b.Form, a.mayBe(b.Form) || b.mayBe(a.Form))
	m.threads(a.Thread, b.Thread)
	if a.SecondThread.Known() || b.SecondThread.Known() {
		m.field(FieldNutEnd, start(a.nutEnd(), b.nutEnd()) == startYes, start(a.nutEnd(), b.nutEnd()) == startUnknown)
	}
	m.field(FieldLength, a.LengthMm == b.LengthMm, a.LengthMm == 0 || b.LengthMm == 0)
	for i := range a.SizesMm {
		m.field(FieldSizes, a.SizesMm[i] == b.SizesMm[i], a.SizesMm[i] == 0 || b.SizesMm[i] == 0)
	}
	m.field(FieldClass, a.Class == b.Class, a.Class == "" || b.Class == "")
	m.field(FieldHead, a.Head == b.Head, a.Head == "" || b.Head == "")
	m.field(FieldUse, a.Use == b.Use, a.Use == "" || b.Use == "")
	m.field(FieldFeature, a.Feature == b.Feature, false)
	return m
}

// field notes one comparison.
func (m *Match) field(f Field, same, unknown bool) {
	switch {
	case same:
	case unknown:
		m.Unknown |= f
	default:
		m.Differ |= f
	}
}

func (m *Match) threads(a, b Thread) {
	switch {
	case !a.Known() && !b.Known():
	case !a.Known() || !b.Known():
		m.Unknown |= FieldThread
	case a.System != b.System || a.DiameterMm != b.DiameterMm:
		m.Differ |= FieldThread
	default:
		m.field(FieldPitch, a.PitchMm == b.PitchMm && a.PitchAssumed == b.PitchAssumed, a.PitchAssumed || b.PitchAssumed)
		m.field(FieldHand, a.Left == b.Left, false)
	}
}

// mayBe reports whether a bare thread may turn out to be of this form: of any
// that has a thread.
func (s Spec) mayBe(f Form) bool {
	return s.Form == AnyForm && (formRules[f].family == outside || formRules[f].family == inside)
}

// nutEnd is the thread of a stud's nut end, where it differs or not.
func (s Spec) nutEnd() Thread {
	if s.SecondThread.Known() {
		return s.SecondThread
	}
	return s.Thread
}

// Tolerances within which one thread starts in another: threads of different
// systems that run together, such as 1/2 NPT in G1/2, are nearer than this,
// and no two metric sizes of one pitch are.
const (
	startDiameter = 0.025
	startPitch    = 0.005
)

type startsAs uint8

const (
	startNo startsAs = iota
	startYes
	startUnknown
)

// Starts reports whether a thread would start in a hole, or a nut on a stud:
// the same hand, the same diameter within 2.5 % and the same pitch within
// 0.5 %, so that it runs in by hand and only its length can be wrong. A thread
// that is not known, or a pitch that was only assumed, may start.
func Starts(bolt, hole Thread) bool { return start(bolt, hole) != startNo }

func start(a, b Thread) startsAs {
	switch {
	case !a.Known() || !b.Known():
		return startUnknown
	case a.Left != b.Left || !near(a.DiameterMm, b.DiameterMm, startDiameter):
		return startNo
	case near(a.PitchMm, b.PitchMm, startPitch):
		if a.PitchAssumed != b.PitchAssumed {
			return startUnknown
		}
		return startYes
	case a.PitchAssumed || b.PitchAssumed:
		return startUnknown
	}
	return startNo
}

func near(a, b, part float64) bool { return math.Abs(a-b) <= part*math.Max(a, b) }

// Size is the thread and the length, as one says it at the bench, and of rings
// and washers the whole text.
func (s Spec) Size() string {
	if !s.Thread.Known() {
		return s.String()
	}
	bare := Spec{Form: Bolt, Thread: s.Thread, SecondThread: s.SecondThread, LengthMm: s.LengthMm}
	if s.LengthMm == 0 {
		bare.Form = AnyForm
	}
	return bare.String()
}

func (t Thread) withHand() string {
	if t.Left {
		return fmt.Sprintf("%s LH", t)
	}
	return t.String()
}
