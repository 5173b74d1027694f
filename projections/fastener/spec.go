package fastener

import "strings"

// Form is what kind of thing a fastener is. Its text is the word that the
// canonical text uses.
type Form string

// The forms.
const (
	AnyForm   Form = ""     // not known: a thread and nothing more
	Bolt      Form = "bolt" // bolts and screws with a head; not written in the canonical text
	SetScrew  Form = "set screw"
	BanjoBolt Form = "banjo bolt"
	Plug      Form = "plug"
	SparkPlug Form = "spark plug"
	GlowPlug  Form = "glow plug"
	Stud      Form = "stud"
	Nut       Form = "nut"
	Insert    Form = "insert" // thread insert
	Switch    Form = "switch"
	Sensor    Form = "sensor"
	Fitting   Form = "fitting"
	Handle    Form = "handle"
	Post      Form = "post"
	Pin       Form = "pin"
	Washer    Form = "washer"
	SealRing  Form = "seal ring"
	ORing     Form = "O-ring"
	SnapRing  Form = "snap ring"
	Dowel     Form = "dowel"
	CorePlug  Form = "core plug"
	CotterPin Form = "cotter pin"
)

// withArticle is the form with a or an before it.
func (f Form) withArticle() string {
	if f == Insert || f == ORing {
		return "an " + string(f)
	}
	return "a " + string(f)
}

// Spec is one kind of fastener. Specs compare with ==; two that are equal have
// the same canonical text. A field that is empty or zero is unknown, except
// Feature and SecondThread: no feature means plain, no second thread means
// that a stud has one thread all along.
type Spec struct {
	Form         Form
	Thread       Thread     // of a stud: the host end
	SecondThread Thread     // of a stud: the nut end, where it differs
	LengthMm     float64    // nominal length in millimetres, 0 unknown; whole length of a stud
	SizesMm      [3]float64 // of rings and washers, in the order written, 0 from the first unknown on
	SizesInch    bool       // the sizes are written in inches
	Class        string     // 8.8, 10, A2-70, grade 5, copper
	Head         string     // flange, 12pt, castle; of a washer its kind
	Use          string     // of switches, sensors, fittings and pins: oil pressure, coolant, guide
	Feature      string     // what sets this kind apart: hollow, thread-lock patch
}

// Length is the nominal length, unknown where none is given.
func (s Spec) Length() Length {
	if s.LengthMm <= 0 {
		return Length{}
	}
	return Mm(s.LengthMm)
}

// String is the canonical text: the identity of this kind.
func (s Spec) String() string {
	var b strings.Builder
	if s.Thread.Known() {
		s.writeThreads(&b)
	} else {
		s.writeSized(&b)
	}
	if s.Feature != "" {
		word(&b, "("+s.Feature+")")
	}
	return b.String()
}

func (s Spec) writeThreads(b *strings.Builder) {
	s.Thread.write(b)
	if s.SecondThread.Known() {
		b.WriteByte('/')
		s.SecondThread.write(b)
	}
	if s.LengthMm > 0 {
		b.WriteByte('x')
		b.WriteString(s.lengthText())
	}
	if s.Thread.Left {
		word(b, "LH")
	}
	word(b, s.Class)
	word(b, s.Head)
	word(b, s.Use)
	if s.Form != Bolt || !s.boltByItself() {
		word(b, string(s.Form))
	}
}

func (s Spec) writeSized(b *strings.Builder) {
	word(b, s.Head)
	word(b, s.Use)
	word(b, string(s.Form))
	if s.SizesMm[0] > 0 {
		word(b, s.sizesText())
	}
	word(b, s.Class)
}

// word appends a word and the blank before it.
func word(b *strings.Builder, w string) {
	if w == "" {
		return
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	b.WriteString(w)
}

// boltByItself reports whether the text without a form word reads as a bolt.
func (s Spec) boltByItself() bool {
	return s.LengthMm > 0 || s.Head != "" || boltClass(s.Class)
}

// lengthText is the length in the units of the last thread written.
func (s Spec) lengthText() string {
	if !s.nutEnd().System.inches() {
		return decimal(s.LengthMm)
	}
	if text, ok := inchText(s.LengthMm); ok {
		return text
	}
	return decimal(s.LengthMm) + "mm"
}

func (s Spec) sizesText() string {
	var b strings.Builder
	fraction := false
	for i, mm := range s.SizesMm {
		if mm <= 0 {
			break
		}
		if i > 0 {
			b.WriteByte('x')
		}
		text := decimal(mm)
		if s.SizesInch {
			text, _ = inchText(mm)
			fraction = fraction || strings.IndexByte(text, '/') >= 0
		}
		b.WriteString(text)
	}
	if s.SizesInch && !fraction {
		b.WriteByte('"')
	}
	return b.String()
}
