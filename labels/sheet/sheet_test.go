package sheet

import (
	"fmt"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/peer"
	"countback/labels/symbol"
)

var day = time.Date(2026, 5, 12, 9, 30, 0, 0, time.UTC)

func issued(t require.TestingT, ty code.Type, n uint32) code.Code {
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	c, _, ok := i.Next(ty, n)
	require.True(t, ok)
	return c
}

func cover() (labels.Pattern, []labels.Line) {
	p := labels.Pattern{Placed: true, Front: "pump side"}
	for i, q := range [][2]float64{{10, 0}, {60, 0}, {110, 5}, {140, 40}, {140, 90}, {100, 140}, {50, 140}, {5, 100}, {0, 50}} {
		p.Spots = append(p.Spots, labels.Spot{Hole: strconv.Itoa(i + 1), XMm: q[0], YMm: q[1]})
	}
	return p, []labels.Line{
		{Spec: "M8x1.25x30 8.8 flange", Count: 5, Holes: []string{"1", "2", "3", "4", "5"}},
		{Spec: "M8x1.25x45 8.8 flange", Count: 4, Holes: []string{"6", "7", "8", "9"}},
	}
}

func jobSheet(t testing.TB) Job {
	p, l := cover()
	joints := Section{Name: "Joints", Items: []Item{
		{Code: issued(t, code.Joint, 1), Name: "Front cover to block", Notes: []string{"9 bolts in 2 sizes"}, Pattern: p, Lines: l},
		{Code: issued(t, code.Joint, 3), Name: "Oil pan", Notes: []string{"18 bolts"}, Pattern: labels.Pattern{Spots: p.Spots}, Lines: l},
	}}
	apart := Section{Name: "Taking apart"}
	for i := range 30 {
		apart.Items = append(apart.Items, Item{Code: issued(t, code.Step, uint32(i*2)), Number: strconv.Itoa(i + 1),
			Name: fmt.Sprintf("Step %d off", i+1), Notes: []string{"waits for: pulley off, pump off"}})
	}
	return Job{Code: issued(t, code.Job, 1), Job: "4K7", Engine: "Sorrel I4-20", Sections: []Section{joints, apart}, Date: day}
}

func cards(t testing.TB) Cards {
	verbs := Group{Name: "Verbs"}
	for i, w := range []string{"HELP", "CANCEL", "UNDO", "ALL OUT", "MISSING ON ARRIVAL", "TURN OVER?"} {
		c, ok := code.VerbCode(i)
		require.True(t, ok)
		verbs.Cards = append(verbs.Cards, Card{Word: w, Hint: "any time", Shape: page.ShapeOf(i / 3), Code: c})
	}
	numbers := Group{Name: "Numbers"}
	for n := range code.MaxWholeNumber + 1 {
		c, ok := code.WholeNumber(n)
		require.True(t, ok)
		numbers.Cards = append(numbers.Cards, Card{Word: strconv.Itoa(n), Shape: page.Square, Code: c})
	}
	sizes := Group{Name: "Sizes", Cards: []Card{{Word: "M8x1.25x30 8.8 flange", Shape: page.Hexagon, Code: issued(t, code.Size, 2)}}}
	return Cards{Groups: []Group{verbs, numbers, sizes}}
}

func holes(t testing.TB) Holes {
	p, l := cover()
	h := Holes{Code: issued(t, code.Rack, 1), Job: "4K7", Engine: "Sorrel I4-20", Joint: "Front cover to block", Pattern: p, Lines: l, Date: day}
	for i := range p.Spots {
		h.Positions = append(h.Positions, labels.RackPosition{Code: issued(t, code.Position, uint32(2*i)), Name: strconv.Itoa(i + 1), Holds: "M8x30",
			Shape: labels.Shapes(l)[strconv.Itoa(i+1)]})
	}
	return h
}

func slip(t testing.TB) Slip {
	return Slip{Code: issued(t, code.Slip, 1), Job: "4K7", Engine: "Sorrel I4-20", To: "Machine shop", Work: "skim 0.05 mm, pressure test",
		Lines: []SlipLine{{What: "Head 1", Count: 1}, {What: "M8x1.25x45 stud", Count: 7, Level: 1},
			{What: "stub, exhaust 9", Count: 1, Level: 1, Note: "below the surface; case 3"}, {What: "lock halves", Count: 32, Level: 2}},
		Notes: []string{"The gallery plug stays in"}, Sent: day, Due: day.AddDate(0, 0, 10)}
}

func handOver(t testing.TB) HandOver {
	return HandOver{Code: issued(t, code.Job, 1), Job: "4K7", Engine: "Sorrel I4-20", From: "Marit", Date: day, Parts: []HandOverPart{
		{Name: "In for a while, must come out", Shape: page.Octagon, Lines: []string{"Tensioner lock pin: out before Front cover on"}},
		{Name: "Short", Lines: []string{"Short 12: one M10x1.5x50. Look in the timing case first"}},
		{Name: "Open cavities"},
	}}
}

// drawn is every kind of sheet.
func drawn(t testing.TB, s Settings) map[string]page.Document {
	all := map[string]page.Document{}
	add := func(name string, d page.Document, err error) {
		require.NoError(t, err, name)
		all[name] = d
	}
	d, err := jobSheet(t).Draw(narrow(s))
	add("job", d, err)
	d, err = cards(t).Draw(s)
	add("cards", d, err)
	d, err = holes(t).Draw(s)
	add("holes", d, err)
	d, err = slip(t).Draw(s)
	add("slip", d, err)
	d, err = handOver(t).Draw(s)
	add("hand-over", d, err)
	return all
}

// narrow is modules for two columns.
func narrow(s Settings) Settings {
	s.LinearMm = 0.25
	return s
}

func TestEverySheet(t *testing.T) {
	for _, paper := range []Paper{A4, Letter} {
		for _, dpi := range []symbol.DPI{300, 600} {
			for name, d := range drawn(t, Settings{Paper: paper, DPI: dpi}) {
				for i := range d.Pages() {
					require.Empty(t, d.Page(i).Overlaps(), "%s page %d", name, i+1)
				}
			}
		}
	}
	d, err := jobSheet(t).Draw(Settings{LinearMm: 0.25})
	require.NoError(t, err)
	require.Len(t, d.Codes(), 1+2+30, "the job, its joints and steps, each once")
	require.Equal(t, issued(t, code.Job, 1), d.Codes()[0])
	d, err = cards(t).Draw(Settings{})
	require.NoError(t, err)
	require.Len(t, d.Codes(), 6+41+1)
	require.Equal(t, 1+2+1, d.Pages(), "each group on pages of its own")
}

// Steps stand in the order of the plan: down one column, then the next.
func TestJobSheetIsInOrder(t *testing.T) {
	d, err := jobSheet(t).Draw(Settings{LinearMm: 0.25})
	require.NoError(t, err)
	var names []string
	for i := range d.Pages() {
		for _, w := range d.Page(i).Texts() {
			if strings.HasSuffix(w.Text, " off") && !strings.Contains(w.Text, "waits") {
				names = append(names, w.Text)
			}
		}
	}
	require.Len(t, names, 30)
	for i, n := range names {
		require.Equal(t, fmt.Sprintf("%d  Step %d off", i+1, i+1), n)
	}
}

// Words on wall cards are large: at least 3 mm, and 6 mm for short ones.
func TestCardsAreReadFromFarAway(t *testing.T) {
	d, err := cards(t).Draw(Settings{})
	require.NoError(t, err)
	for _, w := range d.Page(0).Texts() {
		switch mm := symbol.DPI600.Mm(w.Style.Cap); w.Text {
		case "HELP", "UNDO", "CANCEL", "ALL OUT":
			require.Greater(t, mm, 5.5, w.Text)
		case "MISSING ON", "ARRIVAL", "TURN OVER?":
			require.Greater(t, mm, 3.0, w.Text)
		}
	}
}

func TestOthersReadEverySheet(t *testing.T) {
	if !peer.Has(t, "pdftoppm") {
		return
	}
	for name, d := range drawn(t, Settings{DPI: 300}) {
		pdf, err := d.PDF()
		require.NoError(t, err)
		out := t.TempDir() + "/page"
		require.NoError(t, exec.Command("pdftoppm", "-r", "300", "-mono", peer.SaveBytes(t, "sheet.pdf", pdf), out).Run())
		for i := range d.Pages() {
			bars, ok := peer.Bars(t, fmt.Sprintf("%s-%d.pbm", out, i+1))
			if !ok {
				return
			}
			for _, s := range d.Page(i).Symbols() {
				if s.Kind == symbol.Linear {
					require.Contains(t, bars, string(s.Code), "%s page %d", name, i+1)
				}
			}
		}
	}
}

// Every Data Matrix of a sheet by the two others, cut out of the dots.
func TestOthersReadTheMatrices(t *testing.T) {
	d, err := cards(t).Draw(Settings{DPI: 300})
	require.NoError(t, err)
	m := d.Page(0).Draw()
	for _, s := range d.Page(0).Symbols() {
		if s.Kind != symbol.Matrix {
			continue
		}
		file := peer.Save(t, peer.Crop(m, s.Zone, 12))
		if got, ok := peer.Cells(t, file, 1, 1); ok {
			require.Equal(t, []string{string(s.Code)}, got)
		}
		if got, ok := peer.ZXing(t, file, "DataMatrix"); ok {
			require.Equal(t, []string{string(s.Code)}, got)
		}
	}
}

func TestPDFTextIsFound(t *testing.T) {
	if !peer.Has(t, "pdftotext") {
		return
	}
	for name, want := range map[string][]string{
		"job":       {"JOB SHEET", "Front cover to block", "9 bolts in 2 sizes", "in order, not in place", "page 1 of", "12 May 2026", string(issued(t, code.Step, 0))},
		"cards":     {"CANCEL", "ALL OUT", "M8x1.25x30", "Numbers"},
		"holes":     {"RACK", "4 × M8x1.25x45 8.8 flange", "6–9"},
		"slip":      {"SLIP", "Machine shop", "due back: 22 May 2026", "lock halves", "32", "back: counted by, date", "! The gallery plug stays in"},
		"hand-over": {"HAND-OVER", "Tensioner lock pin", "nothing", "taken by, date", "from: Marit"},
	} {
		pdf, err := drawn(t, Settings{DPI: 300})[name].PDF()
		require.NoError(t, err)
		out, err := exec.Command("pdftotext", "-layout", peer.SaveBytes(t, "sheet.pdf", pdf), "-").Output()
		require.NoError(t, err)
		for _, w := range want {
			require.Contains(t, string(out), w, name)
		}
	}
}

func TestLabelsInAGrid(t *testing.T) {
	var list []labels.Label
	for i := range 30 {
		list = append(list, labels.Tag{Code: issued(t, code.Part, uint32(2*i)), Position: strconv.Itoa(i + 1), Name: "Bucket"})
	}
	g := A4Grid24
	g.First, g.OffsetXMm, g.OffsetYMm = 5, 0, 1.5
	d, err := Labels(g, labels.Media{DPI: 300, MarginMm: 3}, list)
	require.NoError(t, err)
	require.Equal(t, 2, d.Pages())
	require.Len(t, d.Page(0).Symbols(), 2*19)
	require.Len(t, d.Page(1).Symbols(), 2*11)
	require.Empty(t, d.Page(0).Overlaps())
	// The first one is the sixth place: second row, third column.
	first := d.Page(0).Symbols()[0].Zone
	require.InDelta(t, 140+3, symbol.DPI300.Mm(first.Min.X), 0.2)
	require.Greater(t, symbol.DPI300.Mm(first.Min.Y), 4.5+1.5+36.0)
	require.Less(t, symbol.DPI300.Mm(first.Max.Y), 4.5+1.5+72.0)

	for _, sold := range []Grid{A4Grid24, A4Grid10, LetterGrid30} {
		require.NoError(t, sold.Check())
		d, err := Labels(sold, labels.Media{DPI: 600, MarginMm: 2.5}, list[:7])
		require.NoError(t, err)
		require.Equal(t, 1, d.Pages())
	}
}

func TestGridRefuses(t *testing.T) {
	change := func(f func(g *Grid)) Grid {
		g := A4Grid24
		f(&g)
		return g
	}
	tag := labels.Tag{Code: issued(t, code.Part, 1), Name: "Bucket"}
	for _, row := range []struct {
		grid Grid
		list []labels.Label
		why  string
	}{
		{change(func(g *Grid) { g.Columns = 0 }), nil, "label grid of 0 x 8: want 1 to 20 columns"},
		{change(func(g *Grid) { g.Rows = 99 }), nil, "1 to 50 rows"},
		{change(func(g *Grid) { g.First = 24 }), nil, "24 labels used up: the sheet has 24"},
		{change(func(g *Grid) { g.PitchXMm = 60 }), nil, "pitch 60 x 36 mm is less than a label"},
		{change(func(g *Grid) { g.OffsetXMm = 6 }), nil, "offset 6 mm: want -5 to 5 mm"},
		{change(func(g *Grid) { g.OffsetYMm = -6 }), nil, "offset -6 mm"},
		{A4Grid24, nil, "no label given"},
		{A4Grid24, []labels.Label{labels.RackStrip{Code: issued(t, code.Rack, 1), Positions: holes(t).Positions}}, "label 1 is 700 mm wide, the sheet's are 70 mm; print strips on a roll"},
		{change(func(g *Grid) { g.WidthMm, g.Columns = 30, 1 }), []labels.Label{tag}, "Code 128 needs"},
	} {
		_, err := Labels(row.grid, labels.Media{DPI: 300}, row.list)
		require.ErrorContains(t, err, row.why)
	}
}

func TestSheetsRefuse(t *testing.T) {
	for _, row := range []struct {
		settings Settings
		why      string
	}{
		{Settings{DPI: 72}, "sheet: Code 128: resolution 72 dpi"},
		{Settings{LinearMm: 0.01}, "sheet: Code 128: module width 0.01 mm"},
		{Settings{MatrixMm: 0.01}, "sheet: Data Matrix: module width 0.01 mm"},
		{Settings{MarginMm: 90}, "sheet: margin 90 mm: want 0 to 40 mm"},
		{Settings{BarMm: 1}, "sheet: bar height 1 mm: want 5 to 60 mm"},
		{Settings{Paper: Paper{1, 1}}, "sheet: paper 1 x 1 mm"},
		{Settings{Paper: Paper{60, 200}}, "leave no room for words in a column"},
		{Settings{Paper: Paper{210, 40}}, "does not fit a page of"},
	} {
		_, err := jobSheet(t).Draw(row.settings)
		require.ErrorContains(t, err, row.why)
	}
	_, err := cards(t).Draw(Settings{Paper: Paper{90, 90}})
	require.ErrorContains(t, err, "take fewer columns and rows, or narrower modules")
	_, err = Cards{}.Draw(Settings{})
	require.ErrorContains(t, err, "none given")
	_, err = Cards{Groups: []Group{{Name: "Verbs"}}}.Draw(Settings{})
	require.ErrorContains(t, err, "group Verbs: no card")
	_, err = Cards{Groups: []Group{{Cards: []Card{{Word: "OK", Code: "X"}}}}}.Draw(Settings{})
	require.ErrorContains(t, err, "card OK: symbol: code \"X\"")
	_, err = Cards{Columns: 9}.Draw(Settings{})
	require.ErrorContains(t, err, "want 1 to 6 columns")
	_, err = Job{}.Draw(Settings{})
	require.ErrorContains(t, err, `job sheet: code "" is no job's`)
	_, err = Slip{Code: issued(t, code.Slip, 1)}.Draw(Settings{})
	require.ErrorContains(t, err, "nothing goes")
	s := slip(t)
	s.Lines[0].Count = -1
	_, err = s.Draw(Settings{})
	require.ErrorContains(t, err, "-1 pieces")
	_, err = HandOver{}.Draw(Settings{})
	require.ErrorContains(t, err, "is no job's")
	h := holes(t)
	h.Positions[1].Code = h.Code
	_, err = h.Draw(Settings{})
	require.ErrorContains(t, err, "is no position's")
	h.Pattern.Spots = nil
	_, err = h.Draw(Settings{})
	require.ErrorContains(t, err, "no hole; give the pattern")
	_, err = PaperOf("A3")
	require.ErrorContains(t, err, `paper "A3": want A4 or Letter`)
	for name, want := range map[string]Paper{"a4": A4, "Letter": Letter, "LETTER": Letter} {
		p, err := PaperOf(name)
		require.NoError(t, err)
		require.Equal(t, want, p)
	}
}

// Any words on any sheet: nothing lies over anything else, nothing leaves the
// paper, every code is read back.
func TestAnyWords(t *testing.T) {
	word := rapid.OneOf(rapid.SampledFrom([]string{"", strings.Repeat("x", 300), strings.Repeat("front cover ", 30), "a\x00\n\x1b", "田中 שלום"}), rapid.StringN(0, 200, 600))
	rapid.Check(t, func(t *rapid.T) {
		text := func() string { return word.Draw(t, "text") }
		texts := func() []string { return rapid.SliceOfN(word, 0, 6).Draw(t, "texts") }
		j := Job{Code: issued(t, code.Job, 1), Job: text(), Engine: text()}
		for range rapid.IntRange(0, 3).Draw(t, "sections") {
			s := Section{Name: text()}
			for i := range rapid.IntRange(0, 8).Draw(t, "items") {
				it := Item{Code: issued(t, code.Step, uint32(i)), Number: text(), Name: text(), Notes: texts()}
				for range rapid.IntRange(0, 30).Draw(t, "spots") {
					it.Pattern.Spots = append(it.Pattern.Spots, labels.Spot{Hole: rapid.StringN(0, 6, 20).Draw(t, "hole"),
						XMm: rapid.Float64Range(0, 300).Draw(t, "x"), YMm: rapid.Float64Range(0, 300).Draw(t, "y")})
				}
				it.Pattern.Placed = rapid.Bool().Draw(t, "placed")
				s.Items = append(s.Items, it)
			}
			j.Sections = append(j.Sections, s)
		}
		h := HandOver{Code: j.Code, From: text(), Parts: []HandOverPart{{Name: text(), Lines: texts()}}}
		s := Slip{Code: issued(t, code.Slip, 1), To: text(), Work: text(), Notes: texts(), Lines: []SlipLine{{What: text(), Note: text(), Level: 9}}}
		c := Cards{Groups: []Group{{Name: text(), Cards: []Card{{Word: text(), Hint: text(), Shape: page.Disc, Code: issued(t, code.Size, 1)}}}}}
		for _, draw := range []func() (page.Document, error){
			func() (page.Document, error) { return j.Draw(Settings{DPI: 300, LinearMm: 0.25}) },
			func() (page.Document, error) { return h.Draw(Settings{DPI: 300, Paper: Letter}) },
			func() (page.Document, error) { return s.Draw(Settings{DPI: 300}) },
			func() (page.Document, error) { return c.Draw(Settings{DPI: 300}) },
		} {
			d, err := draw()
			require.NoError(t, err)
			for i := range d.Pages() {
				require.Empty(t, d.Page(i).Overlaps())
			}
		}
	})
}
