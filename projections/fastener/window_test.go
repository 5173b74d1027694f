package fastener

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestWindow(t *testing.T) {
	m8 := thread(t, "M8x1.25")
	blind := Hole{Thread: m8, ThreadIn: "aluminium", GripMm: Mm(14), DepthMm: Mm(19)}
	through := Hole{Thread: m8, ThreadIn: "steel", GripMm: Mm(14), DepthMm: Mm(12), FreeBehindMm: Mm(3)}
	stud := Hole{Thread: m8, ThreadIn: "aluminium", GripMm: Mm(20), DepthMm: Mm(20), RunInMm: Mm(16), NutHeightMm: Mm(8)}
	with := func(h Hole, change func(*Hole)) Hole { change(&h); return h }

	for _, row := range []struct {
		name    string
		hole    Hole
		text    string
		outcome Outcome
		says    string
	}{
		{"inside", blind, "M8x1.25x30", Fits, "16.0 mm enters, 16.5 mm may: it fits"},
		{"at the upper limit", with(blind, func(h *Hole) { h.GripMm = Mm(13.5) }), "M8x1.25x30", Fits, "16.5 mm enters"},
		{"at the lower limit", with(blind, func(h *Hole) { h.GripMm = Mm(18) }), "M8x1.25x30", Fits, "12.0 mm enters"},
		{"too long", blind, "M8x1.25x45", Bottoms, "31.0 mm would enter, 16.5 mm may: it bottoms 14.5 mm early"},
		{"too short", blind, "M8x1.25x25", Short, "it catches by 11.0 mm, 12.0 mm should in aluminium (1.5 x diameter)"},
		{"steel wants less", with(blind, func(h *Hole) { h.ThreadIn = "Steel" }), "M8x1.25x25", Fits, "11.0 mm enters"},
		{"iron wants more", with(blind, func(h *Hole) { h.ThreadIn = "iron"; h.DepthMm = Mm(30) }), "M8x1.25x25", Short, "16.0 mm should in iron (2 x diameter)"},
		{"ends before the thread", blind, "M8x1.25x12", NoReach, "it ends 2.0 mm before the thread"},
		{"ends at the thread", blind, "M8x1.25x14", NoReach, "it ends where the thread begins"},
		{"other pitch", blind, "M8x1.0x30", NoStart, "it starts in M8x1.25 and jams: its pitch is 1 mm, the hole's 1.25 mm"},
		{"other hand", with(blind, func(h *Hole) { h.Thread.Left = true }), "M8x1.25x30", NoStart, "it does not start in M8x1.25 LH"},
		{"pitch only assumed", blind, "M8x30", Unknown, "16.0 mm enters; not known: thread"},
		{"assumed, and bottoms all the same", blind, "M8x45", Bottoms, "bottoms 14.5 mm early"},
		{"no length", blind, "M8x1.25 8.8 flange", Unknown, "cannot be said; not known: length"},
		{"no grip", with(blind, func(h *Hole) { h.GripMm = Length{} }), "M8x1.25x30", Unknown, "cannot be said; not known: grip"},
		{"no depth", with(blind, func(h *Hole) { h.DepthMm = Length{} }), "M8x1.25x30", Unknown, "16.0 mm enters; not known: depth of the thread"},
		{"no depth, too short all the same", with(blind, func(h *Hole) { h.DepthMm = Length{} }), "M8x1.25x20", Short, "it catches by 6.0 mm"},
		{"no material", with(blind, func(h *Hole) { h.ThreadIn = "" }), "M8x1.25x30", Unknown, "16.0 mm enters; not known: material of the thread"},
		{"material nobody set", with(blind, func(h *Hole) { h.ThreadIn = "magnesium" }), "M8x1.25x30", Unknown, "not known: material"},
		{"no thread of the hole", with(blind, func(h *Hole) { h.Thread = Thread{} }), "M8x1.25x30", Unknown, "not known: thread"},
		{"a flat hole", with(blind, func(h *Hole) { h.DepthMm = Mm(2) }), "M8x1.25x30", Bottoms, "0.0 mm may: it bottoms 16.0 mm early"},
		{"a short insert", with(blind, func(h *Hole) { h.InsertDepthMm = Mm(8) }), "M8x1.25x30", Short, "8.0 mm of thread carries, 12.0 mm should"},
		{"a long insert", with(blind, func(h *Hole) { h.InsertDepthMm = Mm(16) }), "M8x1.25x30", Fits, "it fits"},

		{"through, with room", through, "M8x1.25x28", Fits, "14.0 mm enters, 15.0 mm may: it fits"},
		{"through, no room", through, "M8x1.25x30", Strikes, "16.0 mm would enter, 15.0 mm may: it stands 1.0 mm too far out behind"},
		{"through, thin wall", with(through, func(h *Hole) { h.DepthMm = Mm(6); h.FreeBehindMm = Mm(50) }), "M8x1.25x30", Short, "6.0 mm of thread carries, 8.0 mm should"},
		{"through, wall unknown, room for all", with(through, func(h *Hole) { h.DepthMm = Length{}; h.FreeBehindMm = Mm(16) }), "M8x1.25x30", Fits, "it fits"},
		{"through, wall unknown, room for some", with(through, func(h *Hole) { h.DepthMm = Length{} }), "M8x1.25x30", Unknown, "16.0 mm enters; not known: depth of the thread"},
		{"through, room unknown", with(through, func(h *Hole) { h.FreeBehindMm = Length{}; h.Through = true }), "M8x1.25x30", Unknown, "not known: room behind"},
		{"through, nothing known", Hole{Through: true}, "M14x1.25 spark plug", Unknown, "not known: thread, length, grip, room behind, material of the thread"},

		{"stud", stud, "M8x1.25x45 stud", Fits, "16.0 mm enters, 17.5 mm may; 29.0 mm stands out, stack and nut need 28.0 mm: it fits"},
		{"stud run in too far", with(stud, func(h *Hole) { h.RunInMm = Mm(18) }), "M8x1.25x60 stud", Bottoms, "18.0 mm would enter, 17.5 mm may: it bottoms 0.5 mm early"},
		{"stud hardly run in", with(stud, func(h *Hole) { h.RunInMm = Mm(8) }), "M8x1.25x45 stud", Short, "it catches by 8.0 mm"},
		{"stud short of its nut", stud, "M8x1.25x40 stud", NutShort, "24.0 mm stands out, stack and nut need 28.0 mm: 4.0 mm of the nut stay empty"},
		{"stud under the stack", stud, "M8x1.25x35 stud", NutOff, "19.0 mm stands out, 20.0 mm are clamped: it ends 1.0 mm before the nut"},
		{"stud, run-in unknown", with(stud, func(h *Hole) { h.RunInMm = Length{} }), "M8x1.25x45 stud", Unknown, "not known: run-in"},
		{"stud, nut unknown", with(stud, func(h *Hole) { h.NutHeightMm = Length{} }), "M8x1.25x45 stud", Unknown, "not known: height of the nut"},
		{"stud, length unknown", stud, "M8x1.25 stud", Unknown, "not known: length"},
		{"bolt in a stud's hole", stud, "M8x1.25x35", Fits, "15.0 mm enters"},

		{"nut", blind, "M8x1.25 8 nut", NotScrewed, "a nut is not screwed into it"},
		{"ring", blind, "seal ring 24x30", NotScrewed, "a seal ring is not screwed into it"},
	} {
		t.Run(row.name, func(t *testing.T) {
			v := Window(row.hole, spec(t, row.text))
			require.Equal(t, row.outcome, v.Outcome, v.String())
			require.Contains(t, v.String(), row.says)
			require.Equal(t, row.outcome == Short || row.outcome == NutShort, v.Warned())
			require.Equal(t, row.outcome >= NutOff, v.Refused())
		})
	}
}

// A 3/8-16 hole in cast iron with 0.865 in of thread and 0.58 in clamped: two
// pitches are 0.125 in, so 0.74 in may enter; a bolt of 1-1/2 in enters by 0.92.
func TestWindowInInches(t *testing.T) {
	hole := Hole{Thread: thread(t, "3/8-16"), ThreadIn: "cast iron", GripMm: Mm(14.732), DepthMm: Mm(21.971)}
	stud := Hole{Thread: thread(t, "3/8-16"), ThreadIn: "steel", GripMm: Mm(25.4), DepthMm: Mm(25.4), RunInMm: Mm(15.24), NutHeightMm: Mm(7.62)}
	with := func(h Hole, change func(*Hole)) Hole { change(&h); return h }
	for _, row := range []struct {
		hole    Hole
		text    string
		outcome Outcome
		says    string
	}{
		{hole, "3/8-16x1-1/2", Bottoms, "0.92 in (23.4 mm) would enter, 0.74 in (18.8 mm) may: it bottoms 0.18 in (4.6 mm) early"},
		{hole, "3/8-16x1-1/4", Short, "it catches by 0.67 in (17.0 mm), 0.75 in (19.1 mm) should in cast iron (2 x diameter)"},
		{hole, "3/8-16x1/2", NoReach, "it ends 0.080 in (2.0 mm) before the thread"},
		{with(hole, func(h *Hole) { h.ThreadIn = "steel" }), "3/8-16x1-1/4", Fits, "0.67 in (17.0 mm) enters, 0.74 in (18.8 mm) may: it fits"},
		{with(hole, func(h *Hole) { h.Thread = Thread{} }), "3/8-16x1-1/2", Bottoms, "0.92 in (23.4 mm) would enter"},
		{with(hole, func(h *Hole) { h.DepthMm = Length{} }), "3/8-16x1-1/2", Unknown, "0.92 in (23.4 mm) enters; not known: depth"},
		{with(hole, func(h *Hole) { h.FreeBehindMm = Mm(0) }), "3/8-16x1-1/2", Strikes, "0.87 in (22.0 mm) may: it stands 0.055 in (1.4 mm) too far out behind"},
		{stud, "3/8-16x2 stud", Fits, "0.60 in (15.2 mm) enters, 0.88 in (22.2 mm) may; 1.40 in (35.6 mm) stands out, stack and nut need 1.30 in (33.0 mm): it fits"},
		{stud, "3/8-16x1-3/4 stud", NutShort, "1.15 in (29.2 mm) stands out, stack and nut need 1.30 in (33.0 mm): 0.15 in (3.8 mm) of the nut stay empty"},
		{stud, "3/8-16x1-1/2 stud", NutOff, "0.90 in (22.9 mm) stands out, 1.00 in (25.4 mm) are clamped: it ends 0.10 in (2.5 mm) before the nut"},
	} {
		v := Window(row.hole, spec(t, row.text))
		require.Equal(t, row.outcome, v.Outcome, v.String())
		require.Contains(t, v.String(), row.says)
		require.NotContains(t, v.Metric().String(), " in (", "a shop that wants millimetres")
		require.Equal(t, v.Outcome, v.Metric().Outcome)
	}
	require.Contains(t, Window(hole, spec(t, "3/8-16x1-1/2")).Metric().String(), "23.4 mm would enter, 18.8 mm may")
	mixed := Window(Hole{Thread: thread(t, "M8x1.25"), GripMm: Mm(10), DepthMm: Mm(10)}, spec(t, "M8x1.25x30"))
	require.Contains(t, mixed.String(), "20.0 mm would enter, 7.5 mm may", "metric threads stay in millimetres")
}

func TestRulesCanBeSet(t *testing.T) {
	own := Usual()
	own.Factor["magnesium"] = 2.5
	own.RunoutPitches = 1
	hole := Hole{Thread: thread(t, "M8x1.25"), ThreadIn: "magnesium", GripMm: Mm(10), DepthMm: Mm(20)}
	v := own.Window(hole, spec(t, "M8x1.25x28"))
	require.Equal(t, Short, v.Outcome)
	require.Equal(t, Mm(20), v.WantsMm)
	require.Equal(t, Mm(18.75), v.MayMm)
	require.Equal(t, Unknown, Window(hole, spec(t, "M8x1.25x26")).Outcome, "the usual rules are untouched")
}

// walk turns a bolt in by hundredths of a millimetre until its head lands or
// its end meets the runout, the way a hand finds out.
func walk(grip, depth, length, runout int) (landed bool, short int) {
	for in := 0; ; in++ { // how far the end is below the face of the hole
		head := length - in // how high the head is above the face
		if head <= grip {
			return true, 0
		}
		if in >= depth-runout && in >= 0 && head > grip {
			return false, head - grip
		}
	}
}

func TestWindowAgreesWithTurningItIn(t *testing.T) {
	m8 := thread(t, "M8x1.25")
	rapid.Check(t, func(t *rapid.T) {
		grip := rapid.IntRange(0, 60).Draw(t, "grip") * 50
		depth := rapid.IntRange(5, 60).Draw(t, "depth") * 50
		length := rapid.IntRange(10, 150).Draw(t, "length") * 50
		v := Window(Hole{Thread: m8, ThreadIn: "steel", GripMm: Mm(float64(grip) / 100), DepthMm: Mm(float64(depth) / 100)},
			Spec{Form: Bolt, Thread: m8, LengthMm: float64(length) / 100})
		if length <= grip {
			require.Equal(t, NoReach, v.Outcome)
			require.InDelta(t, float64(grip-length)/100, v.ByMm, 1e-9)
			return
		}
		landed, short := walk(grip, depth, length, 250)
		require.Equal(t, !landed, v.Outcome == Bottoms, v.String())
		if !landed {
			require.InDelta(t, float64(short)/100, v.ByMm, 1e-9)
			return
		}
		require.Equal(t, length-grip < 800, v.Outcome == Short, v.String())
	})
}

// What becomes known never turns a refusal or a warning into its opposite, and
// what is forgotten never makes one.
func TestForgettingOnlyMakesItUnknown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Spec{Form: rapid.SampledFrom([]Form{Bolt, Stud}).Draw(t, "form"), Thread: Thread{System: Metric, DiameterMm: 8, PitchMm: 1.25}}
		mm := func(name string) Length { return Mm(float64(rapid.IntRange(0, 80).Draw(t, name)) / 2) }
		s.LengthMm = float64(rapid.IntRange(10, 80).Draw(t, "length"))
		full := Hole{Thread: s.Thread, ThreadIn: "aluminium", GripMm: mm("grip"), DepthMm: mm("depth"), RunInMm: mm("run-in"), NutHeightMm: mm("nut")}
		if rapid.Bool().Draw(t, "through") {
			full.FreeBehindMm = mm("free")
		}
		known := Window(full, s)
		require.NotEqual(t, Unknown, known.Outcome)
		require.Zero(t, known.Lacks)
		less := full
		for _, l := range []*Length{&less.GripMm, &less.DepthMm, &less.RunInMm, &less.NutHeightMm} {
			if rapid.Bool().Draw(t, "forget") {
				*l = Length{}
			}
		}
		if rapid.Bool().Draw(t, "forget material") {
			less.ThreadIn = ""
		}
		got := Window(less, s)
		if !full.through() && got.Outcome != known.Outcome {
			require.True(t, got.Outcome == Unknown || got.Outcome < known.Outcome, "%s, then %s", known, got)
		}
		if got.Outcome == Fits && !full.through() {
			require.Equal(t, Fits, known.Outcome, "%s, then %s", known, got)
		}
	})
}

func TestAlsoStart(t *testing.T) {
	hole := Hole{Thread: thread(t, "M8x1.25"), ThreadIn: "aluminium", GripMm: Mm(14), DepthMm: Mm(19)}
	kinds := []Spec{spec(t, "M8x1.25x45"), spec(t, "M8x1.25x30"), spec(t, "M8x1.0x30"), spec(t, "M8x1.25 nut"), spec(t, "M8x1.25x20"), spec(t, "M6x1.0x30")}
	list := Usual().AlsoStart(hole, spec(t, "M8x1.25x30 8.8"), kinds)
	require.Len(t, list, 2)
	require.Equal(t, Bottoms, list[0].Outcome)
	require.InDelta(t, 14.5, list[0].ByMm, 1e-9)
	require.Equal(t, Short, list[1].Outcome)
	require.Equal(t, Mm(6), list[1].CarriesMm)
}

func TestWords(t *testing.T) {
	require.Equal(t, "unknown", Length{}.String())
	require.Equal(t, "0.0 mm", Mm(0).String())
	for o := Unknown; o <= NoStart; o++ {
		require.NotContains(t, o.String(), "outcome ")
	}
	require.Equal(t, "outcome 99", Outcome(99).String())
	for r := NotConfused; r <= NearSize; r++ {
		require.NotContains(t, r.String(), "reason ")
	}
	require.Equal(t, "reason 99", Reason(99).String())
	require.Equal(t, "system 99", System(99).String())
	require.Equal(t, "form, thread, pitch, hand, nut end, length, sizes, class, head, use, feature", (fieldsEnd - 1).String())
	require.Equal(t, "thread, length, grip, depth of the thread, room behind, material of the thread, run-in, height of the nut", (lacksEnd - 1).String())
}
