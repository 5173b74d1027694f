package symbol

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/boombuler/barcode/code128"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels/code"
)

// anyCode draws a code of any type and range.
func anyCode(t *rapid.T) code.Code {
	i, err := code.NewIssuer(rapid.SampledFrom(code.Ranges()).Draw(t, "range"))
	require.NoError(t, err)
	c, _, ok := i.Next(rapid.SampledFrom(code.Types()).Draw(t, "type"), rapid.Uint32Range(0, 900_000).Draw(t, "counter"))
	require.True(t, ok)
	return c
}

// drawn is a symbol with its quiet zones as a picture.
type drawn struct {
	Symbol
	module, height int
}

func (d drawn) Size() (int, int) {
	q := 2 * d.Kind.Quiet()
	if d.Kind == Linear {
		return (d.Columns + q) * d.module, d.height
	}
	return (d.Columns + q) * d.module, (d.Rows + q) * d.module
}

func (d drawn) Row(y int, row []byte) {
	r := y/d.module - d.Kind.Quiet()
	if d.Kind == Linear {
		r = 0
	}
	for x := range row {
		row[x] = 255
		if d.Dark(x/d.module-d.Kind.Quiet(), r) {
			row[x] = 0
		}
	}
}

func TestEveryCodeReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCode(t)
		module := rapid.IntRange(2, 12).Draw(t, "module")
		for _, k := range []Kind{Linear, Matrix} {
			s, err := New(k, c)
			require.NoError(t, err)
			got, err := Read(k, drawn{s, module, 20})
			require.NoError(t, err, "%s of %s at %d dots", k, c, module)
			require.Equal(t, string(c), got)
		}
	})
}

// Symbols whose corners the decoder does not find on its first road.
func TestSymbolsThatHideTheirCorners(t *testing.T) {
	for c, module := range map[code.Code]int{"AFAUCDCV": 6, "CACA2BX4": 2} {
		s, err := New(Matrix, c)
		require.NoError(t, err)
		got, err := Read(Matrix, drawn{s, module, 0})
		require.NoError(t, err)
		require.Equal(t, string(c), got)
	}
}

// The sizes that labels plan with are never exceeded.
func TestSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCode(t)
		l, err := New(Linear, c)
		require.NoError(t, err)
		require.LessOrEqual(t, l.Columns, MaxLinearColumns)
		require.Equal(t, 1, l.Rows)
		m, err := New(Matrix, c)
		require.NoError(t, err)
		require.LessOrEqual(t, m.Columns, MaxMatrixColumns)
		require.Equal(t, m.Columns, m.Rows)
	})
	require.Equal(t, 123, MaxLinearColumns)
	require.InDelta(t, 35.75, 0.25*float64(MaxLinearColumns+2*Linear.Quiet()), 1e-9)
}

// Data Matrix ECC 200, ISO/IEC 16022 Table 7: the finder is dark on the left
// and at the bottom, and alternates at the top and on the right.
func TestMatrixFinder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, err := New(Matrix, anyCode(t))
		require.NoError(t, err)
		for i := range m.Columns {
			require.True(t, m.Dark(0, i), "left")
			require.True(t, m.Dark(i, m.Rows-1), "bottom")
			require.Equal(t, i%2 == 0, m.Dark(i, 0), "top")
			require.Equal(t, i%2 == 1, m.Dark(m.Columns-1, i), "right")
		}
		require.False(t, m.Dark(-1, 0) || m.Dark(0, -1) || m.Dark(m.Columns, 0) || m.Dark(0, m.Rows))
	})
}

// Check characters of Code 128 that are published: barcodeisland.com's Code 128
// page for HI345678 (67), barcoderesource.com for abcdef in set B (97) and
// 345678 in set C (73).
func TestEncoderAgreesWithPublishedCheckCharacters(t *testing.T) {
	for text, want := range map[string]int{"abcdef": 97, "345678": 73} {
		b, err := code128.Encode(text)
		require.NoError(t, err)
		require.Equal(t, want, b.CheckSum(), text)
	}
	// HI in set B, then 345678 in set C, computed by hand from the published
	// values: start B 104, H 40, I 41, code C 99, 34, 56, 78.
	b, err := code128.Encode("HI345678")
	require.NoError(t, err)
	require.Equal(t, (104+40*1+41*2+99*3+34*4+56*5+78*6)%103, b.CheckSum())
	// 11 modules a character, 13 for stop: PJJ123C has 112 in set B, as the
	// zint program draws it.
	b, err = code128.Encode("PJJ123C")
	require.NoError(t, err)
	require.Equal(t, 112, b.Bounds().Dx())
}

func TestNewRefuses(t *testing.T) {
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	c, _, _ := i.Next(code.Bag, 7)
	for _, row := range []struct {
		kind Kind
		code code.Code
		why  string
	}{
		{Linear, "", "0 characters"},
		{Linear, "HELLO", "5 characters"},
		{Matrix, c[:7] + "Z", "misread"},
		{Matrix, " " + c, "9 characters"},
		{3, c, "symbology 3"},
		{0, c, "want Code 128 or Data Matrix"},
	} {
		_, err := New(row.kind, row.code)
		if row.code == " "+c {
			require.ErrorContains(t, err, "not in its own form")
			continue
		}
		require.ErrorContains(t, err, row.why)
	}
}

// Module widths in whole dots, from the resolutions alone.
func TestModule(t *testing.T) {
	for _, row := range []struct {
		mm                  float64
		at203, at300, at600 int
		mm203, mm300, mm600 float64
	}{
		{.250, 2, 3, 6, .250, .254, .254},
		{.330, 3, 4, 8, .375, .339, .339},
		{.495, 4, 6, 12, .500, .508, .508},
		{.660, 6, 8, 16, .750, .677, .677},
	} {
		for dpi, want := range map[DPI]struct {
			dots int
			mm   float64
		}{DPI203: {row.at203, row.mm203}, DPI300: {row.at300, row.mm300}, DPI600: {row.at600, row.mm600}} {
			dots, err := dpi.Module(row.mm)
			require.NoError(t, err)
			require.Equal(t, want.dots, dots, "%.3f mm at %d", row.mm, dpi)
			require.InDelta(t, want.mm, dpi.Mm(dots), 0.0005)
		}
	}
}

func TestModuleRefuses(t *testing.T) {
	for _, row := range []struct {
		dpi DPI
		mm  float64
		why string
	}{
		{203, 0.1, "want 0.19"},
		{203, 0, "want 0.19"},
		{203, -1, "want 0.19"},
		{203, 6, "want 0.19 to 5"},
		{100, 0.3, "resolution 100 dpi: want 150 to 1200"},
		{2400, 0.3, "resolution 2400 dpi"},
		{0, 0.3, "resolution 0 dpi"},
	} {
		_, err := row.dpi.Module(row.mm)
		require.ErrorContains(t, err, row.why)
	}
	nan := 0.0
	_, err := DPI203.Module(nan / nan)
	require.Error(t, err)
	// 150 dpi is 0.169 mm a dot: a module of 0.19 mm is two of them.
	dots, err := DPI(150).Module(0.19)
	require.NoError(t, err)
	require.Equal(t, 2, dots)
}

func TestBarHeight(t *testing.T) {
	require.Equal(t, 80, DPI203.BarHeight(10, 123, 2))
	// 15 % of 123 modules of 0.5 mm is 9.2 mm, more than the 5 that were asked for.
	require.Equal(t, 74, DPI203.BarHeight(5, 123, 4))
	require.Equal(t, 40, DPI203.LeastBarHeight(123, 2))
	require.Equal(t, 60, DPI300.LeastBarHeight(123, 3))
}

// A picture without a symbol, or with noise, is not read as one.
func TestReadFindsNothingInNoise(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	n := noise{w: 300, h: 60, bits: make([]byte, 300*60)}
	for i := range n.bits {
		n.bits[i] = byte(r.IntN(2) * 255)
	}
	for _, k := range []Kind{Linear, Matrix} {
		_, err := Read(k, n)
		require.ErrorContains(t, err, k.String()+": not readable")
		_, err = Read(k, noise{w: 50, h: 50, bits: white(50 * 50)})
		require.ErrorContains(t, err, "not readable")
	}
	_, err := Read(9, n)
	require.ErrorContains(t, err, "want Code 128")
}

type noise struct {
	w, h int
	bits []byte
}

func (n noise) Size() (int, int)      { return n.w, n.h }
func (n noise) Row(y int, row []byte) { copy(row, n.bits[y*n.w:(y+1)*n.w]) }

func white(n int) []byte {
	b := make([]byte, n)
	for i := range b {
		b[i] = 255
	}
	return b
}

func TestRunsCoverTheDarkModules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, err := New(rapid.SampledFrom([]Kind{Linear, Matrix}).Draw(t, "kind"), anyCode(t))
		require.NoError(t, err)
		seen := map[[2]int]bool{}
		for _, r := range s.Runs() {
			require.Less(t, r.From, r.To)
			require.False(t, s.Dark(r.From-1, r.Row) || s.Dark(r.To, r.Row), "a run that does not end")
			for x := r.From; x < r.To; x++ {
				seen[[2]int{x, r.Row}] = true
			}
		}
		for y := range s.Rows {
			for x := range s.Columns {
				require.Equal(t, s.Dark(x, y), seen[[2]int{x, y}], fmt.Sprint(x, y))
			}
		}
	})
}
