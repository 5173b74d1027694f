package fastener

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseAsWritten(t *testing.T) {
	for _, row := range []struct{ text, want string }{
		{"M8x1.25x30 8.8 flange", "M8x1.25x30 8.8 flange"},
		{"m8 × 1,25 × 30 8,8 Flanged", "M8x1.25x30 8.8 flange"},
		{"  M8 X 1.25 X 30mm   8.8  FLANGE ", "M8x1.25x30 8.8 flange"},
		{"M8-1.25x30 8.8 hex flange bolt", "M8x1.25x30 8.8 flange"},
		{"M8*1.25*30, 8.8, flange", "M8x1.25x30 8.8 flange"},
		{"8.8 flange bolt M8x1.25x30", "M8x1.25x30 8.8 flange"},
		{"M12x80 - 8.8", "M12x80 8.8"},
		{"M12x1.75-6g x 80", "M12x1.75x80"},
		{"M8 x 30", "M8x30"},
		{"M8", "M8"},
		{"M9x1.0x20", "M9x1.0x20"},
		{"M11x1.5", "M11x1.5"},
		{"M3x0.5x6 cheese slotted", "M3x0.5x6 slotted cheese"},
		{"M10x1.5x150 10.9 12-point", "M10x1.5x150 10.9 12pt"},
		{"M10x1.5x150 10.9 12 pt", "M10x1.5x150 10.9 12pt"},
		{"M10x1.5x95 12.9 12pt flange", "M10x1.5x95 12.9 12pt flange"},
		{"M12x1.25x45 10.9 12pt (Hollow  with a filter)", "M12x1.25x45 10.9 12pt (hollow with a filter)"},
		{"M16x1.5x40 left-hand", "M16x1.5x40 LH"},
		{"M16x1.5 nut LH", "M16x1.5 LH nut"},
		{"stud M10x1.5/M8x1.25x60 8.8", "M10x1.5/M8x1.25x60 8.8 stud"},
		{"M10x1.5/M8x1.25x60", "M10x1.5/M8x1.25x60 stud"},
		{"M8x1.25/M8x1.25x45 stud", "M8x1.25x45 stud"},
		{"M10/M8x60 stud", "M10/M8x60 stud"},
		{"M10x1.5/3/8-24x60 stud", "M10x1.5/3/8-24x60 stud"},
		{"3/8-16/3/8-24 x 1-3/8 stud", "3/8-16/3/8-24x1-3/8 stud"},
		{"3/8-16/M10x1.5x60 stud", "3/8-16/M10x1.5x60 stud"},
		{"1/2-13 x 2 13/16 stud bolt", "1/2-13x2-13/16 stud"},
		{"M8 locknut", "M8 lock nut"},
		{"M8x1.25 nut class 10", "M8x1.25 10 nut"},
		{"M8x1.25 10", "M8x1.25 10 nut"},
		{"M8x1.25 castellated", "M8x1.25 castle nut"},
		{"copper nut M8x1.25", "M8x1.25 copper nut"},
		{"5/16-18 x 1", "5/16-18x1"},
		{`5/16"-18 x 1"`, "5/16-18x1"},
		{"5/16-18 x 1-1/4 grade 5 hex", "5/16-18x1-1/4 grade 5 hex"},
		{"5/16-18 x 1 1/4 Gr. 5 hex", "5/16-18x1-1/4 grade 5 hex"},
		{"5/16-18 UNC-2A x 1.25 in g5 hex cap screw", "5/16-18x1-1/4 grade 5 hex"},
		{".3125-18 x 1", "5/16-18x1"},
		{"1/4-20x3/4", "1/4-20x3/4"},
		{"4/16-20x12/16", "1/4-20x3/4"},
		{"7/16-14 UNC x 2 g8", "7/16-14x2 grade 8"},
		{"7/16 UNF x 2 g8", "7/16-20x2 grade 8"},
		{"3/8-16 x 25mm", "3/8-16x25mm"},
		{"3/8-16 x 25.4mm", "3/8-16x1"},
		{"1/2-13 castle nut grade 5", "1/2-13 grade 5 castle nut"},
		{"1-8 x 4", "1-8x4"},
		{"1-1/4-7 x 4-1/2", "1-1/4-7x4-1/2"},
		{"#10-32 x 1/2", "#10-32x1/2"},
		{"10-32 x 1/2", "#10-32x1/2"},
		{"8-32 unc x 3/8", "#8-32x3/8"},
		{"3/8 NPT plug", "3/8 NPT plug"},
		{"3/8-18 npt socket plug", "3/8 NPT socket plug"},
		{"plug NPT 1/8", "1/8 NPT plug"},
		{"1/4 bspp plug", "G1/4 plug"},
		{"r 1/8 oil pressure switch", "R1/8 oil pressure switch"},
		{"G1/4 magnetic plug", "G1/4 magnetic plug"},
		{"R1/8/M10x1.0 fitting", "R1/8/M10x1.0 fitting"},
		{"sender, coolant, M12x1.5", "M12x1.5 coolant sensor"},
		{"24x30 sealing ring copper", "seal ring 24x30 copper"},
		{"copper seal ring 24 x 30", "seal ring 24x30 copper"},
		{"seal ring 24,5x30 mm", "seal ring 24.5x30"},
		{"o ring 40 x 2,5 fkm", "O-ring 40x2.5 FKM"},
		{"O-ring 8.8x1.9", "O-ring 8.8x1.9"},
		{"washer 8.4x16x1.6 200 HV", "washer 8.4x16x1.6 200HV"},
		{"lockwasher 5/8", "lock washer 5/8"},
		{`washer 1" x 2"`, `washer 1x2"`},
		{"M8 washer", "M8 washer"},
		{"M8x1.25 washer", "M8 washer"},
		{"M8x1.0 washer", "M8 washer"},
		{"cotter pin 1/16 x 1/2", "cotter pin 1/16x1/2"},
		{"8x12 dowel", "dowel 8x12"},
	} {
		t.Run(row.text, func(t *testing.T) {
			got := spec(t, row.text)
			require.Equal(t, row.want, got.String())
			require.Equal(t, got, spec(t, row.want))
		})
	}
}

func TestParseFields(t *testing.T) {
	s := spec(t, "M10x1.5/M8x1.25x60 8.8 stud (long end up)")
	require.Equal(t, Stud, s.Form)
	require.Equal(t, Thread{System: Metric, DiameterMm: 10, PitchMm: 1.5}, s.Thread)
	require.Equal(t, Thread{System: Metric, DiameterMm: 8, PitchMm: 1.25}, s.SecondThread)
	require.Equal(t, 60.0, s.LengthMm)
	require.Equal(t, "8.8", s.Class)
	require.Equal(t, "long end up", s.Feature)

	s = spec(t, "M8x30")
	require.True(t, s.Thread.PitchAssumed)
	require.Equal(t, 1.25, s.Thread.PitchMm)
	require.Equal(t, Bolt, s.Form)

	s = spec(t, "#10-32 x 1/2")
	require.InDelta(t, 4.826, s.Thread.DiameterMm, 1e-9)
	require.InDelta(t, 0.79375, s.Thread.PitchMm, 1e-9)
	require.Equal(t, 12.7, s.LengthMm)

	s = spec(t, "R1/8 oil pressure switch")
	require.Equal(t, Switch, s.Form)
	require.Equal(t, "oil pressure", s.Use)
	require.InDelta(t, 9.728, s.Thread.DiameterMm, 1e-9)

	s = spec(t, "seal ring 24x30")
	require.Equal(t, [3]float64{24, 30, 0}, s.SizesMm)
	require.Equal(t, AnyForm, spec(t, "M12x1.75").Form)
}

func TestParseRefuses(t *testing.T) {
	for _, row := range []struct {
		text, why string
		column    int
	}{
		{"", "nothing written", 1},
		{"   ", "nothing written", 1},
		{"flange 8.8", "no thread", 1},
		{"seal ring", "no size", 1},
		{"24x30", "sizes without a word", 1},
		{"M8x1.25x30 8.8 flnage", "nearest is flange", 16},
		{"M8x1.25x30  8.8 flnage", "nearest is flange", 17},
		{"M8x1.25x30 8.8 zinc", "in brackets: (zinc)", 16},
		{"M8x30x1.25", "write M8x1.25x30", 3},
		{"M8x3", "too coarse for a pitch", 3},
		{"M8x1.25x30x5", "one number too many", 11},
		{"M8x1.25x0", "no length", 8},
		{"M13x30", "no coarse pitch to assume", 1},
		{"M0.5x0.1", "a diameter of 0.5", 1},
		{"M8x1.25x30 8.9", "no such property class", 12},
		{"M8x1.25x30 8", "write the class of a bolt in full, such as 8.8", 1},
		{"M8x1.25 8.8 nut", "a class of bolts on a nut", 1},
		{"M8x1.25x30 8.8 10.9", "a second class, after 8.8", 16},
		{"M8x1.25x30 grade 9", "no such grade", 12},
		{"M8x1.25x30 castle bolt", "no bolt is made like that", 12},
		{"M8x1.25 wave castle", "go with no one form", 9},
		{"M8x1.25x16 washer", "a length on a washer", 1},
		{"M8x1.25/M6x1.0 nut", "two threads on a nut", 1},
		{"M8x1.25/stud", "no second thread after the stroke", 8},
		{"M8x1.25 O-ring", "a thread on an O-ring", 1},
		{"M8x1.25x30 M6x1.0", "stands alone", 12},
		{"switch x2 M8x1.25", "stands alone", 8},
		{"mm sensor M8x30", "stands alone", 1},
		{"washer 8 M8", "sizes beside a thread", 8},
		{"washer 8x16x1.6x2", "one number too many", 16},
		{"washer 0x16", "no size", 8},
		{"LH washer 8x16", "a left hand without a thread", 1},
		{"7/16-14 UNF x 2", "measure the pitch and write 7/16-14 or 7/16-20", 1},
		{"7/17-14 x 2", "no inch thread", 1},
		{"#13-32 x 2", "no inch thread", 1},
		{"1/2-3", "no inch thread", 1},
		{"5/7 NPT", "no such pipe size", 1},
		{"3/8-20 NPT", "3/8 NPT has 18 threads per inch", 1},
		{"M8x1.25x30 8.8 (", "does not end the text", 16},
		{"M8x1.25x30 8.8 ()", "a feature without words", 16},
		{"M8x1.25x30 (a) 8.8", "does not end the text", 12},
		{"M8x1.25x30 (a (b))", "brackets inside a feature", 13},
		{"M8x1.25x30 hollow)", "closed that was not opened", 18},
		{"M8x1.25x30 (" + strings.Repeat("a", 61) + ")", "a feature of 61 characters", 13},
		{"M8x1.25x30 " + strings.Repeat(" ", 200), "write it in 160 or fewer", 1},
		{"M8x1.25x30\x00", "cannot be printed", 11},
		{"M8x1.25x30\xff", "cannot be printed", 11},
		{"M8x1.25x30 §", "cannot be read here", 12},
	} {
		t.Run(row.text, func(t *testing.T) {
			_, err := Parse(row.text)
			var wrong *SyntaxError
			require.ErrorAs(t, err, &wrong)
			require.Contains(t, err.Error(), row.why)
			require.Equal(t, row.column, wrong.Column, err.Error())
			require.Equal(t, row.text, wrong.Text)
			require.NotEmpty(t, wrong.Action)
		})
	}
}

func TestParseWithFeature(t *testing.T) {
	s, err := ParseWithFeature("M14x1.5 plug", "Magnet")
	require.NoError(t, err)
	require.Equal(t, "M14x1.5 plug (magnet)", s.String())
	same, err := ParseWithFeature("M14x1.5 plug (magnet)", "magnet")
	require.NoError(t, err)
	require.Equal(t, s, same)
	plain, err := ParseWithFeature("M14x1.5 plug", "")
	require.NoError(t, err)
	require.Equal(t, spec(t, "M14x1.5 plug"), plain)

	_, err = ParseWithFeature("M14x1.5 plug (magnet)", "socket")
	require.ErrorContains(t, err, "another feature")
	_, err = ParseWithFeature("M14x1.5 plug", "a (b)")
	require.ErrorContains(t, err, "brackets inside a feature")
	_, err = ParseWithFeature("M14x1.5 plgu", "a")
	require.ErrorContains(t, err, "nearest is plug")
	_, err = ParseWithFeature("M14x1.5 plug", strings.Repeat("a", 61))
	require.ErrorContains(t, err, "61 characters")
}

// Head words in any order make one kind, and none of them joined with another
// makes a form or an alias.
func TestHeadWordsStandAlone(t *testing.T) {
	forms := []Form{Bolt, Plug, SetScrew, BanjoBolt, Nut, Washer}
	for i, a := range headWords {
		_, isForm := formOf(a.word)
		_, isMaterial := materialWords[a.word]
		require.False(t, isForm || isMaterial || droppedWords[a.word], a.word)
		for j, b := range headWords {
			for _, f := range forms {
				if i == j || !headFits(i, f) || !headFits(j, f) {
					continue
				}
				ab := spec(t, "M8x1.25 "+a.word+" "+b.word+" "+string(f))
				ba := spec(t, "M8x1.25 "+b.word+" "+a.word+" "+string(f))
				require.Equal(t, ab, ba)
				require.Equal(t, ab, spec(t, ab.String()))
			}
		}
	}
	for alias, word := range headAliases {
		require.GreaterOrEqual(t, headIndex(word), 0, alias)
		require.Less(t, headIndex(alias), 0, alias)
	}
}

func TestEveryKindReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawSpec(t)
		if want.Form == Washer || want.Form == SealRing {
			p := &parser{spec: want, left: want.Thread.Left}
			p.settle(formRules[want.Form])
			want = p.spec
		}
		got, err := Parse(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got, want.String())
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range sorrelSeats {
		f.Add(s.text, s.feature)
	}
	for _, s := range []string{"5/16-18 x 1-1/4 grade 5 hex", "7/16-14 UNC x 2 g8", "#10-32x1/2", "M10x1.5/M8x1.25x60 8.8 stud",
		"3/8-16/3/8-24x1-3/8 stud", "M8 × 30", "m8x1,25x30", `washer 1x2"`, "stud guide M10x1.5", "pin dowel M8", "M16 LH", "oil self 6g locking sensor M8"} {
		f.Add(s, "")
	}
	f.Fuzz(func(t *testing.T, text, feature string) {
		s, err := ParseWithFeature(text, feature)
		if err != nil {
			var wrong *SyntaxError
			require.True(t, errors.As(err, &wrong))
			require.NotEmpty(t, wrong.Action)
			return
		}
		again, err := Parse(s.String())
		require.NoError(t, err)
		require.Equal(t, s, again)
		require.True(t, Interchangeable(s, again).Yes())
		require.False(t, Confusable(s, again).Yes())
		_ = Window(Hole{Thread: s.Thread}, s).String()
	})
}
