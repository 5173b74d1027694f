package fastener

import (
	"fmt"
	"regexp"
	"strings"
)

var (
	pointsRE    = regexp.MustCompile(`^12[- ]?(?:pts?|points?)\b`)
	boltClassRE = regexp.MustCompile(`^\d{1,2}\.\d\b`)
	nutClassRE  = regexp.MustCompile(`^(?:04|05|4|5|6|8|9|10|12)\b`)
	gradeRE     = regexp.MustCompile(`^(?:grade|gr\.?|g) ?-?(\d(?:\.\d)?)\b`)
	stainlessRE = regexp.MustCompile(`^([acf][1-5])(?:-(\d{2,3}))?\b`)
	hardnessRE  = regexp.MustCompile(`^(\d{3}) ?hv\b`)
	betweenRE   = regexp.MustCompile(`^[ -]{1,3}(?:[1-3][ab]|[3-9][egh](?:[3-9][egh])?)( ?x)`)
	toleranceRE = regexp.MustCompile(`^(?:[1-3][ab]|[3-9][egh](?:[3-9][egh])?)\b`)
	wordRE      = regexp.MustCompile(`^\p{L}[\p{L}\p{M}\d]*(?:-[\p{L}\p{M}\d]+)*`)
	sizeRE      = regexp.MustCompile(`^(\d{1,2}-\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{0,4}\.\d{1,6}|\d{1,4})("?)`)
	bySizeRE    = regexp.MustCompile(`^ ?[x*] ?(\d{1,2}-\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{0,4}\.\d{1,6}|\d{1,4})("?)`)
	sizeUnitRE  = regexp.MustCompile(`^ ?(in|mm)\b`)
	sizeNextRE  = regexp.MustCompile(`^ ?[x*] ?[\d.]`)
)

// placed is a word and where it stands in the plain text.
type placed struct {
	word string
	pos  int
}

// parser gathers the pieces of one text in any order.
type parser struct {
	*scanner
	spec  Spec
	words []placed
	left  bool
	sized int // where the sizes stand
}

// Parse reads a fastener as people write it. The canonical text of what it
// returns is read back as the same Spec. An error is a *SyntaxError.
func Parse(text string) (Spec, error) {
	sc, err := newScanner(text)
	if err != nil {
		return Spec{}, err
	}
	p := &parser{scanner: sc}
	if sc.s == "" {
		return Spec{}, sc.failColumn(1, "", "nothing written", "write a fastener, as in M8x1.25x30 8.8 flange")
	}
	if err := p.cutFeature(); err != nil {
		return Spec{}, err
	}
	if err := p.gather(); err != nil {
		return Spec{}, err
	}
	if err := p.resolve(); err != nil {
		return Spec{}, err
	}
	return p.spec, nil
}

// ParseWithFeature reads a fastener whose feature is written apart from it. A
// text that has a feature of its own must agree.
func ParseWithFeature(text, feature string) (Spec, error) {
	spec, err := Parse(text)
	if err != nil {
		return Spec{}, err
	}
	sc, err := newScanner(feature)
	if err != nil {
		return Spec{}, fmt.Errorf("feature of %s: %w", spec, err)
	}
	f := strings.TrimSpace(sc.s)
	if err := sc.checkFeature(0, f); err != nil {
		return Spec{}, fmt.Errorf("feature of %s: %w", spec, err)
	}
	if spec.Feature != "" && f != "" && spec.Feature != f {
		return Spec{}, sc.failColumn(1, f, fmt.Sprintf("the fastener is written with another feature, %q", spec.Feature), "write the feature once")
	}
	if f != "" {
		spec.Feature = f
	}
	return spec, nil
}

// cutFeature takes the feature in brackets off the end of the plain text.
func (p *parser) cutFeature() error {
	open := strings.IndexByte(p.s, '(')
	if open < 0 {
		if i := strings.IndexByte(p.s, ')'); i >= 0 {
			return p.fail(i, ")", "a bracket is closed that was not opened", "write the feature last and in brackets: (hollow)")
		}
		return nil
	}
	if !strings.HasSuffix(p.s, ")") {
		return p.fail(open, "(", "the feature does not end the text", "write the feature last and in brackets: (hollow)")
	}
	f := strings.TrimSpace(p.s[open+1 : len(p.s)-1])
	if f == "" {
		return p.fail(open, "()", "a feature without words", "write what sets this kind apart, or leave the brackets out")
	}
	if err := p.checkFeature(open+1, f); err != nil {
		return err
	}
	p.spec.Feature = f
	p.s = strings.TrimSpace(p.s[:open])
	return nil
}

// checkFeature holds a feature to what the canonical text can carry.
func (sc *scanner) checkFeature(pos int, f string) error {
	if i := strings.IndexAny(f, "()"); i >= 0 {
		return sc.fail(pos, f, "brackets inside a feature", "write the feature without round brackets")
	}
	if n := len([]rune(f)); n > maxFeatureRunes {
		return sc.fail(pos, "", fmt.Sprintf("a feature of %d characters", n), fmt.Sprintf("write it in %d or fewer", maxFeatureRunes))
	}
	return nil
}

// gather reads the pieces of the text one after the other.
func (p *parser) gather() error {
	for {
		p.skip(" ,;-")
		if p.end() {
			return nil
		}
		at := p.pos
		for _, read := range []func() (bool, error){p.readThread, p.readSizesOfForm, p.readClass, p.readSizes, p.readWord} {
			ok, err := read()
			if err != nil {
				return err
			}
			if ok {
				break
			}
		}
		if p.pos == at {
			return p.fail(at, p.near(at), "this cannot be read here", "write thread, length, class, head and form with blanks between them, as in M8x1.25x30 8.8 flange")
		}
	}
}

func (p *parser) readThread() (bool, error) {
	if p.spec.Thread.Known() {
		return false, nil
	}
	t, length, ok, err := p.thread()
	if !ok || err != nil {
		return ok, err
	}
	p.spec.Thread = t
	if length > 0 {
		p.spec.LengthMm = length
		return true, p.noMore()
	}
	if err := p.secondThread(); err != nil {
		return true, err
	}
	return true, p.length()
}

// secondThread reads the nut end of a stud after a stroke.
func (p *parser) secondThread() error {
	if !strings.HasPrefix(p.rest(), "/") {
		return nil
	}
	at := p.pos
	p.pos++
	t, length, ok, err := p.thread()
	if err != nil {
		return err
	}
	if !ok {
		return p.fail(at, p.near(at), "no second thread after the stroke", "write a stud as host end / nut end, as in M10x1.5/M8x1.25x60 stud")
	}
	p.spec.LengthMm = length
	if t != p.spec.Thread {
		p.spec.SecondThread = t
	}
	return nil
}

// length reads the length after the thread, in the unit of the thread.
func (p *parser) length() error {
	if p.spec.LengthMm > 0 {
		return p.noMore()
	}
	t := p.spec.nutEnd()
	if m := betweenRE.FindStringSubmatch(p.rest()); m != nil {
		p.pos += len(m[0]) - len(m[1])
	}
	at := p.pos
	if !t.System.inches() {
		if m := p.take(byRE); m != nil {
			p.spec.LengthMm = number(m[1])
		}
	} else if m := p.take(inchByRE); m != nil {
		if m[2] == "mm" {
			p.spec.LengthMm = number(m[1])
		} else {
			p.spec.LengthMm = inches(strings.Replace(m[1], " ", "-", 1))
		}
	}
	if p.pos > at && (p.spec.LengthMm <= 0 || p.spec.LengthMm > 3000) {
		return p.fail(at, p.s[at:p.pos], "no length", "write a length above 0 and below 3 m")
	}
	return p.noMore()
}

// noMore refuses a further number after the length.
func (p *parser) noMore() error {
	if byRE.MatchString(p.rest()) {
		return p.fail(p.pos, p.near(p.pos), "one number too many", "write diameter x pitch x length, as in M8x1.25x30")
	}
	return nil
}

// readSizesOfForm reads sizes where a ring or washer has just been named.
func (p *parser) readSizesOfForm() (bool, error) {
	if len(p.words) == 0 || p.spec.Thread.Known() {
		return false, nil
	}
	form, n := formAtEnd(p.words)
	if n == 0 || !formRules[form].sizes {
		return false, nil
	}
	return p.readSizes()
}

// readSizes reads 24x30, 10.5x2.5, 3/8.
func (p *parser) readSizes() (bool, error) {
	if p.spec.Thread.Known() || p.spec.SizesMm[0] > 0 {
		return false, nil
	}
	at := p.pos
	m := p.take(sizeRE)
	if m == nil {
		return false, nil
	}
	texts, inch := []string{m[1]}, m[2] != ""
	for len(texts) < len(p.spec.SizesMm) {
		if m = p.take(bySizeRE); m == nil {
			break
		}
		texts, inch = append(texts, m[1]), inch || m[2] != ""
	}
	unit := p.take(sizeUnitRE)
	inch = inch || unit != nil && unit[1] == "in"
	for _, t := range texts {
		inch = inch || strings.IndexByte(t, '/') >= 0
	}
	p.spec.SizesInch, p.sized = inch, at
	for i, t := range texts {
		mm, exact := number(t), true
		if inch {
			mm = inches(t)
			_, exact = inchText(mm)
		}
		if mm <= 0 || mm > 3000 || !exact {
			return true, p.fail(at, p.s[at:p.pos], "no size", "write sizes above 0, in millimetres or in 64ths of an inch")
		}
		p.spec.SizesMm[i] = mm
	}
	if sizeNextRE.MatchString(p.rest()) {
		return true, p.fail(p.pos, p.near(p.pos), "one number too many", "write up to three sizes, as in washer 8.4x16x1.6")
	}
	return true, nil
}
