package fastener

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestInterchangeable(t *testing.T) {
	for _, row := range []struct{ a, b, want string }{
		{"M8x1.25x30 8.8 flange", "M8 X 1,25 X 30 8.8 FLANGED", "the same"},
		{"M8x1.25x30 8.8 flange", "M8x1.25x30", "the same; not known: class, head"},
		{"M8x1.25x30 8.8 flange", "M8x30", "the same; not known: pitch, class, head"},
		{"M8x1.0x30 8.8 flange", "M8x30", "the same; not known: pitch, class, head"},
		{"M8x1.25x30 8.8 flange", "M8x1.25", "the same; not known: form, length, class, head"},
		{"M8x1.25 copper nut", "M8x1.25", "the same; not known: form, class"},
		{"M8x1.25x30 8.8 flange", "M8x1.25x30 10.9", "differ in class; not known: head"},
		{"M8x1.25x30 8.8 flange", "M8x1.25x35 8.8 flange", "differ in length"},
		{"M8x1.25x30 8.8 flange", "M8x1.0x30 8.8 flange", "differ in pitch"},
		{"M8x1.25x30 8.8 flange", "M8x1.25x30 LH 8.8 flange", "differ in hand"},
		{"M8x1.25x30 8.8 flange", "5/16-18x1 grade 5 flange", "differ in thread, length, class"},
		{"M8x1.25x30 8.8 flange", "M8x1.25x30 8.8 flange (patch)", "differ in feature"},
		{"M8x1.25x30", "M8x1.25x30 stud", "differ in form"},
		{"M10x1.5/M8x1.25x60 stud", "M10x1.5x60 stud", "differ in nut end"},
		{"M10x1.5/M8x60 stud", "M10x1.5/M8x1.25x60 stud", "the same; not known: nut end"},
		{"M10x1.5/M8x1.25x60 stud", "M10x1.5/M8x1.0x60 stud", "differ in nut end"},
		{"M12x1.5 sensor", "M12x1.5 coolant sensor", "the same; not known: use"},
		{"M12x1.5 oil sensor", "M12x1.5 coolant sensor", "differ in use"},
		{"seal ring 24x30", "seal ring 24x30 copper", "the same; not known: class"},
		{"seal ring 24x30", "seal ring 24", "the same; not known: sizes"},
		{"seal ring 24x30", "seal ring 24x32", "differ in sizes"},
		{"M8 washer", "washer 8.4x16", "the same; not known: thread, sizes"},
		{"M12x1.75", "seal ring 24x30", "differ in form; not known: thread, sizes"},
	} {
		a, b := spec(t, row.a), spec(t, row.b)
		require.Equal(t, row.want, Interchangeable(a, b).String(), "%s and %s", a, b)
		require.Equal(t, row.want, Interchangeable(b, a).String(), "%s and %s", b, a)
	}
}

func TestConfusable(t *testing.T) {
	for _, row := range []struct {
		a, b string
		want Reason
	}{
		{"M8x1.25x30 8.8 flange", "M8x1.25x30 8.8 flange", NotConfused},
		{"M8x1.25x30 8.8 flange", "M8x1.25x30", NotConfused},
		{"M8x1.25x30 8.8 flange", "M8x1.25x40 10.9 12pt", OtherLength},
		{"M8x1.25x30 8.8 flange", "M8x1.0x45 8.8 flange", OtherPitch},
		{"M8x1.25x30 8.8 flange", "M8x1.25x30 LH 8.8 flange", OtherHand},
		{"M8x1.25x30 8.8 flange", "M8x1.25x30 8.8 hex", OtherHead},
		{"M8x1.25x30 8.8 flange", "M10x1.5x30 8.8 flange", NotConfused},
		{"M8x1.25x30 8.8 flange", "M8x1.25 8 flange nut", NotConfused},
		{"M8x1.25x30 8.8 flange", "seal ring 8x12", NotConfused},
		{"M8x1.25x30 8.8 flange", "5/16-18x1-1/4 grade 5 hex", NearSize},
		{"M6x1.0x20 8.8", "1/4-20x3/4 grade 5", NearSize},
		{"M10x1.0 fitting", "R1/8 fitting", NearSize},
		{"G1/8 plug", "1/8 NPT plug", NearSize},
		{"M8x1.25 nut", "5/16-18 nut", NearSize},
		{"M8x1.25x30", "3/8-16x1-1/4", NotConfused},
		{"M10x1.5/M8x1.25x60 stud", "M10x1.5x60 stud", OtherNutEnd},
		{"M12x1.5 oil sensor", "M12x1.5 coolant sensor", OtherUse},
		{"seal ring 14x18", "seal ring 14x20", OtherSizes},
		{"seal ring 24x30", "seal ring 25x30", OtherSizes},
		{"seal ring 14x18", "seal ring 30x36", NotConfused},
		{"seal ring 14x18", "O-ring 14x2", OtherSizes},
		{"washer 8.4x16", "seal ring 8.4x16", OtherForm},
		{"dowel 8x12", "seal ring 8x12", NotConfused},
	} {
		a, b := spec(t, row.a), spec(t, row.b)
		require.Equal(t, row.want, Confusable(a, b).Reason, "%s and %s", a, b)
		require.Equal(t, Confusable(a, b), Confusable(b, a))
		require.Equal(t, row.want != NotConfused, Confusable(a, b).Yes())
	}
}

func TestStarts(t *testing.T) {
	for _, row := range []struct {
		bolt, hole string
		want       bool
	}{
		{"M8x1.25x30", "M8x1.25", true},
		{"M8x1.25x30", "M8x1.0", false},
		{"M8x1.0x30", "M8x1.25", false},
		{"M8x30", "M8x1.0", true}, // the pitch is only assumed
		{"M9x1.25", "M8x1.25", false},
		{"M8x1.25x30 LH", "M8x1.25", false},
		{"M8x1.25x30 LH", "M8x1.25 LH", true},
		{"5/16-18x1", "M8x1.25", false},
		{"M6x1.0", "M8x1.25", false},
		{"1/2 NPT plug", "G1/2", true}, // 14 threads both, and leaks
		{"R1/8 fitting", "G1/8", true},
		{"R1/8 fitting", "M10x1.0", false},
		{"R1/4 fitting", "1/4 NPT", false},
		{"3/8-16x1", "3/8-24", false},
	} {
		a, b := thread(t, row.bolt), thread(t, row.hole)
		require.Equal(t, row.want, Starts(a, b), "%s in %s", row.bolt, row.hole)
		require.Equal(t, row.want, Starts(b, a), "%s in %s", row.hole, row.bolt)
	}
	require.True(t, Starts(Thread{}, thread(t, "M8")), "unknown may start")
}

// No two coarse or fine metric sizes start in each other.
func TestNoMetricSizeStartsInAnother(t *testing.T) {
	for d, p := range coarsePitchMm {
		for e := range coarsePitchMm {
			require.Equal(t, d == e, Starts(Thread{System: Metric, DiameterMm: d, PitchMm: p}, Thread{System: Metric, DiameterMm: e, PitchMm: p}), "M%v M%v", d, e)
		}
	}
}

func TestMatchLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawSpec(t)
		require.Equal(t, Match{}, Interchangeable(a, a))

		// Whatever one of them leaves open still matches, and is named.
		b := a
		var open Field
		for _, blank := range []struct {
			f     Field
			known bool
			do    func()
		}{
			{FieldClass, a.Class != "", func() { b.Class = "" }},
			{FieldHead, a.Head != "", func() { b.Head = "" }},
			{FieldUse, a.Use != "", func() { b.Use = "" }},
			{FieldLength, a.LengthMm > 0, func() { b.LengthMm = 0 }},
			{FieldSizes, a.SizesMm[0] > 0, func() { b.SizesMm = [3]float64{} }},
		} {
			if blank.known && rapid.Bool().Draw(t, "blank "+blank.f.String()) {
				blank.do()
				open |= blank.f
			}
		}
		require.Equal(t, Match{Unknown: open}, Interchangeable(a, b))
		require.False(t, Confusable(a, b).Yes())

		c := drawSpec(t)
		m := Interchangeable(a, c)
		require.Equal(t, m, Interchangeable(c, a))
		require.Zero(t, m.Differ&m.Unknown&^FieldSizes)
		conf := Confusable(a, c)
		require.Equal(t, conf, Confusable(c, a))
		require.False(t, m.Yes() && conf.Yes())
	})
}

func TestMatchingAllocatesNothing(t *testing.T) {
	a, b := spec(t, "M8x1.25x30 8.8 flange"), spec(t, "M8x1.25x45 8.8 stud")
	h := Hole{Thread: a.Thread, GripMm: Mm(14), DepthMm: Mm(19), ThreadIn: "aluminium"}
	require.Zero(t, testing.AllocsPerRun(100, func() {
		Interchangeable(a, b)
		Confusable(a, b)
		Starts(a.Thread, b.Thread)
		Window(h, a)
	}))
}
