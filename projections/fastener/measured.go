package fastener

import (
	"fmt"
	"math"
	"regexp"
	"strings"
)

// Measured is a fastener that somebody found and does not know: what was read
// off it, everything else left open. The thread is either named (Spec.Thread,
// from a size card or a thread gauge) or measured over its crests. A field of
// Spec that is empty was not looked at: of a Measured no feature does not mean
// plain.
type Measured struct {
	Spec       Spec
	DiameterMm float64 // over the crests, where the thread is not named; 0: not measured
	PitchMm    float64 // of a thread that is not named; 0: not measured
}

// Likeness is how a found fastener compares with a kind.
type Likeness struct {
	Match
	OffMm float64 // how far the measured sizes are from the kind's nominal ones, all together
}

// How far a reading may be off, in millimetres or as a part.
const (
	caliperMm = 0.05 // a caliper in a greasy hand (common practice)
	wornPart  = 0.01 // crests that were worn or wire-brushed down (common practice)
	gaugePart = 0.03 // threads of nearer pitch a gauge does not tell apart: 1.25 mm and 20 per inch (common practice)
)

// Crests is what a sound outside thread measures over its crests, in
// millimetres: 6g of ISO 965-1 for metric threads, 2A of ASME B1.1 for inch
// threads, by their formulas without rounding. A taper pipe thread is up to a
// sixteenth of its length smaller at its end; 20 mm of it are allowed for.
func (t Thread) Crests() (lo, hi float64) {
	d, p := t.DiameterMm, t.PitchMm
	switch t.System {
	case Metric:
		es := (15 + 11*p) / 1000                              // ISO 965-1: deviation g
		td := (180*math.Cbrt(p*p) - 3.15/math.Sqrt(p)) / 1000 // ISO 965-1: tolerance of grade 6
		return d - es - td, d - es
	case Inch:
		di, pi := d/mmPerInch, p/mmPerInch
		es := 0.3 * (0.0015*math.Cbrt(di) + 0.0015*math.Sqrt(di) + 0.015*math.Cbrt(pi*pi)) // ASME B1.1: 2A, engaged over one diameter
		td := 0.060 * math.Cbrt(pi*pi)
		return d - (es+td)*mmPerInch, d - es*mmPerInch
	case PipeR, PipeNPT, PipeNPTF:
		return d - 20.0/16, d
	}
	return d * (1 - gaugePart), d
}

// lengthOffMm is the tolerance of a bolt's length, half of IT17 of ISO 286-1
// (product grade B, ISO 4759-1), in millimetres; the caliper's beside it.
func lengthOffMm(mm float64) float64 {
	for _, row := range [...]struct{ upTo, off float64 }{{10, 0.75}, {18, 0.9}, {30, 1.05}, {50, 1.25}, {80, 1.5}, {120, 1.75}, {180, 2}} {
		if mm <= row.upTo {
			return row.off + caliperMm
		}
	}
	return 2.3 + caliperMm
}

// Like compares a found fastener with a kind: what differs, what could not be
// compared, and how far the sizes are off.
func (m Measured) Like(k Spec) Likeness {
	var l Likeness
	s := m.Spec
	l.field(FieldForm, s.Form == k.Form, s.Form == AnyForm && formRules[k.Form].family == outside || k.mayBe(s.Form))
	if s.Form == AnyForm && formRules[k.Form].family != outside {
		l.Differ |= FieldForm
	}
	m.thread(k, &l)
	switch {
	case s.LengthMm == 0 || k.LengthMm == 0:
		l.field(FieldLength, s.LengthMm == k.LengthMm, true)
	case math.Abs(s.LengthMm-k.LengthMm) > lengthOffMm(k.LengthMm):
		l.Differ |= FieldLength
	default:
		l.OffMm += math.Abs(s.LengthMm - k.LengthMm)
	}
	l.field(FieldClass, s.Class == k.Class, s.Class == "" || k.Class == "")
	l.field(FieldHead, s.Head == k.Head, s.Head == "" || k.Head == "")
	l.field(FieldUse, s.Use == k.Use, s.Use == "" || k.Use == "")
	l.field(FieldFeature, s.Feature == k.Feature, s.Feature == "")
	l.Unknown &^= l.Differ
	return l
}

// Asked is the fields that were looked at.
func (m Measured) Asked() Field {
	var f Field
	for _, row := range [...]struct {
		field  Field
		looked bool
	}{
		{FieldForm, m.Spec.Form != AnyForm}, {FieldThread, m.Spec.Thread.Known() || m.DiameterMm > 0},
		{FieldPitch, m.Spec.Thread.Known() && !m.Spec.Thread.PitchAssumed || m.PitchMm > 0}, {FieldLength, m.Spec.LengthMm > 0},
		{FieldClass, m.Spec.Class != ""}, {FieldHead, m.Spec.Head != ""}, {FieldUse, m.Spec.Use != ""}, {FieldFeature, m.Spec.Feature != ""},
	} {
		if row.looked {
			f |= row.field
		}
	}
	return f
}

// thread compares threads; of a stud with two, either end may have been
// measured.
func (m Measured) thread(k Spec, l *Likeness) {
	best := m.oneThread(k.Thread)
	if k.SecondThread.Known() {
		if other := m.oneThread(k.SecondThread); best.Differ != 0 && other.Differ == 0 {
			best = other
		}
	}
	l.Differ |= best.Differ
	l.Unknown |= best.Unknown
	l.OffMm += best.OffMm
}

func (m Measured) oneThread(t Thread) (l Likeness) {
	switch {
	case !t.Known():
		l.Differ |= FieldThread
	case m.Spec.Thread.Known():
		l.threads(m.Spec.Thread, t)
	default:
		m.gauged(t, &l)
	}
	return l
}

// gauged holds a caliper and a thread gauge against a thread.
func (m Measured) gauged(t Thread, l *Likeness) {
	lo, hi := t.Crests()
	switch {
	case m.DiameterMm == 0:
		l.Unknown |= FieldThread
	case m.DiameterMm < lo-wornPart*t.DiameterMm-caliperMm || m.DiameterMm > max(hi, t.DiameterMm)+caliperMm:
		l.Differ |= FieldThread
	default:
		l.OffMm += max(0, lo-m.DiameterMm, m.DiameterMm-hi)
	}
	switch {
	case m.PitchMm == 0 || t.PitchAssumed:
		l.Unknown |= FieldPitch
	case !near(m.PitchMm, t.PitchMm, gaugePart):
		l.Differ |= FieldPitch
	}
}

// String writes what was read off a fastener: "M8x1.25x30", "7.85 mm, pitch
// 1.25, 30 mm long".
func (m Measured) String() string {
	if m.Spec.Thread.Known() {
		return m.Spec.String()
	}
	var words []string
	if m.DiameterMm > 0 {
		words = append(words, decimal(nano(m.DiameterMm))+" mm")
	}
	if m.PitchMm > 0 {
		words = append(words, "pitch "+decimal(math.Round(m.PitchMm*1000)/1000))
	}
	if m.Spec.LengthMm > 0 {
		words = append(words, decimal(nano(m.Spec.LengthMm))+" mm long")
	}
	for _, w := range []string{m.Spec.Class, m.Spec.Head, m.Spec.Use, string(m.Spec.Form), m.Spec.Feature} {
		if w != "" {
			words = append(words, w)
		}
	}
	if len(words) == 0 {
		return "a fastener"
	}
	return strings.Join(words, ", ")
}

const readingRE = `(\?|\d{1,4}(?:\.\d{1,6})?|\.\d{1,6}|\d{1,2}-\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2})`

// found reads diameter x pitch x length and the words behind them.
var found = regexp.MustCompile(`^` + readingRE + ` ?(mm|in|")?(?: ?x ?` + readingRE + ` ?(mm|tpi|in|")?)?(?: ?x ?` + readingRE + ` ?(mm|in|")?)?(?: (.*))?$`)

// ParseMeasured reads what was read off a fastener. A named thread is written
// as for Parse: M8x1.25x30, M8x1.25, M8, 5/16-18. A measured one is diameter x
// pitch x length, in millimetres or with the unit, ? for what is not known, and
// the words of Parse for class, head and form behind it: 7.85x1.25x30,
// 7.85x?x30 flange, 0.307in x 18tpi x 1-1/4in. An error is a *SyntaxError.
func ParseMeasured(text string) (Measured, error) {
	spec, err := Parse(text)
	if err == nil && spec.Thread.Known() {
		return Measured{Spec: spec}, nil
	}
	sc, bad := newScanner(text)
	if bad != nil {
		return Measured{}, bad
	}
	g := found.FindStringSubmatch(sc.s)
	if g == nil {
		if err == nil {
			err = sc.failColumn(1, "", "nothing that a caliper reads off a bolt", "write diameter x pitch x length, ? for what is not known: 7.85x1.25x30")
		}
		return Measured{}, err
	}
	return sc.measured(g)
}

func (sc *scanner) measured(g []string) (m Measured, err error) {
	if m.DiameterMm, err = sc.reading(g[1], g[2]); err != nil {
		return Measured{}, err
	}
	if g[4] == "tpi" && g[3] != "?" {
		if tpi := number(g[3]); tpi > 0 {
			m.PitchMm = mmPerInch / tpi
		}
	} else if m.PitchMm, err = sc.reading(g[3], g[4]); err != nil {
		return Measured{}, err
	}
	if m.Spec.LengthMm, err = sc.reading(g[5], g[6]); err != nil {
		return Measured{}, err
	}
	if d := m.DiameterMm; g[1] != "?" && (d < 1 || d > 300) {
		action := "write it with its unit, as in 7.85mm or 0.307in"
		if d < 1 && d > 0 {
			action = "in inches write " + g[1] + "in"
		}
		return Measured{}, sc.failColumn(1, g[1], fmt.Sprintf("%s mm is no diameter of a bolt", decimal(nano(d))), action)
	}
	if d := m.DiameterMm; d > 0 && m.PitchMm > d/3 {
		return Measured{}, sc.failColumn(1, g[3], fmt.Sprintf("%s mm is no pitch of a bolt of %s mm", decimal(nano(m.PitchMm)), decimal(nano(d))),
			"write threads per inch as "+g[3]+"tpi, an unknown pitch as ?")
	}
	if m.Spec.LengthMm > 3000 {
		return Measured{}, sc.failColumn(1, g[5], "no length", "write a length above 0 and below 3 m")
	}
	return m, sc.words(strings.TrimSpace(g[7]), &m)
}

// reading is one number in millimetres; 0 where it is not known.
func (sc *scanner) reading(text, unit string) (float64, error) {
	switch {
	case text == "" || text == "?":
		return 0, nil
	case unit == "in" || unit == `"`:
		if mm := inches(text); mm > 0 {
			return mm, nil
		}
		return 0, sc.failColumn(1, text, "no length in inches", "write it as in 1-1/4in or 0.307in")
	case strings.ContainsAny(text, "/-"):
		return 0, sc.failColumn(1, text, "a fraction without a unit", "in inches write "+text+"in")
	}
	return number(text), nil
}

// words reads class, head and form behind the sizes, as Parse does behind a
// thread.
func (sc *scanner) words(rest string, m *Measured) error {
	if rest == "" {
		return nil
	}
	spec, err := Parse("M8 " + rest)
	if err != nil {
		return sc.failColumn(1, rest, "these words say nothing of a fastener", "write class, head and form, as in 8.8 flange, or nothing")
	}
	m.Spec.Class, m.Spec.Head, m.Spec.Use, m.Spec.Feature = spec.Class, spec.Head, spec.Use, spec.Feature
	m.Spec.Form = spec.Form
	return nil
}
