package fastener

import (
	"strings"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawSpec draws any kind that the canonical text can carry.
func drawSpec(t *rapid.T) Spec {
	s := Spec{Form: rapid.SampledFrom(drawnForms).Draw(t, "form")}
	rule := formRules[s.Form]
	if rule.thread && (!rule.sizes || rapid.Bool().Draw(t, "threaded")) {
		s.Thread = drawThread(t, "thread")
		if (s.Form == Stud || s.Form == Fitting) && rapid.Bool().Draw(t, "two ends") {
			end := drawThread(t, "nut end")
			// R1/2 NPT is an R1/2: a whole pipe size cannot stand before a whole size.
			whole := len(s.Thread.Size) == 1 && len(end.Size) == 1
			if end != s.Thread && !whole {
				s.SecondThread = end
			}
		}
		if rule.family != ring && rapid.Bool().Draw(t, "long") {
			s.LengthMm = drawLength(t, s)
		}
		if rapid.IntRange(0, 9).Draw(t, "hand") == 0 {
			s.Thread.Left = true
			s.SecondThread.Left = s.SecondThread.Known()
		}
	} else {
		drawSizes(t, &s)
	}
	if rapid.Bool().Draw(t, "classed") {
		s.Class = rapid.SampledFrom(classesOf(s.Form)).Draw(t, "class")
	}
	if rule.use && rapid.Bool().Draw(t, "used") {
		s.Use = strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"oil", "pressure", "coolant", "guide", "cam", "flange", "plug", "12pt"}), 1, 3).Draw(t, "use"), " ")
	} else if !rule.use && rapid.Bool().Draw(t, "headed") {
		s.Head = drawHead(t, s.Form)
	}
	if s.Form == Bolt && !s.boltByItself() && s.LengthMm == 0 {
		s.Class = "8.8"
	}
	s.Feature = rapid.SampledFrom([]string{"", "hollow", "thread-lock patch", "shoulder 12", "ø 4, drilled"}).Draw(t, "feature")
	return s
}

var drawnForms = []Form{Bolt, SetScrew, BanjoBolt, Plug, SparkPlug, GlowPlug, Stud, Nut, Insert, Switch, Sensor, Fitting,
	Handle, Post, Pin, Washer, SealRing, ORing, SnapRing, Dowel, CorePlug, CotterPin}

func drawThread(t *rapid.T, label string) Thread {
	d := float64(rapid.IntRange(10, 3000).Draw(t, label+" diameter")) / 10
	switch rapid.IntRange(0, 3).Draw(t, label+" system") {
	case 0:
		row := rapid.SampledFrom([]string{"1/4-20", "5/16-24", "#10-32", "1-1/4-7", "1-8", "#0-80", "7/8-14"}).Draw(t, label+" inch")
		s, err := Parse(row)
		require.NoError(t, err)
		return s.Thread
	case 1:
		size := rapid.SampledFrom([]string{"1/16", "1/8", "3/8", "1", "1-1/2"}).Draw(t, label+" pipe")
		th, ok := pipe(System(rapid.IntRange(int(PipeR), int(PipeNPTF)).Draw(t, label+" kind")), size)
		require.True(t, ok)
		return th
	case 2:
		d = rapid.SampledFrom([]float64{3, 5, 6, 8, 10, 12, 14, 64}).Draw(t, label+" coarse")
		return Thread{System: Metric, DiameterMm: d, PitchMm: coarsePitchMm[d], PitchAssumed: true}
	}
	p := nano(d * float64(rapid.IntRange(1, 25).Draw(t, label+" pitch")) / 100)
	return Thread{System: Metric, DiameterMm: d, PitchMm: max(p, 0.01)}
}

func drawLength(t *rapid.T, s Spec) float64 {
	end := s.nutEnd()
	if !end.System.inches() {
		// Half a diameter and more, lest a length beside an assumed pitch read as one.
		return nano(end.DiameterMm/2 + float64(rapid.IntRange(1, 20000).Draw(t, "length"))/100)
	}
	if rapid.Bool().Draw(t, "64ths") {
		return nano(float64(rapid.IntRange(1, 640).Draw(t, "length in 64ths")) * inch64)
	}
	return nano(float64(rapid.IntRange(1, 20000).Draw(t, "length in hundredths")) / 100)
}

func drawSizes(t *rapid.T, s *Spec) {
	s.SizesInch = rapid.Bool().Draw(t, "inch")
	for i := range rapid.IntRange(1, 3).Draw(t, "sizes") {
		n := float64(rapid.IntRange(1, 1000).Draw(t, "size"))
		if s.SizesInch {
			s.SizesMm[i] = nano(n * inch64)
		} else {
			s.SizesMm[i] = nano(n / 10)
		}
	}
}

func classesOf(f Form) []string {
	list := []string{"copper", "stainless", "A2-70", "A4", "grade 5", "200HV", "FKM"}
	switch {
	case f == Nut:
		return append(list, nutClasses...)
	case formRules[f].family == outside:
		return append(list, boltClasses...)
	}
	return list
}

func drawHead(t *rapid.T, f Form) string {
	var fit []string
	for i, h := range headWords {
		if headFits(i, f) {
			fit = append(fit, h.word)
		}
	}
	if len(fit) == 0 {
		return ""
	}
	i := rapid.IntRange(0, len(fit)-1).Draw(t, "head")
	j := rapid.IntRange(i, len(fit)-1).Draw(t, "second head")
	if i == j || fit[i] == "hex" && fit[j] == "flange" {
		return fit[j]
	}
	return fit[i] + " " + fit[j]
}
