package plan

import (
	"fmt"
	"strings"
)

// How deep a thread can be without a question: common practice cuts a blind
// thread two to three diameters deep, and a measured one is near its plan.
const (
	deepDiameters = 10  // diameters of its thread
	deepLengths   = 2   // lengths of the fastener that goes in
	deepMm        = 300 // where neither is known
	deepTimes     = 1.5 // of the plan's depth
	neverTimes    = 3   // of it: no repair makes a hole so deep
	shallowPart   = 4   // a quarter of it
)

// BeyondDepth says why a measured depth of thread, in millimetres, is hard to
// believe beside the plan's, or by itself where the plan has none; empty: it is
// not.
func (s *Seat) BeyondDepth(mm float64) string {
	planned, ok := s.Depth.Mm()
	switch {
	case !ok || planned <= 0:
		return s.deep(mm)
	case mm > planned*deepTimes:
		return fmt.Sprintf("%g mm is far deeper than the %g mm of the plan", mm, planned)
	case mm < planned/shallowPart:
		return fmt.Sprintf("%g mm is far less than the %g mm of the plan", mm, planned)
	}
	return ""
}

// BelievedDepth reports whether the length window goes by a measured depth of
// thread, in millimetres: one that is several times the plan's is a slip of the
// pen, and to believe it would let a fastener bottom.
func (s *Seat) BelievedDepth(mm float64) bool {
	planned, ok := s.Depth.Mm()
	return !ok || planned <= 0 || mm <= planned*neverTimes
}

// deep says why a depth in millimetres is no depth of a thread; empty: it can
// be one.
func (s *Seat) deep(mm float64) string {
	m, ok := s.Turned()
	d, long := m.Spec.Thread.DiameterMm, m.Spec.LengthMm
	switch {
	case !ok || d <= 0:
		if mm > deepMm {
			return fmt.Sprintf("%g mm is deeper than any thread", mm)
		}
	case mm > deepDiameters*d && mm > deepLengths*long:
		text := fmt.Sprintf("%g mm is %.0f diameters of its thread", mm, mm/d)
		if long > 0 {
			text += fmt.Sprintf(", and what goes in is %g mm long", long)
		}
		return text
	}
	return ""
}

// deepThreads looks for threads deeper than any.
func (c *checker) deepThreads() {
	all := make([]SeatIndex, len(c.p.Seats))
	for i := range all {
		all[i] = SeatIndex(i)
	}
	for _, group := range c.p.byLine(all) {
		s := &c.p.Seats[group[0]]
		if mm, ok := s.Depth.Mm(); ok {
			if why := s.deep(mm); why != "" {
				c.add(Warning, CodeFar, s.Line, c.holes(group)+": a depth of "+why)
			}
		}
	}
}

// bands looks for gauges that are too coarse for what they judge: with a guard
// band of half the tolerance to each side no reading is inside.
func (c *checker) bands() {
	for i := range c.p.Measurements {
		m := &c.p.Measurements[i]
		if wide, ok := m.tolerance(); ok && m.Band > 0 && 2*m.Band >= wide {
			c.add(Warning, CodeFar, m.Line, fmt.Sprintf("measurement %s: a band of %g to each side of a tolerance of %s: no reading can be judged", m.ID, m.Band, tidy(wide)))
		}
	}
}

// tolerance is how far apart the limits are; without a lower one a value other
// than a size begins at 0. false: there is an end missing.
func (m *Measurement) tolerance() (float64, bool) {
	lo, hasLo := outermost(m.Min, m.NewMin, -1)
	hi, hasHi := outermost(m.Max, m.NewMax, 1)
	if !hasLo && m.Kind != MeasureSize && m.Kind != "" {
		lo, hasLo = 0, true
	}
	return hi - lo, hasLo && hasHi && hi > lo
}

func outermost(a, b Limit, sign float64) (float64, bool) {
	if !a.Known || b.Known && (b.Value-a.Value)*sign > 0 {
		a = b
	}
	return a.Value, a.Known
}

// tidy writes a difference of two limits without the dust of the arithmetic.
func tidy(v float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.6f", v), "0"), ".")
}
