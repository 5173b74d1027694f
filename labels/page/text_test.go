package page

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/go-fonts/dejavu/dejavusansmono"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestVisible(t *testing.T) {
	for text, want := range map[string]string{
		"":                       "",
		"  Front cover ":         "Front cover",
		"Kühlwasserpumpe":        "Kühlwasserpumpe",
		"Ku\u0308hlwasser":       "Kühlwasser",
		"Насос Ω Ќ Ђ":            "Насос Ω Ќ Ђ",
		"a\nb\tc\x00d\x7f":       "a‹0A›b‹09›c‹00›d‹7F›",
		"a\x80b\xffc":            "a‹80›b‹FF›c",
		"a\u202eb":               "a‹202E›b",
		"soft\u00adhy\u200dphen": "softhyphen",
		"\ufeffbom":              "bom",
		"田中":                     "‹7530›‹4E2D›",
		"😀 ok":                   "‹1F600› ok",
		"a\ue000b":               "a‹E000›b",
		"M8×1.25 “x” – 5 °":      "M8×1.25 “x” – 5 °",
		"\u2028x":                "‹2028›x",
		"no\u00a0break":          "no\u00a0break",
	} {
		require.Equal(t, want, BuiltIn().Visible(text), "%q", text)
	}
}

// Nothing that a person could type is lost without a trace, and making a
// visible text visible changes nothing.
func TestVisibleKeepsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := string(rapid.SliceOfN(rapid.Byte(), 0, 60).Draw(t, "bytes")) + rapid.String().Draw(t, "text")
		v := BuiltIn().Visible(text)
		require.True(t, utf8.ValidString(v))
		require.Equal(t, v, BuiltIn().Visible(v))
		for _, r := range v {
			require.True(t, BuiltIn().has(r), "%U", r)
		}
		if strings.ContainsAny(text, "ABCXYZ0123") {
			require.NotEmpty(t, v)
		}
		require.Equal(t, v, strings.Join(clusters(v), ""))
	})
}

// A text that was fitted is never wider than its room; it is whole, or ends
// with an ellipsis and begins as it should; it is not smaller than it must be.
func TestFit(t *testing.T) {
	f := BuiltIn()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringN(0, 300, 600).Draw(t, "text")
		style := Style{Cap: rapid.IntRange(8, 60).Draw(t, "cap"), Weight: Weight(rapid.IntRange(0, 1).Draw(t, "weight"))}
		least, width := rapid.IntRange(5, 20).Draw(t, "least"), rapid.IntRange(0, 900).Draw(t, "width")
		got, fit := f.Fit(text, style, width, least)
		v := f.Visible(text)
		require.LessOrEqual(t, f.Width(got, fit), width)
		require.LessOrEqual(t, fit.Cap, style.Cap)
		require.GreaterOrEqual(t, fit.Cap, min(least, style.Cap))
		if got != v {
			require.Equal(t, min(least, style.Cap), fit.Cap, "cut before it was small")
			if got != "" {
				require.True(t, strings.HasSuffix(got, Ellipsis), got)
				require.True(t, strings.HasPrefix(v, strings.TrimSuffix(got, Ellipsis)), got)
			}
		} else if fit.Cap < style.Cap {
			larger := fit
			larger.Cap++
			require.Greater(t, f.Width(v, larger), width, "smaller than it must be")
		}
	})
}

func TestWrap(t *testing.T) {
	f := BuiltIn()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([a-zA-Zäß0-9]{1,14} ){0,20}[a-z]{0,50}`).Draw(t, "text")
		style := Style{Cap: rapid.IntRange(8, 40).Draw(t, "cap")}
		width, lines := rapid.IntRange(0, 600).Draw(t, "width"), rapid.IntRange(1, 5).Draw(t, "lines")
		list := f.Wrap(text, style, width, lines)
		require.LessOrEqual(t, len(list), lines)
		for _, l := range list {
			require.LessOrEqual(t, f.Width(l, style), width)
		}
		squeezed := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		all := squeezed(strings.Join(list, ""))
		if whole := squeezed(f.Visible(text)); all != whole && len(list) > 0 {
			cut, ok := strings.CutSuffix(all, Ellipsis)
			require.True(t, ok || len(list) < lines, "%q: cut without an ellipsis", list)
			require.True(t, strings.HasPrefix(whole, cut))
		}
		again, fit := f.FitLines(text, style, width, lines, 6)
		for _, l := range again {
			require.LessOrEqual(t, f.Width(l, fit), width)
		}
		require.LessOrEqual(t, len(again), lines)
	})
}

// Words are kept whole by writing smaller, as far as that goes.
func TestFitLinesKeepsWords(t *testing.T) {
	list, style := BuiltIn().FitLines("Kurbelgehäuseentlüftung am Block", Style{Cap: 40, Weight: Bold}, 500, 2, 8)
	require.Equal(t, []string{"Kurbelgehäuseentlüftung", "am Block"}, list)
	require.Less(t, style.Cap, 40)
	list, style = BuiltIn().FitLines(strings.Repeat("x", 300), Style{Cap: 40}, 200, 2, 8)
	require.Len(t, list, 2)
	require.Equal(t, 8, style.Cap)
	require.True(t, strings.HasSuffix(list[1], Ellipsis))
}

func TestCutNeverPartsANumberOrAnAccent(t *testing.T) {
	f := BuiltIn()
	text := f.Visible("a\x07\x07\x07x\u0323\u0302y")
	style := Style{Cap: 20}
	seen := map[string]bool{}
	for width := range f.Width(text, style) {
		cut := f.Cut(text, style, width)
		seen[cut] = true
		require.Equal(t, strings.Count(cut, "‹"), strings.Count(cut, "›"), cut)
	}
	require.Contains(t, seen, "a‹07›‹07›…")
	require.Contains(t, seen, "…")
	require.Contains(t, seen, "")
	require.Equal(t, []string{"a", "‹", "b", "›", "‹07›"}, clusters("a‹b›‹07›"))
}

// Worked by hand from the rules of UAX #9, left to right being the base.
func TestVisualOrder(t *testing.T) {
	for text, want := range map[string]string{
		"Joint 5":          "Joint 5",
		"שלום":             "םולש",
		"Job שלום 7":       "Job 7 םולש",
		"Job שלום 12.5 mm": "Job 12.5 םולש mm",
		"abc (אב) def":     "abc (בא) def",
		"אב (גד)":          "(דג) בא",
		"אב [x] גד":        "בא [x] דג",
		"M8 × 30, אב":      "M8 × 30, בא",
		"אב‹0A›":           "בא‹0A›",
		"א\u05b8ב":         "בא\u05b8", // the mark stays behind its letter
		"عدد 3-5":          "5-3 ددع",  // W2, W6, N1
		"a. אב.":           "a. בא.",
		"אב -5% גד":        "דג 5%- בא",
		"אב 5% גד":         "דג 5% בא",
		"אב ) גד":          "דג ( בא",
		"":                 "",
	} {
		require.Equal(t, want, visual(text), text)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := BuiltIn().Visible(rapid.StringOf(rapid.SampledFrom([]rune("ab 12()[]-+.,%אבגعد\u05b8"))).Draw(t, "text"))
		runes := func(s string) map[rune]int {
			m := map[rune]int{}
			for _, r := range s {
				if mirror(r) < r {
					r = mirror(r)
				}
				m[r]++
			}
			return m
		}
		require.Equal(t, runes(text), runes(visual(text)), "a letter was lost")
	})
}

func TestAddedFonts(t *testing.T) {
	require.Equal(t, "‹2313›", BuiltIn().Visible("⌓"))
	f, err := NewFonts(dejavusansmono.TTF)
	require.NoError(t, err)
	require.Equal(t, "⌓", f.Visible("⌓"))
	p, err := New(30, 20, 203, f)
	require.NoError(t, err)
	p.Text(10, 60, "a⌓b", Style{Cap: 20})
	black := 0
	m := p.Draw()
	for y := range p.Height {
		for x := 10 + f.Width("a", Style{Cap: 20}); x < 10+f.Width("a⌓", Style{Cap: 20}); x++ {
			if m.Black(x, y) {
				black++
			}
		}
	}
	require.Greater(t, black, 20)
	for _, bad := range [][]byte{nil, []byte("OTTO"), dejavusansmono.TTF[:100]} {
		_, err := NewFonts(bad)
		require.ErrorContains(t, err, "font added1: ")
	}
}

// The built-in fonts have what labels draw themselves.
func TestBuiltInCoverage(t *testing.T) {
	for _, r := range "…‹›×–·◀▶äöüßéñçøåłőşžđþ ΑΩαω АЯая Ђћ Ձ ა אב عب €£°µ½²³" {
		require.True(t, BuiltIn().has(r), "%c", r)
	}
}
