package torque

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/projections/fastener"
)

func TestCheck(t *testing.T) {
	dry, oil := NutFactorsOf(Dry)[0], NutFactorsOf(Oil)[0]
	for _, row := range []struct {
		spec, torque string
		k            NutFactor
		want         Strain
		slip         string
	}{
		{"M8x1.25x30 8.8", "25 N.m", dry, Bears, ""},
		{"M8x1.25x30 8.8", "35 N.m", dry, MayYield, ""},
		{"M8x1.25x30 8.8", "45 N.m", dry, Yields, "45 lbf.in"},
		{"M8x1.25x30 8.8", "50 N.m", dry, MayBreak, "50 lbf.in"},
		{"M8x1.25x30 8.8", "95 N.m", dry, Breaks, "95 lbf.in"},
		{"M8x1.25x30 8.8", "95 N.m", oil, Breaks, "95 lbf.in"},
		{"M6x1.0x20 8.8", "24 N.m", oil, Breaks, "24 lbf.in"},
		{"M10x1.5x50 8.8", "90 lbf.ft", dry, Breaks, "90 lbf.in"},
		{"M10x1.5x50 8.8", "66 lbf.ft", dry, Yields, "66 N.m"},
		{"M8x1.25x30", "95 N.m", dry, NotKnown, ""},
		{"M8x1.25x30 A2-70", "20 N.m", dry, NotKnown, ""},
		{"M8x1.25x30 A2-70", "70 N.m", dry, Breaks, ""},
		{"R1/8 plug", "20 N.m", dry, NotKnown, ""},
		{"M8x1.25x30 8.8", "0 N.m", dry, Bears, ""},
	} {
		l, err := Check(spec(t, row.spec), value(t, row.torque), row.k)
		require.NoError(t, err)
		require.Equal(t, row.want, l.Strain, l.String())
		require.Equal(t, row.want >= Yields, l.Strain.Refused())
		require.Equal(t, row.want == MayYield, l.Strain.Questioned())
		if row.slip == "" {
			require.False(t, l.Slip.Known(), l.String())
		} else {
			require.Equal(t, row.slip, l.Slip.String(), l.String())
		}
	}
	_, err := Check(spec(t, "M8x1.25x30 8.8"), value(t, "25 N.m"), NutFactor{})
	require.ErrorContains(t, err, "the lubricant is not said")
}

func TestCheckSays(t *testing.T) {
	l, err := Check(spec(t, "M8x1.25x30 8.8"), value(t, "95 N.m"), k(.2))
	require.NoError(t, err)
	require.Equal(t, "95 N.m on M8x1.25x30 8.8, dry (K 0.20, worked example): 59.4 kN, proof load 21.2 kN: breaks; was 95 lbf.in meant?", l.String())
	l, err = Check(spec(t, "M8x1.25x30 A2-70"), value(t, "20 N.m"), k(.3))
	require.NoError(t, err)
	require.Equal(t, "20 N.m on M8x1.25x30 A2-70, dry (K 0.30, worked example): 8.3 kN, breaks at 25.6 kN, and its class has no proof load: not known", l.String())
	l, err = Check(spec(t, "M8x1.25x30"), value(t, "20 N.m"), k(.3))
	require.NoError(t, err)
	require.Equal(t, "20 N.m on M8x1.25x30: its strength is not known", l.String())
}

// Every public torque for a known grade is borne with the friction that its
// table is for, and every guidance is borne with its own.
func TestPublishedTorquesAreBorne(t *testing.T) {
	for _, p := range published {
		if p.Class == "" {
			continue
		}
		text := p.Thread + "x2 " + p.Class
		s, err := fastener.Parse(text)
		if err != nil { // a size without a thread: take the coarse one
			s = spec(t, map[string]string{"1/4": "1/4-20", "5/16": "5/16-18", "3/8": "3/8-16", "7/16": "7/16-14", "1/2": "1/2-13",
				"9/16": "9/16-12", "5/8": "5/8-11", "3/4": "3/4-10", "7/8": "7/8-9", "1": "1-8"}[p.Thread]+"x2 "+p.Class)
		}
		k := NutFactorsOf(p.State)[0]
		l, err := Check(s, p.High, k)
		require.NoError(t, err)
		require.False(t, l.Strain.Refused(), l.String())
	}
}

// A harder turn never strains less, and more friction never strains more.
func TestCheckProperties(t *testing.T) {
	order := map[Strain]int{Bears: 0, MayYield: 1, Yields: 2, MayBreak: 3, Breaks: 4}
	rapid.Check(t, func(t *rapid.T) {
		s, err := fastener.Parse(rapid.SampledFrom([]string{"M6x1.0x30 8.8", "M8x1.25x40 10.9", "M12x1.5x60 12.9", "3/8-16x2 grade 5"}).Draw(t, "spec"))
		require.NoError(t, err)
		low := rapid.Float64Range(.1, .2).Draw(t, "k")
		k := NutFactor{Of: Oil, Min: low, Max: low * 1.1, Source: "drawn"}
		n := rapid.Int64Range(1, 300).Draw(t, "torque")
		a, err := Check(s, Value{digits: n}, k)
		require.NoError(t, err)
		b, err := Check(s, Value{digits: n + rapid.Int64Range(1, 50).Draw(t, "more")}, k)
		require.NoError(t, err)
		require.LessOrEqual(t, order[a.Strain], order[b.Strain])
		c, err := Check(s, Value{digits: n}, NutFactor{Of: Dry, Min: k.Min * 1.2, Max: k.Max * 1.2, Source: "drawn"})
		require.NoError(t, err)
		require.LessOrEqual(t, order[c.Strain], order[a.Strain])
	})
}
