package labels

import (
	"bytes"
	"image"
	"os/exec"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/peer"
	"countback/labels/symbol"
)

// readByAll has every decoder look at a picture of a page: zbarimg, dmtxread
// and ZXingReader at all of it, ZXingReader at each Data Matrix.
func readByAll(t *testing.T, name string, p *page.Page, m image.Image, file string) {
	t.Helper()
	var bars, cells []string
	for _, s := range p.Symbols() {
		if s.Kind == symbol.Linear {
			bars = append(bars, string(s.Code))
			continue
		}
		cells = append(cells, string(s.Code))
		crop := peer.Save(t, peer.Crop(m, s.Zone, 4*s.Module))
		if got, ok := peer.ZXing(t, crop, "DataMatrix"); ok {
			require.Equal(t, []string{string(s.Code)}, got, "%s: Data Matrix by ZXingReader", name)
		}
		got, err := symbol.Read(symbol.Matrix, page.Grey(m, s.Zone))
		require.NoError(t, err, name)
		require.Equal(t, string(s.Code), got, name)
	}
	if len(bars) > 0 {
		if got, ok := peer.Bars(t, file); ok {
			require.ElementsMatch(t, bars, got, "%s: Code 128 by zbarimg", name)
		}
		if got, ok := peer.ZXing(t, file, "Code128"); ok {
			require.ElementsMatch(t, bars, got, "%s: Code 128 by ZXingReader", name)
		}
	}
	if len(cells) > 0 {
		if got, ok := peer.Cells(t, file, len(cells), max(1, int(p.DPI)/150)); ok {
			require.ElementsMatch(t, cells, slices.Compact(got), "%s: Data Matrix by dmtxread", name)
		}
	}
}

// Every kind of label is read by three programs that share nothing with the
// encoder, from the very file that goes to the printer.
func TestOthersReadEveryKind(t *testing.T) {
	for _, s := range kinds(t) {
		for _, dpi := range resolutions {
			d, err := Draw(s.label, s.media(dpi))
			require.NoError(t, err)
			b, err := d.PNG(0)
			require.NoError(t, err)
			readByAll(t, s.name+" at "+strconv.Itoa(int(dpi)), d.Page(0), d.Page(0).Draw(), peer.SaveBytes(t, "label.png", b))
		}
	}
}

// A print is never as sharp as its dots, and black grows.
func TestOthersReadABlurredPrint(t *testing.T) {
	for _, s := range kinds(t) {
		if s.name != "bag" && s.name != "part" && s.name != "position-matrix" {
			continue
		}
		for _, dpi := range resolutions {
			d, err := Draw(s.label, s.media(dpi))
			require.NoError(t, err)
			module, err := dpi.Module(symbol.DefaultLinearMm)
			require.NoError(t, err)
			m := peer.Blur(d.Page(0).Draw(), 0.35*float64(module))
			readByAll(t, s.name+" blurred at "+strconv.Itoa(int(dpi)), d.Page(0), m, peer.Save(t, m))
		}
	}
}

// Grease on part of the Data Matrix: error correction reads through it.
func TestOthersReadASmudgedMatrix(t *testing.T) {
	for _, dpi := range resolutions {
		d, err := Draw(frontCover(t), Media{WidthMm: 100, HeightMm: 60, DPI: dpi})
		require.NoError(t, err)
		var m image.Image = d.Page(0).Draw()
		for _, s := range d.Page(0).Symbols() {
			if s.Kind == symbol.Matrix {
				x := float64(s.Zone.Min.X) + 9.5*float64(s.Module)
				y := float64(s.Zone.Min.Y) + 6.5*float64(s.Module)
				m = peer.Smudge(m, x, y, 1.6*float64(s.Module))
			}
		}
		readByAll(t, "smudged at "+strconv.Itoa(int(dpi)), d.Page(0), m, peer.Save(t, m))
	}
}

func TestPDFTextIsFound(t *testing.T) {
	if !peer.Has(t, "pdftotext") {
		return
	}
	b := frontCover(t)
	b.Joint = "Kühlwasserpumpe – Насос"
	d, err := Roll([]Label{b, frontCover(t)}, Media{WidthMm: 100, HeightMm: 60, DPI: 203})
	require.NoError(t, err)
	pdf, err := d.PDF()
	require.NoError(t, err)
	out, err := exec.Command("pdftotext", "-layout", peer.SaveBytes(t, "roll.pdf", pdf), "-").Output()
	require.NoError(t, err)
	pages := bytes.Split(bytes.TrimSuffix(out, []byte("\f")), []byte("\f"))
	require.Len(t, pages, 2)
	for _, want := range []string{"Kühlwasserpumpe –", "Насос", "4 × M8x1.25x45 8.8 flange", "18–20 22", "17 of 18", string(b.Code)} {
		require.Contains(t, string(pages[0]), want)
	}
	require.Contains(t, string(pages[1]), "Front cover")
}

// The PDF of each kind, rendered, is read as well.
func TestOthersReadThePDF(t *testing.T) {
	if !peer.Has(t, "pdftoppm") {
		return
	}
	for _, s := range kinds(t) {
		d, err := Draw(s.label, s.media(300))
		require.NoError(t, err)
		pdf, err := d.PDF()
		require.NoError(t, err)
		out := t.TempDir() + "/page"
		require.NoError(t, exec.Command("pdftoppm", "-r", "300", "-png", "-singlefile", peer.SaveBytes(t, "label.pdf", pdf), out).Run())
		bars, _ := peer.Bars(t, out+".png")
		for _, p := range d.Page(0).Symbols() {
			if p.Kind == symbol.Linear && bars != nil {
				require.Contains(t, bars, string(p.Code), s.name)
			}
		}
	}
}

func TestCodesOnRollsAreReadInOrder(t *testing.T) {
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	list, next, err := Codes(i, code.Bag, 20, 12)
	require.NoError(t, err)
	d, err := Roll(BagRoll(list, "Bench 2", false), Media{WidthMm: 57, HeightMm: 32, DPI: 203})
	require.NoError(t, err)
	require.Equal(t, list, d.Codes())
	require.Equal(t, 12, d.Pages())
	require.Equal(t, "bag "+string(list[0])+" and 11 more", d.Title())
	more, _, err := Codes(i, code.Bag, next, 12)
	require.NoError(t, err)
	for _, c := range more {
		require.NotContains(t, list, c)
	}
	last, ok := i.Counter(list[11])
	require.True(t, ok)
	require.Equal(t, last+1, next)
	tags, err := Roll(JointRoll([]code.Code{issued(t, code.Joint, 1)}, "", true), Media{WidthMm: 70, HeightMm: 40, DPI: 203})
	require.NoError(t, err)
	require.Equal(t, 1, tags.Pages())
	for _, row := range []struct {
		from uint32
		n    int
		why  string
	}{{0, 0, "want 1 to 5000"}, {0, 5001, "want 1 to 5000"}, {923_515, 40, "left from 923515 on; take another range"}} {
		_, at, err := Codes(i, code.Bag, row.from, row.n)
		require.ErrorContains(t, err, row.why)
		require.Equal(t, row.from, at)
	}
}
