package fastener

import "fmt"

// Reason is why a hand mistakes one kind for another: what it would have to
// look at to tell them apart.
type Reason uint8

// The reasons. The numbers are not stored.
const (
	NotConfused  Reason = iota
	OtherLength         // same thread, other length: each starts in the other's hole
	OtherPitch          // same diameter, other pitch
	OtherHand           // same thread, other hand
	OtherNutEnd         // studs alike but for the nut end
	OtherForm           // same thread and length, but a plug and a sensor, a bolt and a stud
	OtherClass          // alike but for the class or material
	OtherFeature        // alike but for the feature
	OtherHead           // alike but for the head
	OtherUse            // alike but for the use
	OtherSizes          // rings and washers of nearly the same bore
	NearSize            // threads of different systems and nearly the same diameter: M8 and 5/16
)

var reasonWords = [...]string{"not confused", "other length", "other pitch", "other hand", "other nut end", "other form",
	"other class", "other feature", "other head", "other use", "other sizes", "nearly the same size"}

// String is the reason in words.
func (r Reason) String() string {
	if int(r) < len(reasonWords) {
		return reasonWords[r]
	}
	return fmt.Sprintf("reason %d", uint8(r))
}

// Confusion is whether and why two kinds are mistaken for each other.
type Confusion struct {
	Reason Reason // the first thing to look at
	Differ Field  // all in which they differ
}

// Yes reports whether a hand could mistake one for the other.
func (c Confusion) Yes() bool { return c.Reason != NotConfused }

// How near two sizes are that a hand takes for the same (common practice):
// 1/4 and M6 differ by 5.5 %, a seal ring 24x30 and one 25x30 by one
// millimetre.
const (
	nearThread = 0.06
	nearBore   = 0.10
	nearBoreMm = 1
)

// confusing is the order in which a difference is looked for.
var confusing = [...]struct {
	field  Field
	reason Reason
}{
	{FieldPitch, OtherPitch}, {FieldHand, OtherHand}, {FieldNutEnd, OtherNutEnd}, {FieldLength, OtherLength},
	{FieldForm, OtherForm}, {FieldClass, OtherClass}, {FieldFeature, OtherFeature}, {FieldHead, OtherHead}, {FieldUse, OtherUse},
}

// Confusable says whether a hand could mistake one kind for the other, and
// why. Kinds that are interchangeable as far as is known are not confused.
func Confusable(a, b Spec) Confusion {
	m := Interchangeable(a, b)
	if m.Yes() || !sameFamily(a, b) {
		return Confusion{}
	}
	c := Confusion{Differ: m.Differ}
	switch {
	case m.Differ&FieldSizes != 0:
		if nearRings(a, b) {
			c.Reason = OtherSizes
		}
	case m.Differ&FieldThread != 0:
		if a.Thread.System != b.Thread.System && near(a.Thread.DiameterMm, b.Thread.DiameterMm, nearThread) {
			c.Reason = NearSize
		}
	default:
		for _, row := range confusing {
			if m.Differ&row.field != 0 {
				c.Reason = row.reason
				break
			}
		}
	}
	if c.Reason == NotConfused {
		return Confusion{}
	}
	return c
}

// sameFamily reports whether a hand looks for both in the same way: a nut is
// no bolt.
func sameFamily(a, b Spec) bool {
	return a.mayBe(b.Form) || b.mayBe(a.Form) || formRules[a.Form].family == formRules[b.Form].family
}

func nearRings(a, b Spec) bool {
	x, y := a.SizesMm[0], b.SizesMm[0]
	return near(x, y, nearBore) || x-y <= nearBoreMm && y-x <= nearBoreMm
}
