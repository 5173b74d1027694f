package fastener

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// sorrelSeat is one line of the Sorrel I4-20, an invented twin-cam four: seats
// of one joint that hold the same kind in the same way.
type sorrelSeat struct {
	joint, at     string
	pieces        int
	text, feature string
	hole          Hole
}

// sorrelSeats are all of its fasteners, default layouts first.
var sorrelSeats = []sorrelSeat{
	{"head", "1..8", 8, "M10x1.5x150 10.9 12pt", "captive washer", Hole{GripMm: Mm(124), DepthMm: Mm(32), ThreadIn: "aluminium"}},
	{"head", "9,10", 2, "plate washer 10.5x2.5", "", Hole{GripMm: Mm(124), DepthMm: Mm(32), ThreadIn: "aluminium"}},
	{"head", "9,10", 2, "M10x1.5x150 10.9 12pt", "", Hole{GripMm: Mm(124), DepthMm: Mm(32), ThreadIn: "aluminium"}},
	{"head-front", "1..4", 4, "M8x1.25x40 8.8 flange", "", Hole{GripMm: Mm(22), DepthMm: Mm(24), ThreadIn: "aluminium"}},
	{"cam-caps", "I1a,I1b,I2a,I2b,I3a,I3b,I4a,I4b", 8, "M6x1.0x40 8.8 flange", "", Hole{GripMm: Mm(26), DepthMm: Mm(18), ThreadIn: "aluminium"}},
	{"cam-caps", "E1a,E1b,E2a,E2b,E3a,E3b,E4a,E4b", 8, "M6x1.0x40 8.8 flange", "", Hole{GripMm: Mm(26), DepthMm: Mm(18), ThreadIn: "aluminium"}},
	{"cam-caps", "F1,F2,F3", 3, "M8x1.25x50 8.8 flange", "", Hole{GripMm: Mm(34), DepthMm: Mm(20), ThreadIn: "aluminium"}},
	{"phasers", "I", 1, "M12x1.25x45 10.9 12pt", "hollow with a filter", Hole{GripMm: Mm(30), DepthMm: Mm(19), ThreadIn: "steel"}},
	{"phasers", "E", 1, "M12x1.25x45 10.9 12pt", "solid", Hole{GripMm: Mm(30), DepthMm: Mm(19), ThreadIn: "steel"}},
	{"tensioner-plug", "1", 1, "seal ring 30x36", "", Hole{ThreadIn: "aluminium"}},
	{"tensioner-plug", "1", 1, "M30x1.5 plug", "", Hole{ThreadIn: "aluminium"}},
	{"tensioner-flange", "1..2", 2, "M6x1.0x22 8.8 flange", "", Hole{GripMm: Mm(9), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"guides", "1..2", 2, "M6x1.0x20 8.8 flange", "thread-lock patch", Hole{GripMm: Mm(8), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"guides", "3", 1, "M8x1.25x25 8.8 shoulder", "shoulder 12", Hole{GripMm: Mm(12), DepthMm: Mm(17), ThreadIn: "aluminium"}},
	{"guides", "4..5", 2, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(5), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"access-plug", "1", 1, "seal ring 24x30", "", Hole{ThreadIn: "aluminium"}},
	{"access-plug", "1", 1, "M24x1.5 plug", "", Hole{ThreadIn: "aluminium"}},
	{"front-cover", "1", 1, "M6x1.0x25 8.8 flange", "", Hole{GripMm: Mm(12), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"front-cover", "3,5,9,12,14,15,16,17", 8, "M8x1.25x30 8.8 flange", "", Hole{GripMm: Mm(14), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"front-cover", "18,19,20,22", 4, "M8x1.25x45 8.8 flange", "", Hole{GripMm: Mm(29), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"front-cover", "6,7,10,13,21", 5, "M10x1.5x50 8.8 flange", "", Hole{GripMm: Mm(30), DepthMm: Mm(26), ThreadIn: "cast iron"}},
	{"front-cover", "2,4,8,11", 4, "M12x1.25x65 8.8 flange", "", Hole{GripMm: Mm(38), DepthMm: Mm(32), ThreadIn: "cast iron"}},
	{"mount-bracket", "1..4", 4, "M10x1.25x60 8.8 flange", "", Hole{GripMm: Mm(40), DepthMm: Mm(24), ThreadIn: "aluminium"}},
	{"pump-plate", "1..5", 5, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(6), DepthMm: Mm(13), ThreadIn: "aluminium"}},
	{"pulley", "1", 1, "M14x1.5x65 10.9 flange", "", Hole{GripMm: Mm(43), DepthMm: Mm(28), ThreadIn: "steel"}},
	{"oil-pan", "1..11", 11, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(9), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"oil-pan", "12..14", 3, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(9), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"oil-pan", "15..18", 4, "M8x1.25x85 8.8 flange", "", Hole{GripMm: Mm(68), FreeBehindMm: Mm(25), ThreadIn: "aluminium"}},
	{"drain", "1", 1, "seal ring 14x20", "", Hole{Through: true, ThreadIn: "steel"}},
	{"drain", "1", 1, "M14x1.5 plug", "magnet", Hole{Through: true, ThreadIn: "steel"}},
	{"pickup", "1..2", 2, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(8), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"baffle", "1..4", 4, "M6x1.0x12 8.8 flange", "", Hole{GripMm: Mm(2), DepthMm: Mm(13), ThreadIn: "aluminium"}},
	{"rod-{n}-cap", "1..2", 8, "M8x1.0x40 10.9 12pt", "", Hole{GripMm: Mm(26), FreeBehindMm: Mm(4), ThreadIn: "steel"}},
	{"bedplate", "1..10", 10, "M10x1.5x95 10.9 12pt", "", Hole{GripMm: Mm(72), DepthMm: Mm(28), ThreadIn: "aluminium"}},
	{"bedplate", "11..20", 10, "M8x1.25x35 8.8 flange", "", Hole{GripMm: Mm(20), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"balance", "1,2", 2, "M10x1.5x110 10.9 flange", "", Hole{GripMm: Mm(88), DepthMm: Mm(27), ThreadIn: "aluminium"}},
	{"balance", "3,4", 2, "M10x1.5x75 10.9 flange", "", Hole{GripMm: Mm(53), DepthMm: Mm(27), ThreadIn: "aluminium"}},
	{"balance-drive", "1", 1, "M8x1.25x30 8.8 flange", "", Hole{GripMm: Mm(14), DepthMm: Mm(20), ThreadIn: "steel"}},
	{"balance-drive", "2..3", 2, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(8), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"balance-drive", "4", 1, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(8), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"balance-drive", "5", 1, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(8), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"rear-seal", "1..6", 6, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(9), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"flywheel", "1..8", 8, "M10x1.0x22 10.9 12pt", "", Hole{GripMm: Mm(10), DepthMm: Mm(16), ThreadIn: "steel"}},
	{"water-pump", "1,2", 2, "M8x1.25x30 8.8 flange", "", Hole{GripMm: Mm(14), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"water-pump", "3,4", 2, "M8x1.25x70 8.8 flange", "", Hole{GripMm: Mm(54), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"thermostat", "1..2", 2, "M6x1.0x25 8.8 flange", "", Hole{GripMm: Mm(12), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"intake", "1..5", 5, "M8x1.25x35 8.8 flange", "", Hole{GripMm: Mm(20), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"intake", "6..7", 2, "M8x1.25x45 8.8 stud", "", Hole{GripMm: Mm(20), DepthMm: Mm(20), RunInMm: Mm(16), NutHeightMm: Mm(8), ThreadIn: "aluminium"}},
	{"intake", "6..7", 2, "M8x1.25 8 flange nut", "", Hole{GripMm: Mm(20), DepthMm: Mm(20), RunInMm: Mm(16), NutHeightMm: Mm(8), ThreadIn: "aluminium"}},
	{"throttle", "1..4", 4, "M6x1.0x25 8.8 flange", "", Hole{GripMm: Mm(12), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"fuel-rail", "1..2", 2, "M8x1.25x25 8.8 flange", "", Hole{GripMm: Mm(10), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"exhaust", "1..9", 9, "M8x1.25x45 8.8 stud", "", Hole{GripMm: Mm(16), DepthMm: Mm(17), RunInMm: Mm(14), NutHeightMm: Mm(8), ThreadIn: "aluminium"}},
	{"exhaust", "1..9", 9, "M8x1.25 copper nut", "", Hole{GripMm: Mm(16), DepthMm: Mm(17), RunInMm: Mm(14), NutHeightMm: Mm(8), ThreadIn: "aluminium"}},
	{"heat-shield", "1..4", 4, "M6x1.0x12 A2-70 flange", "", Hole{GripMm: Mm(1.5), DepthMm: Mm(14), ThreadIn: "cast iron"}},
	{"cam-cover", "1..8", 8, "M6x1.0x25 8.8 flange", "", Hole{GripMm: Mm(12), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"cam-cover", "9,10", 2, "M6x1.0x40 8.8 flange", "", Hole{GripMm: Mm(27), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"cam-cover", "11,12", 2, "M6x1.0x40 8.8 flange", "", Hole{GripMm: Mm(27), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"coils", "1..4", 4, "M6x1.0x25 8.8 flange", "", Hole{GripMm: Mm(12), DepthMm: Mm(16), ThreadIn: "aluminium"}},
	{"spark-plugs", "1..4", 4, "M14x1.25 spark plug", "gasket seat", Hole{Through: true, ThreadIn: "aluminium"}},
	{"sensors", "cam-I,cam-E", 2, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(6), DepthMm: Mm(13), ThreadIn: "aluminium"}},
	{"sensors", "crank", 1, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(6), DepthMm: Mm(13), ThreadIn: "aluminium"}},
	{"sensors", "knock", 1, "M8x1.25x30 8.8 flange", "", Hole{GripMm: Mm(15), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"sensors", "coolant", 1, "seal ring 12x16", "", Hole{ThreadIn: "aluminium"}},
	{"sensors", "coolant", 1, "M12x1.5 coolant sensor", "", Hole{ThreadIn: "aluminium"}},
	{"sensors", "oil", 1, "R1/8 oil pressure switch", "", Hole{ThreadIn: "aluminium"}},
	{"gallery-plug", "1", 1, "seal ring 14x18", "", Hole{ThreadIn: "aluminium"}},
	{"gallery-plug", "1", 1, "M14x1.5 plug", "hexagon socket", Hole{ThreadIn: "aluminium"}},
	{"block-plugs", "1", 1, "seal ring 16x22", "", Hole{ThreadIn: "aluminium"}},
	{"block-plugs", "1", 1, "M16x1.5 plug", "", Hole{ThreadIn: "aluminium"}},
	{"block-plugs", "3", 1, "M12x1.5 plug", "", Hole{ThreadIn: "aluminium"}},
	{"block-plugs", "4", 1, "R1/4 plug", "", Hole{ThreadIn: "aluminium"}},
	{"alternator", "1", 1, "M8x1.25x85 8.8 flange", "", Hole{GripMm: Mm(68), FreeBehindMm: Mm(20), ThreadIn: "aluminium"}},
	{"alternator", "2..3", 2, "M10x1.5x85 8.8 flange", "", Hole{GripMm: Mm(66), FreeBehindMm: Mm(20), ThreadIn: "aluminium"}},
	{"compressor", "1..4", 4, "M8x1.25x80 8.8 flange", "", Hole{GripMm: Mm(64), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"belt-tensioner", "1", 1, "M10x1.5x60 8.8 flange", "", Hole{GripMm: Mm(40), DepthMm: Mm(25), ThreadIn: "aluminium"}},
	{"lift-brackets", "1..2", 2, "M8x1.25x20 8.8 flange", "", Hole{GripMm: Mm(5), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"lift-brackets", "3..4", 2, "M8x1.25x20 8.8 flange", "", Hole{GripMm: Mm(5), DepthMm: Mm(19), ThreadIn: "aluminium"}},
	{"grounds", "1..2", 2, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(5), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"grounds", "3..4", 2, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(5), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"grounds", "5", 1, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(5), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"grounds", "6", 1, "M6x1.0x16 8.8 flange", "", Hole{GripMm: Mm(5), DepthMm: Mm(14), ThreadIn: "aluminium"}},
	{"oil-control", "1", 1, "M6x1.0x20 8.8 flange", "", Hole{GripMm: Mm(9), DepthMm: Mm(14), ThreadIn: "aluminium"}},
}

// sorrelOther are the texts that stand elsewhere in its plan: temporary
// pieces, kits, an empty hole.
var sorrelOther = []string{
	"M12x1.75x50 10.9 hex", "R1/8 fitting", "M10x1.5x170 guide stud", "M8x1.25 handle",
	"M6x1.0 post", "M8x1.25 guide pin", "O-ring 40x2.5", "M12x1.75",
}

func sorrelSpec(t *testing.T, s sorrelSeat) Spec {
	t.Helper()
	spec, err := ParseWithFeature(s.text, s.feature)
	require.NoError(t, err)
	return spec
}

func TestSorrelTextsAreCanonical(t *testing.T) {
	for _, s := range sorrelSeats {
		spec, err := Parse(s.text)
		require.NoError(t, err)
		require.Equal(t, s.text, spec.String())

		spec = sorrelSpec(t, s)
		again, err := Parse(spec.String())
		require.NoError(t, err)
		require.Equal(t, spec, again)
	}
	for _, text := range sorrelOther {
		spec, err := Parse(text)
		require.NoError(t, err)
		require.Equal(t, text, spec.String())
	}
}

// The totals that the engine's author states for the default layouts: 220
// bolts, plugs and switches, 11 studs, 11 nuts, 8 washers and seal rings.
func TestSorrelTotals(t *testing.T) {
	got := map[family]int{}
	studs := 0
	for _, s := range sorrelSeats {
		if s.joint == "tensioner-flange" {
			continue
		}
		spec := sorrelSpec(t, s)
		if spec.Form == Stud {
			studs += s.pieces
			continue
		}
		got[formRules[spec.Form].family] += s.pieces
	}
	require.Equal(t, map[family]int{outside: 220, inside: 11, ring: 8}, got)
	require.Equal(t, 11, studs)
}

// Its author's answers: no hole is refused; the four heat shield screws are
// the one warning; plugs, switches and spark plugs have no length.
func TestSorrelWindow(t *testing.T) {
	var warned []string
	for _, s := range sorrelSeats {
		spec := sorrelSpec(t, s)
		s.hole.Thread = spec.Thread
		v := Window(s.hole, spec)
		require.False(t, v.Refused(), "%s %s: %s", s.joint, s.at, v)
		if v.Warned() {
			warned = append(warned, s.joint+" "+s.at+": "+v.String())
		}
		switch {
		case formRules[spec.Form].family != outside:
			require.Equal(t, NotScrewed, v.Outcome)
		case spec.LengthMm == 0:
			require.Equal(t, Unknown, v.Outcome, "%s %s: %s", s.joint, s.at, v)
			require.NotZero(t, v.Lacks&LackLength)
		case slices.Contains([]string{"rod-{n}-cap"}, s.joint):
			// Open behind with 4 mm of room, and how thick the thread is nobody wrote.
			require.Equal(t, Unknown, v.Outcome)
			require.Equal(t, LackDepth, v.Lacks)
		case !v.Warned():
			require.Equal(t, Fits, v.Outcome, "%s %s: %s", s.joint, s.at, v)
		}
	}
	require.Equal(t, []string{"heat-shield 1..4: M6x1.0x12 in this hole: it catches by 10.5 mm, 12.0 mm should in cast iron (2 x diameter)"}, warned)
}

func TestSorrelWrongBolts(t *testing.T) {
	short := Hole{Thread: thread(t, "M8x1.25"), GripMm: Mm(14), DepthMm: Mm(19), ThreadIn: "aluminium"}
	long := short
	long.GripMm = Mm(29)

	v := Window(short, spec(t, "M8x1.25x45 8.8 flange"))
	require.True(t, v.Refused())
	require.Equal(t, Bottoms, v.Outcome)
	require.InDelta(t, 14.5, v.ByMm, 1e-9)
	require.Equal(t, "M8x1.25x45 in this hole: 31.0 mm would enter, 16.5 mm may: it bottoms 14.5 mm early", v.String())

	v = Window(long, spec(t, "M8x1.25x30 8.8 flange"))
	require.True(t, v.Warned())
	require.Equal(t, "M8x1.25x30 in this hole: it catches by 1.0 mm, 12.0 mm should in aluminium (1.5 x diameter)", v.String())
}

// Every other kind of the engine that would start in hole 3 of its front
// cover, with what it would do there.
func TestSorrelAlsoStart(t *testing.T) {
	hole := Hole{Thread: thread(t, "M8x1.25"), GripMm: Mm(14), DepthMm: Mm(19), ThreadIn: "aluminium"}
	var kinds []Spec
	for _, s := range sorrelSeats {
		if k := sorrelSpec(t, s); !slices.Contains(kinds, k) {
			kinds = append(kinds, k)
		}
	}
	var got []string
	for _, v := range Usual().AlsoStart(hole, spec(t, "M8x1.25x30 8.8 flange"), kinds) {
		got = append(got, v.Spec.String()+": "+v.Outcome.String())
	}
	require.Equal(t, []string{
		"M8x1.25x40 8.8 flange: bottoms", "M8x1.25x50 8.8 flange: bottoms",
		"M8x1.25x25 8.8 shoulder (shoulder 12): too little thread",
		"M8x1.25x45 8.8 flange: bottoms", "M8x1.25x85 8.8 flange: bottoms",
		"M8x1.25x35 8.8 flange: bottoms", "M8x1.25x70 8.8 flange: bottoms",
		"M8x1.25x45 8.8 stud: unknown", "M8x1.25x25 8.8 flange: too little thread",
		"M8x1.25x80 8.8 flange: bottoms", "M8x1.25x20 8.8 flange: too little thread",
	}, got)
}

// The author's list of what a hand confuses in this engine.
func TestSorrelConfusions(t *testing.T) {
	lengths := map[string][]float64{}
	at20 := map[string]int{}
	for _, s := range sorrelSeats {
		k := sorrelSpec(t, s)
		if s.joint == "tensioner-flange" || k.LengthMm == 0 || k.Form == Stud {
			continue
		}
		th := k.Thread.String()
		if !slices.Contains(lengths[th], k.LengthMm) {
			lengths[th] = append(lengths[th], k.LengthMm)
		}
		if th == "M6x1.0" && k.LengthMm == 20 {
			at20[s.joint] += s.pieces
		}
	}
	for _, l := range lengths {
		slices.Sort(l)
	}
	require.Equal(t, []float64{12, 16, 20, 25, 40}, lengths["M6x1.0"])
	require.Equal(t, []float64{20, 25, 30, 35, 40, 45, 50, 70, 80, 85}, lengths["M8x1.25"])
	require.Equal(t, []float64{50, 60, 75, 85, 95, 110, 150}, lengths["M10x1.5"])
	total := 0
	for _, n := range at20 {
		total += n
	}
	require.Len(t, at20, 6)
	require.Equal(t, 29, total)

	for _, a := range sorrelSeats {
		for _, b := range sorrelSeats {
			x, y := sorrelSpec(t, a), sorrelSpec(t, b)
			if x.Thread == y.Thread && x.LengthMm > 0 && y.LengthMm > 0 && x.LengthMm != y.LengthMm {
				require.Equal(t, OtherLength, Confusable(x, y).Reason, "%s and %s", x, y)
				require.True(t, Starts(x.Thread, y.Thread))
			}
		}
	}
	for _, pair := range []struct {
		a, b string
		want Reason
	}{
		{"M8x1.25x40 8.8 flange", "M8x1.0x40 10.9 12pt", OtherPitch},
		{"M10x1.5x60 8.8 flange", "M10x1.25x60 8.8 flange", OtherPitch},
		{"M10x1.5x50 8.8 flange", "M10x1.0x22 10.9 12pt", OtherPitch},
		{"M10x1.25x60 8.8 flange", "M10x1.0x22 10.9 12pt", OtherPitch},
		{"M12x1.25x65 8.8 flange", "M12x1.5 plug", OtherPitch},
		{"M12x1.75x50 10.9 hex", "M12x1.25x45 10.9 12pt (solid)", OtherPitch},
		{"M12x1.75x50 10.9 hex", "M12x1.5 plug", OtherPitch},
		{"M14x1.5x65 10.9 flange", "M14x1.25 spark plug (gasket seat)", OtherPitch},
		{"M12x1.25x45 10.9 12pt (hollow with a filter)", "M12x1.25x45 10.9 12pt (solid)", OtherFeature},
		{"M6x1.0x20 8.8 flange", "M6x1.0x20 8.8 flange (thread-lock patch)", OtherFeature},
		{"M6x1.0x12 8.8 flange", "M6x1.0x12 A2-70 flange", OtherClass},
		{"M8x1.25x25 8.8 flange", "M8x1.25x25 8.8 shoulder (shoulder 12)", OtherFeature},
		{"M10x1.5x150 10.9 12pt (captive washer)", "M10x1.5x150 10.9 12pt", OtherFeature},
		{"M8x1.25 copper nut", "M8x1.25 8 flange nut", OtherClass},
		{"M14x1.5 plug (magnet)", "M14x1.5 plug (hexagon socket)", OtherFeature},
		{"M12x1.5 plug", "M12x1.5 coolant sensor", OtherForm},
		{"M8x1.25x45 8.8 flange", "M8x1.25x45 8.8 stud", OtherForm},
	} {
		c := Confusable(spec(t, pair.a), spec(t, pair.b))
		require.Equal(t, pair.want, c.Reason, "%s and %s: %s", pair.a, pair.b, c.Differ)
		require.Equal(t, c, Confusable(spec(t, pair.b), spec(t, pair.a)))
	}
}
