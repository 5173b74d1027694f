package sheet

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels/code"
	"countback/labels/page"
)

var update = flag.Bool("update", false, "write the golden sheets anew")

func buyList(t testing.TB) Buy {
	return Buy{Code: issued(t, code.Job, 1), Job: "4K7", Engine: "Sorrel I4-20", Notes: []string{"10 pieces to buy, 4 on order"}, Date: day,
		Groups: []BuyPart{
			{Name: "Fjord: order together by 15 May", Lines: []BuyRow{
				{What: "9 M8x1.25 nut", Notes: []string{"9 single-use, out of exhaust manifold to head", "for Exhaust on; needed by 19 May; order by 11 May, overdue"}},
				{What: "4 M6x1.0x12: on order, here 16 May", Done: true}}},
			{Name: "Supplier not said", Lines: []BuyRow{{What: "1 Exhaust gasket"}}}}}
}

func tray(t testing.TB) Tally {
	return Tally{Kind: "TRAY", Code: issued(t, code.Place, 1), Job: "4K7", Engine: "Sorrel I4-20", Name: "Tray 7", Notes: []string{"with Ole since 12 May", "takes 10 pieces"},
		Count: "in it", Back: "counted", Date: day, Sign: []string{"given by, date", "taken by, counted, date"},
		Groups: []TallyPart{
			{Name: "Loose in it", Sum: true, Lines: []SlipLine{{What: "M6x1.0x25 8.8 flange", Count: 4}, {What: "M14x1.25 spark plug", Count: 4, Note: "used"}}},
			{Name: "Bags in it", Lines: []SlipLine{{What: "Bag BHTTG2Z5, Flywheel", Count: 1}, {What: "M10x1.0x25 10.9 flange", Count: 8, Level: 1}}}},
		Lists: []HandOverPart{{Name: "Where it was", Shape: page.Disc, Lines: []string{"12 May 09:30 Ole: Tray 7 is with Ole now", "12 May 09:10 Marit: Tray 7 is on bench b2 now"}}}}
}

func coresGoing(t testing.TB) Tally {
	return Tally{Kind: "CORES GOING BACK", Code: issued(t, code.Job, 1), Job: "4K7", Engine: "Sorrel I4-20", Name: "Old parts that go back",
		Notes: []string{"deposits not credited yet: 1320.50 EUR"}, Count: "pieces", Back: "received, count", Date: day,
		Sign: []string{"sent by, date", "received by, date", "credited, date"},
		Groups: []TallyPart{
			{Name: "To fjord", Lines: []SlipLine{{What: "Head", Count: 1, Note: "deposit 1200.50 EUR; back by Tuesday 2 June 2026; DO NOT STRIP"},
				{What: "with it: Valve springs", Count: 16, Level: 1}}},
			{Name: "To Bakke", Lines: []SlipLine{{What: "Alternator", Count: 1, Note: "deposit 120.00 EUR; CREDIT VOID: pulley came off"}}}}}
}

func ownersThings(t testing.TB) Tally {
	return Tally{Kind: "OWNER'S PROPERTY", Code: issued(t, code.Job, 1), Job: "4K7", Engine: "Sorrel I4-20", Name: "Hansen",
		Notes: []string{"1 piece here and not fitted"}, Count: "brought", Back: "given back", Date: day, Sign: []string{"for the shop, date", "the owner, date"},
		Groups: []TallyPart{{Name: "Brought", Lines: []SlipLine{{What: "Water pump", Count: 1, Note: "12 May 2026; OPENED when it came: not under this shop's warranty; 1 here in shelf"}}}},
		Lists:  []HandOverPart{{Name: "Old parts", Lines: []string{"Old water pump: to be shown, it lies in shelf"}}}}
}

// A few sheets dot by dot, to be looked at. After a change of layout or fonts
// run with -update and look at them again.
func TestGoldenSheets(t *testing.T) {
	set := Settings{DPI: 203, LinearMm: 0.25}
	for _, s := range []struct {
		name string
		draw func(Settings) (page.Document, error)
	}{{"buy", buyList(t).Draw}, {"tray", tray(t).Draw}, {"cores", coresGoing(t).Draw}, {"owner", ownersThings(t).Draw}, {"slip", slip(t).Draw}} {
		d, err := s.draw(set)
		require.NoError(t, err, s.name)
		require.Equal(t, 1, d.Pages(), s.name)
		require.Empty(t, d.Page(0).Overlaps(), s.name)
		b, err := d.PNG(0)
		require.NoError(t, err)
		file := filepath.Join("testdata", s.name+".png")
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(file, b, 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		require.True(t, bytes.Equal(want, b), "%s: not the golden sheet; look at it and run with -update", file)
	}
}

func TestTallyOnEveryPaper(t *testing.T) {
	for _, paper := range []Paper{A4, Letter} {
		for _, s := range []Tally{tray(t), coresGoing(t), ownersThings(t)} {
			d, err := s.Draw(Settings{Paper: paper})
			require.NoError(t, err)
			require.Equal(t, []code.Code{s.Code}, d.Codes())
			require.Empty(t, d.Page(0).Overlaps())
			var texts []string
			for _, w := range d.Page(0).Texts() {
				texts = append(texts, w.Text)
			}
			for _, want := range append([]string{s.Kind, s.Name, s.Count, s.Back, s.Groups[0].Lines[0].What}, s.Sign...) {
				require.Contains(t, texts, want)
			}
		}
	}
	long := tray(t)
	for range 200 {
		long.Groups[0].Lines = append(long.Groups[0].Lines, SlipLine{What: "M8x1.25x30", Count: 1})
	}
	d, err := long.Draw(Settings{DPI: 300})
	require.NoError(t, err)
	require.Greater(t, d.Pages(), 2, "it goes on over pages")
}

func TestTallyRefuses(t *testing.T) {
	s := tray(t)
	s.Groups[0].Lines[1].Count = -1
	_, err := s.Draw(Settings{})
	require.ErrorContains(t, err, "tray: M14x1.25 spark plug: -1 pieces: a count is 0 or more")
	s = tray(t)
	s.Code = "X"
	_, err = s.Draw(Settings{})
	require.ErrorContains(t, err, `tray: code "X"`)
	s.Groups, s.Lists = []TallyPart{{Name: "Loose in it", None: "nothing is loose in it"}}, nil
	s.Code = issued(t, code.Job, 1)
	d, err := s.Draw(Settings{DPI: 300})
	require.NoError(t, err, "an empty tray is a sheet too")
	require.Equal(t, 1, d.Pages())
}

// Any words: nothing lies over anything else, nothing leaves the paper.
func TestTallyOfAnyWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := func() string { return rapid.StringN(0, 120, 400).Draw(t, "text") }
		s := Tally{Kind: "TRAY", Code: issued(t, code.Place, 1), Job: text(), Engine: text(), Name: text(), Notes: []string{text()}, Count: "in it", Back: text(), Sign: []string{text()}}
		for range rapid.IntRange(0, 3).Draw(t, "groups") {
			g := TallyPart{Name: text(), Sum: rapid.Bool().Draw(t, "sum"), None: text()}
			for range rapid.IntRange(0, 9).Draw(t, "lines") {
				g.Lines = append(g.Lines, SlipLine{What: text(), Note: text(), Count: rapid.IntRange(0, 100000).Draw(t, "count"), Level: rapid.IntRange(-1, 9).Draw(t, "level")})
			}
			s.Groups = append(s.Groups, g)
		}
		d, err := s.Draw(Settings{DPI: 300})
		require.NoError(t, err)
		for i := range d.Pages() {
			require.Empty(t, d.Page(i).Overlaps())
		}
	})
}
