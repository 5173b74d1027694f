package fastener

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

var (
	metricRE    = regexp.MustCompile(`^m ?(\d{1,4}(?:\.\d{1,6})?)`)
	pitchDashRE = regexp.MustCompile(`^-(\d(?:\.\d{1,6})?)`)
	byRE        = regexp.MustCompile(`^ ?[x*] ?(\d{1,4}(?:\.\d{1,6})?)(?: ?mm\b)?`)
	mixedRE     = regexp.MustCompile(`^\d{1,2}-\d{1,2}/\d{1,2}"?`)
	inchSizeRE  = regexp.MustCompile(`^(?:#\d{1,2}|\d{1,2}/\d{1,2}|\d?\.\d{1,6}|\d{1,2})"?`)
	tpiRE       = regexp.MustCompile(`^ ?- ?(\d{1,3}(?:\.\d{1,2})?)`)
	seriesRE    = regexp.MustCompile(`^[ -]?(unc|unf|unef|uns|un)(?: ?x ?[\d.]|[^\p{L}\d]|$)`)
	afterPipeRE = regexp.MustCompile(`^ ?(nptf?|bspt|bspp)(?: ?x ?[\d.]|[^\p{L}\d]|$)`)
	pipeRE      = regexp.MustCompile(`^(rp|rc|r|g|nptf?) ?(\d-\d/\d|\d/\d{1,2}|\d)"?`)
	inchByRE    = regexp.MustCompile(`^ ?[x*] ?(\d{1,3}[- ]\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{0,4}\.\d{1,6}|\d{1,4})(?: ?("|in\b|mm\b))?`)
)

// thread reads one thread and, of a metric one written with two numbers, says
// whether the second number is left over as the length. ok is false where the
// text at this place begins no thread.
func (sc *scanner) thread() (t Thread, lengthMm float64, ok bool, err error) {
	at := sc.pos
	if m := sc.take(metricRE); m != nil {
		t, lengthMm, err = sc.metric(at, number(m[1]))
		return t, lengthMm, true, err
	}
	if m := sc.take(pipeRE); m != nil {
		if t, ok = pipe(pipeSystem(m[1]), m[2]); ok {
			return t, 0, true, nil
		}
		// R1/1/4-20 is an R1 with another end, not one of size 1/1.
		if whole, _, cut := strings.Cut(m[2], "/"); cut {
			if t, ok = pipe(pipeSystem(m[1]), whole); ok {
				sc.pos = at + strings.Index(m[0], "/")
				return t, 0, true, nil
			}
		}
		sc.pos = at
		return t, 0, false, nil
	}
	t, ok, err = sc.inch()
	if !ok {
		sc.pos = at
	}
	return t, 0, ok, err
}

func pipeSystem(word string) System {
	switch word {
	case "r", "bspt":
		return PipeR
	case "rc":
		return PipeRc
	case "rp":
		return PipeRp
	case "g", "bspp":
		return PipeG
	case "npt":
		return PipeNPT
	}
	return PipeNPTF
}

// metric reads what follows M and the diameter. One number is a pitch up to a
// quarter of the diameter and a length from half of it on: no thread is that
// coarse and no screw that short.
func (sc *scanner) metric(at int, d float64) (Thread, float64, error) {
	t := Thread{System: Metric, DiameterMm: d}
	if d < 1 || d > 300 {
		return t, 0, sc.fail(at, sc.near(at), fmt.Sprintf("a diameter of %s mm", decimal(d)), "write a diameter from 1 to 300")
	}
	dash := pitchDashRE.FindStringSubmatch(sc.rest())
	if dash != nil && number(dash[1]) > 0 && number(dash[1]) <= d/4 {
		sc.pos += len(dash[0])
		t.PitchMm = number(dash[1])
		return t, 0, nil
	}
	numberAt := sc.pos
	m := sc.take(byRE)
	if m == nil {
		return sc.assume(t, at, 0)
	}
	v := number(m[1])
	two := byRE.MatchString(sc.rest()) || strings.HasPrefix(sc.rest(), "/")
	switch {
	case v > 0 && v <= d/4:
		t.PitchMm = v
		return t, 0, nil
	case two:
		return t, 0, sc.pitchTooCoarse(numberAt, d, v)
	case v >= d/2:
		return sc.assume(t, at, v)
	}
	return t, 0, sc.fail(numberAt, m[0], fmt.Sprintf("%s is too coarse for a pitch of M%s and too short for a length", m[1], decimal(d)),
		"write both, as in "+example(d))
}

// pitchTooCoarse refuses a pitch, and knows pitch and length written the wrong
// way round.
func (sc *scanner) pitchTooCoarse(at int, d, v float64) error {
	action := "write the pitch after the diameter, as in " + example(d)
	if m := byRE.FindStringSubmatch(sc.rest()); m != nil {
		if p := number(m[1]); p > 0 && p <= d/4 && v >= d/2 {
			action = fmt.Sprintf("the pitch comes before the length: write M%sx%sx%s", decimal(d), pitchText(p), decimal(v))
		}
	}
	return sc.fail(at, sc.near(at), fmt.Sprintf("%s mm is no pitch of M%s", decimal(v), decimal(d)), action)
}

func example(d float64) string {
	p, ok := coarsePitchMm[d]
	if !ok {
		p = 1.5
	}
	return fmt.Sprintf("M%sx%sx%s", decimal(d), pitchText(p), decimal(nano(4*d)))
}

// assume gives a metric thread without a pitch the coarse one.
func (sc *scanner) assume(t Thread, at int, lengthMm float64) (Thread, float64, error) {
	p, ok := coarsePitchMm[t.DiameterMm]
	if !ok {
		return t, 0, sc.fail(at, sc.near(at), fmt.Sprintf("M%s has no coarse pitch to assume", decimal(t.DiameterMm)),
			"write the pitch, as in "+example(t.DiameterMm))
	}
	t.PitchMm, t.PitchAssumed = p, true
	return t, lengthMm, nil
}

// inch reads 5/16-18, #10-32, 10-32, 7/16 UNC, 3/8 NPT and their like.
func (sc *scanner) inch() (Thread, bool, error) {
	at := sc.pos
	size, ok := sc.inchSize()
	if !ok {
		return Thread{}, false, nil
	}
	if m := sc.takeWord(afterPipeRE); m != nil {
		t, err := sc.pipeAfter(at, m[1], size, 0)
		return t, true, err
	}
	if m := sc.takeWord(seriesRE); m != nil {
		t, err := sc.bySeries(at, size, m[1])
		return t, true, err
	}
	m := sc.take(tpiRE)
	if m == nil || number(m[1]) < 2 {
		return Thread{}, false, nil
	}
	tpi := number(m[1])
	if p := sc.takeWord(afterPipeRE); p != nil {
		t, err := sc.pipeAfter(at, p[1], size, tpi)
		return t, true, err
	}
	t, err := sc.unified(at, size, tpi)
	if err != nil {
		return t, true, err
	}
	if m := sc.takeWord(seriesRE); m != nil {
		err = sc.checkSeries(at, t, m[1])
	}
	return t, true, err
}

// inchSize reads a nominal size; a mixed number counts only as a proper one.
func (sc *scanner) inchSize() (string, bool) {
	if m := sc.take(mixedRE); m != nil {
		size := strings.TrimSuffix(m[0], `"`)
		_, frac, _ := strings.Cut(size, "-")
		if mm := inches(frac); mm > 0 && mm < mmPerInch {
			return lowestTerms(size), true
		}
		sc.pos -= len(m[0])
	}
	m := sc.take(inchSizeRE)
	if m == nil {
		return "", false
	}
	size := strings.TrimSuffix(m[0], `"`)
	if size[0] == '#' {
		return size, true
	}
	return lowestTerms(size), true
}

// lowestTerms writes an inch size in lowest terms, as it stands where it is no
// size.
func lowestTerms(size string) string {
	if text, ok := inchText(inches(size)); ok {
		return text
	}
	return size
}

// unified is the inch thread of a size and its threads per inch. A whole number
// up to 12 is a number size where only those have such threads: 10-32.
func (sc *scanner) unified(at int, size string, tpi float64) (Thread, error) {
	if s, ok := unifiedTPI["#"+size]; ok && s.has(tpi) && !unifiedTPI[size].has(tpi) {
		size = "#" + size
	}
	var mm float64
	if n, isNumber := strings.CutPrefix(size, "#"); isNumber {
		if i, err := strconv.Atoi(n); err == nil && i <= 12 && size == "#"+strconv.Itoa(i) {
			mm = nano((0.060 + 0.013*float64(i)) * mmPerInch)
		}
	} else if _, exact := inchText(inches(size)); exact {
		mm = inches(size)
	}
	if mm <= 0 || tpi > 120 || mmPerInch/tpi > mm/2 {
		return Thread{}, sc.fail(at, sc.near(at), "no inch thread", "write size and threads per inch, as in 5/16-18 or #10-32")
	}
	return Thread{System: Inch, DiameterMm: mm, PitchMm: mmPerInch / tpi, TPI: tpi, Size: size}, nil
}

func (s series) has(tpi float64) bool {
	return tpi > 0 && (tpi == s.coarse || tpi == s.fine || tpi == s.extra)
}

func (s series) named(word string) float64 {
	switch word {
	case "unc":
		return s.coarse
	case "unf":
		return s.fine
	case "unef":
		return s.extra
	}
	return 0
}

// bySeries is the thread of a size and a named series: 7/16 UNC.
func (sc *scanner) bySeries(at int, size, word string) (Thread, error) {
	row, ok := unifiedTPI[size]
	if !ok {
		row = unifiedTPI["#"+size]
		size = "#" + size
	}
	tpi := row.named(word)
	if tpi == 0 {
		return Thread{}, sc.fail(at, sc.near(at), "no threads per inch", "write them after the size, as in 5/16-18")
	}
	return sc.unified(at, size, tpi)
}

// checkSeries refuses 7/16-14 UNF: one of the two is wrong.
func (sc *scanner) checkSeries(at int, t Thread, word string) error {
	row, ok := unifiedTPI[t.Size]
	want := row.named(word)
	if !ok || want == 0 || want == t.TPI {
		return nil
	}
	return sc.fail(at, sc.near(at), fmt.Sprintf("%s is not %s", t, strings.ToUpper(word)),
		fmt.Sprintf("measure the pitch and write %s or %s-%s", t, t.Size, decimal(want)))
}

// pipeAfter is a pipe thread written size first: 3/8 NPT, 3/8-18 NPT.
func (sc *scanner) pipeAfter(at int, word, size string, tpi float64) (Thread, error) {
	t, ok := pipe(pipeSystem(word), size)
	if !ok {
		return t, sc.fail(at, sc.near(at), "no such pipe size", "write one of 1/16, 1/8, 1/4, 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2")
	}
	if tpi != 0 && tpi != t.TPI {
		return t, sc.fail(at, sc.near(at), fmt.Sprintf("%s has %s threads per inch", t, decimal(t.TPI)), "write "+t.String())
	}
	return t, nil
}
