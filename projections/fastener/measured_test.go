package fastener

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Limits over the crests of outside threads: 6g of ISO 965-2 and 2A of ASME
// B1.1, as reproduced in thread tables (from memory), which round to whole
// hundredths of a millimetre at worst.
func TestCrests(t *testing.T) {
	for _, c := range []struct {
		thread string
		lo, hi float64
	}{
		{"M6x1.0", 5.794, 5.974}, {"M8x1.25", 7.760, 7.972}, {"M10x1.5", 9.732, 9.968}, {"M12x1.75", 11.701, 11.966},
		{"M10x1.25", 9.760, 9.972}, {"M16x2", 15.682, 15.962},
		{"1/4-20", 0.2408 * 25.4, 0.2489 * 25.4}, {"5/16-18", 0.3026 * 25.4, 0.3113 * 25.4}, {"3/8-16", 0.3643 * 25.4, 0.3737 * 25.4},
		{"1/2-13", 0.4876 * 25.4, 0.4985 * 25.4},
	} {
		sp, err := Parse(c.thread)
		require.NoError(t, err)
		lo, hi := sp.Thread.Crests()
		require.InDelta(t, c.lo, lo, 0.01, c.thread)
		require.InDelta(t, c.hi, hi, 0.01, c.thread)
	}
}

func TestParseMeasured(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"M8x1.25x30", "M8x1.25x30"},
		{"M8x1.25", "M8x1.25"},
		{"M8", "M8"},
		{"5/16-18", "5/16-18"},
		{"7.85x1.25x30", "7.85 mm, pitch 1.25, 30 mm long"},
		{"7,85 x 1,25 x 30,2", "7.85 mm, pitch 1.25, 30.2 mm long"},
		{"7.85", "7.85 mm"},
		{"7.85x?x30 8.8 flange", "7.85 mm, 30 mm long, 8.8, flange, bolt"},
		{"?x?x30", "30 mm long"},
		{"0.307in x 18tpi x 1-1/4in", "7.7978 mm, pitch 1.411, 31.75 mm long"},
		{"7.85x20tpi", "7.85 mm, pitch 1.27"},
		{"9.9x1.5 stud", "9.9 mm, pitch 1.5, stud"},
	} {
		m, err := ParseMeasured(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, c.want, m.String(), c.text)
	}
	for _, c := range []struct{ text, says string }{
		{"", "nothing"},
		{"0.307x18tpi", "in inches write 0.307in"},
		{"7.85x18", "18tpi"},
		{"7.85x30x1.25", "no pitch"},
		{"1-1/4", "in inches write 1-1/4in"},
		{"999x2", "999 mm is no diameter"},
		{"7.85x1.25x30 blue", "these words"},
		{"7.85x1.25x30x40", "one number too many"},
		{"8x1.25x5000", "no length"},
	} {
		_, err := ParseMeasured(c.text)
		require.ErrorContains(t, err, c.says, c.text)
	}
}

func TestLike(t *testing.T) {
	for _, c := range []struct{ measured, kind, says string }{
		{"M8x1.25x30", "M8x1.25x30 8.8 flange", "the same; not known: class, head"},
		{"M8x1.25", "M8x1.25x30 8.8 flange", "the same; not known: form, length, class, head"},
		{"7.85x1.25x30", "M8x1.25x30 8.8 flange", "the same; not known: form, class, head"},
		{"7.85x1.25x30.6 flange", "M8x1.25x30 8.8 flange", "the same; not known: class"},
		{"7.85x1.25x32 flange", "M8x1.25x30 8.8 flange", "differ in length; not known: class"},
		{"7.85x?x30", "5/16-18x30mm", "the same; not known: form, pitch"},
		{"7.85x1.25x30", "5/16-18x30mm", "differ in pitch; not known: form"},
		{"7.55x1.25x30", "M8x1.25x30", "differ in thread; not known: form"},
		{"8.1x1.25x30", "M8x1.25x30", "differ in thread; not known: form"},
		{"M8x1.25x30 10.9", "M8x1.25x30 8.8", "differ in class"},
		{"9.9x1.5", "M10x1.5/M8x1.25x60 8.8 stud", "the same; not known: form, length, class"},
		{"7.9x1.25", "M10x1.5/M8x1.25x60 8.8 stud", "the same; not known: form, length, class"},
		{"7.9x1.25", "M8x1.25 8 nut", "differ in form; not known: class"},
		{"M8x1.25x30", "M8x1.25x30 (hollow)", "the same; not known: feature"},
		{"M8x1.25x30 (blue)", "M8x1.25x30 (hollow)", "differ in feature"},
		{"?x?x30", "M8x1.25x30", "the same; not known: form, thread, pitch"},
		{"7.85", "seal ring 8x12", "differ in form, thread"},
	} {
		m, err := ParseMeasured(c.measured)
		require.NoError(t, err, c.measured)
		k, err := Parse(c.kind)
		require.NoError(t, err, c.kind)
		require.Equal(t, c.says, m.Like(k).Match.String(), "%s and %s", c.measured, c.kind)
	}
}

// Whatever a sound thread may measure is taken for it, and a worn one too.
func TestEverySoundThreadIsKnownByItsCrests(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"M5x0.8x20", "M6x1.0x20", "M8x1.25x30", "M10x1.5x40", "M10x1.25x40", "M12x1.75x60", "M14x1.5x30",
			"1/4-20x1", "5/16-18x1", "5/16-24x1", "3/8-16x1-1/2", "7/16-14x2", "1/2-13x2"}).Draw(t, "kind")
		k, err := Parse(text)
		require.NoError(t, err)
		lo, hi := k.Thread.Crests()
		lo -= wornPart * k.Thread.DiameterMm
		m := Measured{DiameterMm: rapid.Float64Range(lo, hi).Draw(t, "diameter"), PitchMm: k.Thread.PitchMm, Spec: Spec{LengthMm: k.LengthMm}}
		require.True(t, m.Like(k).Yes(), m)
		m.DiameterMm = rapid.Float64Range(k.Thread.DiameterMm+2*caliperMm, 3*k.Thread.DiameterMm).Draw(t, "too thick")
		require.NotZero(t, m.Like(k).Differ&FieldThread, m)
	})
}

func FuzzParseMeasured(f *testing.F) {
	for _, s := range []string{"7.85x1.25x30", "0.307in x 18tpi x 1-1/4in", "?x?x30 8.8 flange", "M8"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := ParseMeasured(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.False(t, math.IsNaN(m.DiameterMm) || m.DiameterMm < 0 || m.PitchMm < 0 || m.Spec.LengthMm < 0)
		require.NotEmpty(t, m.String())
	})
}
