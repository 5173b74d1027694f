package labels

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/symbol"
)

// Names as people, files and broken scanners make them.
var anyName = rapid.OneOf(
	rapid.SampledFrom([]string{"", "Front cover to block", "Kurbelgehäuseentlüftung", "ÄÅÉ", "8", strings.Repeat("x", 300),
		strings.Repeat("Front cover ", 25), "a\x00\x07\r\nb", "田中", "שלום 7", "\xff\xfe", "  "}),
	rapid.StringN(0, 300, 900),
)

func anyBag(t *rapid.T) Bag {
	text := func(name string) string { return anyName.Draw(t, name) }
	texts := rapid.SliceOfN(anyName, 0, 5)
	b := Bag{
		Code: issued(t, code.Bag, rapid.Uint32Range(0, 9000).Draw(t, "code")),
		Job:  text("job"), Engine: text("engine"), Joint: text("joint"), Side: text("side"), End: text("end"),
		Condition: Condition(rapid.IntRange(0, 5).Draw(t, "condition")),
		GoesWith:  texts.Draw(t, "with"), BackWith: texts.Draw(t, "back"), Under: text("under"), Before: text("before"), After: text("after"),
		Bag: rapid.IntRange(0, 99).Draw(t, "bag"), Of: rapid.IntRange(0, 99).Draw(t, "of"), Initials: text("initials"),
		Reprint: rapid.IntRange(0, 3).Draw(t, "reprint"), Training: rapid.Bool().Draw(t, "training"),
	}
	for range rapid.IntRange(0, 12).Draw(t, "lines") {
		b.Lines = append(b.Lines, Line{Spec: text("spec"), Count: rapid.IntRange(0, 40).Draw(t, "count"),
			Expected: rapid.IntRange(0, 40).Draw(t, "expected"), Holes: texts.Draw(t, "holes")})
	}
	b.Pattern.Placed = rapid.Bool().Draw(t, "placed")
	b.Pattern.Front = text("edge")
	for range rapid.IntRange(0, 24).Draw(t, "holes") {
		b.Pattern.Spots = append(b.Pattern.Spots, Spot{text("hole"), rapid.Float64Range(-200, 200).Draw(t, "x"), rapid.Float64Range(-200, 200).Draw(t, "y")})
	}
	if rapid.Bool().Draw(t, "dated") {
		b.Date = day
	}
	return b
}

// Whatever the names and the size of the label: either it is refused with what
// would fit, and that does fit, or it is read back, nothing lies over anything
// else, and what it must say is there.
func TestAnyBagOnAnyLabel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBag(t)
		m := Media{
			WidthMm: rapid.Float64Range(15, 160).Draw(t, "width"), HeightMm: rapid.Float64Range(10, 110).Draw(t, "height"),
			DPI:     rapid.SampledFrom(resolutions).Draw(t, "dpi"),
			Symbols: Symbols(rapid.IntRange(0, 2).Draw(t, "symbols")),
		}
		d, err := Draw(b, m)
		var small *TooSmall
		if errors.As(err, &small) {
			require.NotEmpty(t, small.Fits, err)
			require.NotEmpty(t, small.Lacks)
			return
		}
		require.NoError(t, err)
		require.Equal(t, []code.Code{b.Code}, d.Codes())
		require.Empty(t, d.Page(0).Overlaps())
		all := ""
		for _, w := range d.Page(0).Texts() {
			all += w.Text + "\n"
		}
		require.Contains(t, all, string(b.Code))
		if b.Training && m.WidthMm > 38 {
			require.Contains(t, all, "TRAINING")
		}
		if b.Reprint > 0 && m.WidthMm > 38 {
			require.Contains(t, all, "REPRINT")
		}
		_, err = d.PNG(0)
		require.NoError(t, err)
	})
}

func TestNamesOf300Characters(t *testing.T) {
	b := frontCover(t)
	b.Joint, b.Side, b.Engine, b.Initials = strings.Repeat("Ä", 300), strings.Repeat("front ", 50), strings.Repeat("S", 300), strings.Repeat("m", 300)
	b.Lines[1].Spec = strings.Repeat("M8x1.25 ", 40)
	for _, dpi := range resolutions {
		d, err := Draw(b, Media{WidthMm: 100, HeightMm: 60, DPI: dpi})
		require.NoError(t, err)
		require.Empty(t, d.Page(0).Overlaps())
		cut := 0
		for _, w := range d.Page(0).Texts() {
			if strings.HasSuffix(w.Text, page.Ellipsis) {
				cut++
			}
		}
		require.GreaterOrEqual(t, cut, 4)
	}
}

// What does not fit is counted.
func TestLinesThatWentAreSaid(t *testing.T) {
	b := frontCover(t)
	for range 30 {
		b.Lines = append(b.Lines, Line{Spec: "M6x1.0x12 8.8", Count: 1})
	}
	d, err := Draw(b, Media{WidthMm: 70, HeightMm: 50, DPI: 203})
	require.NoError(t, err)
	shown, said := 0, ""
	for _, w := range d.Page(0).Texts() {
		if strings.Contains(w.Text, " × M") {
			shown++
		}
		if strings.Contains(w.Text, "more") {
			said = w.Text
		}
	}
	require.Greater(t, shown, 3)
	require.Less(t, shown, 34)
	require.Contains(t, said, "lines more")
}

func TestTooSmallSaysWhatWouldFit(t *testing.T) {
	for _, row := range []struct {
		media Media
		lacks string
		fits  []string
	}{
		{Media{WidthMm: 30, HeightMm: 20, DPI: 203}, "Code 128 needs 35.8 mm of width with its quiet zones at 0.250 mm a module, there are 27.0 mm between the margins",
			[]string{"a label of 39 x 25 mm"}},
		{Media{WidthMm: 35, HeightMm: 40, DPI: 300}, "Code 128 needs 36.3 mm",
			[]string{"a label of 40 x 40 mm", "the Data Matrix alone", "modules of 0.212 mm for Code 128 and 0.318 mm for Data Matrix at 600 dpi"}},
		{Media{WidthMm: 60, HeightMm: 12, DPI: 203}, "head, one line and Code 128 with its characters need",
			[]string{"a label of 60 x"}},
		{Media{WidthMm: 15, HeightMm: 12, DPI: 203, Symbols: MatrixOnly}, "Data Matrix with its characters need",
			[]string{"a label of 15 x"}},
		{Media{WidthMm: 60, HeightMm: 40, DPI: 203, LinearMm: 0.5}, "Code 128 needs 71.5 mm",
			[]string{"a label of 75 x 40 mm", "the Data Matrix alone", "modules of 0.375 mm"}},
	} {
		_, err := Draw(frontCover(t), row.media)
		var small *TooSmall
		require.ErrorAs(t, err, &small)
		require.Contains(t, small.Lacks, row.lacks)
		for _, f := range row.fits {
			require.Contains(t, strings.Join(small.Fits, "|"), f, err.Error())
		}
		require.Contains(t, err.Error(), "; this would fit: ")
	}
}

// What is said to fit does fit.
func TestWhatIsSaidToFitFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Media{
			WidthMm: rapid.Float64Range(8, 60).Draw(t, "width"), HeightMm: rapid.Float64Range(8, 60).Draw(t, "height"),
			DPI: rapid.SampledFrom(resolutions).Draw(t, "dpi"), LinearMm: rapid.Float64Range(0.25, 0.6).Draw(t, "module"),
		}
		d, err := m.dots()
		require.NoError(t, err)
		c := issued(t, code.Bag, 7)
		p, err := symbols(c)
		require.NoError(t, err)
		fits := func(m Media) bool {
			n, err := m.dots()
			require.NoError(t, err)
			_, lacks := n.places(n.paper(), p)
			return lacks == ""
		}
		if fits(m) {
			_, err := Draw(Tag{Code: issued(t, code.Part, 7), Name: "Rocker"}, m)
			require.NoError(t, err, "it was said to fit")
			return
		}
		w, h, ok := d.larger(fits)
		require.True(t, ok)
		m.WidthMm, m.HeightMm = w, h
		_, err = Draw(Tag{Code: issued(t, code.Part, 7), Name: "Rocker"}, m)
		require.NoError(t, err)
	})
}

func TestMediaRefuses(t *testing.T) {
	for _, row := range []struct {
		media Media
		why   string
	}{
		{Media{WidthMm: 100, HeightMm: 60}, "resolution 0 dpi: want 150 to 1200"},
		{Media{WidthMm: 100, HeightMm: 60, DPI: 203, LinearMm: 0.1}, "media: Code 128: module width 0.1 mm: want 0.19"},
		{Media{WidthMm: 100, HeightMm: 60, DPI: 203, MatrixMm: 9}, "media: Data Matrix: module width 9 mm"},
		{Media{WidthMm: 100, HeightMm: 60, DPI: 203, MarginMm: -1}, "media: margin -1 mm: want 0.5 to 20 mm"},
		{Media{WidthMm: 100, HeightMm: 60, DPI: 203, BarMm: 2}, "media: bar height 2 mm: want 5 to 100 mm"},
		{Media{WidthMm: 100, HeightMm: 60, DPI: 203, LeastCapMm: 0.2}, "media: smallest capitals 0.2 mm: want 0.8 to 20 mm"},
		{Media{WidthMm: 100, HeightMm: 60, DPI: 203, Symbols: 7}, "media: symbols 7: want both, linear or matrix"},
		{Media{WidthMm: 0, HeightMm: 60, DPI: 203}, "media: paper 0 x 60 mm: want 5 to 1200"},
		{Media{WidthMm: 100, HeightMm: 2000, DPI: 203}, "media: paper 100 x 2000 mm"},
	} {
		_, err := Draw(frontCover(t), row.media)
		require.ErrorContains(t, err, row.why)
	}
	for i, w := range symbolWords {
		s, err := SymbolsOf(w)
		require.NoError(t, err)
		require.Equal(t, Symbols(i), s)
		require.Equal(t, w, s.String())
	}
	_, err := SymbolsOf("all")
	require.ErrorContains(t, err, `symbols "all": want both, linear or matrix`)
}

func TestLabelsRefuse(t *testing.T) {
	part, bag := issued(t, code.Part, 1), issued(t, code.Bag, 1)
	verb, ok := code.VerbCode(3)
	require.True(t, ok)
	long := strip(t, 4)
	long.Positions[2].Code = bag
	endless := strip(t, 1)
	for range 60 {
		endless.Positions = append(endless.Positions, endless.Positions[0])
	}
	for _, row := range []struct {
		label Label
		why   string
	}{
		{Bag{Code: part}, "bag label: code " + string(part) + " is that of a part; take one of type B"},
		{Bag{Code: "B2KCZ6E"}, "bag label: code \"B2KCZ6E\": foreign: 7 characters"},
		{Bag{Code: bag, Condition: 9}, "condition 9: want reuse"},
		{Bag{Code: bag, Lines: []Line{{Spec: "M8", Count: -1}}}, "M8: -1 of 0 pieces: a count is 0 or more"},
		{BlankBag{Code: part}, "bag label"},
		{Tag{Code: ""}, "tag: code \"\""},
		{Tag{Code: verb}, "is that of a verb card; print it as a card"},
		{LoanFlag{Code: bag}, "loan label: code"},
		{JointTag{Code: bag}, "joint label: code"},
		{BlankTag{Code: bag}, "blank tag: code"},
		{RackStrip{Code: issued(t, code.Rack, 1)}, "no position"},
		{RackStrip{Code: bag, Positions: strip(t, 1).Positions}, "rack label"},
		{long, "position label: code " + string(bag)},
		{endless, "of 61 positions: paper 2790 x 35 mm"},
	} {
		_, err := Draw(row.label, Media{WidthMm: 45, HeightMm: 35, DPI: 203})
		require.ErrorContains(t, err, row.why)
	}
	_, err := Roll(nil, Media{WidthMm: 45, HeightMm: 35, DPI: 203})
	require.ErrorContains(t, err, "none given")
	again := frontCover(t)
	again.Reprint = 1
	_, err = Roll([]Label{frontCover(t), again}, Media{WidthMm: 100, HeightMm: 60, DPI: 203})
	require.ErrorContains(t, err, "label 2 is reprint 1, the first is reprint 0; print them apart")
}

func TestHoleWords(t *testing.T) {
	for want, holes := range map[string][]string{
		"":               nil,
		"1":              {"1"},
		"1 2":            {"1", "2"},
		"1–3":            {"1", "2", "3"},
		"3 5 9 12 14–17": {"3", "5", "9", "12", "14", "15", "16", "17"},
		"I1a I1b 2–4 9":  {"I1a", "I1b", "2", "3", "4", "9"},
		"3 2 1":          {"3", "2", "1"},
	} {
		require.Equal(t, want, holeWords(holes))
	}
}

func TestDatesAreWrittenOneWay(t *testing.T) {
	require.Equal(t, "12 May 2026", dateWords(day))
	require.Equal(t, "", dateWords(time.Time{}))
	require.Equal(t, "no. 2", ofHowMany(2, 0))
	require.Equal(t, "", ofHowMany(0, 3))
	require.Equal(t, symbol.DPI203.PerMm(), 8.0)
}
