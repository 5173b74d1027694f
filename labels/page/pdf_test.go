package page

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/go-fonts/dejavu/dejavusansmono"
	"github.com/stretchr/testify/require"

	"countback/labels/peer"
	"countback/labels/symbol"
)

// demoPage has everything that a page can have.
func demoPage(t testing.TB, dpi symbol.DPI) *Page {
	f, err := NewFonts(dejavusansmono.TTF)
	require.NoError(t, err)
	p, err := New(100, 60, dpi, f)
	require.NoError(t, err)
	both(t, p, bag(t, 7), 0.25, 0.5)
	mm := p.DPI.Dots
	p.Text(mm(3), mm(8), "Kühlwasserpumpe zum Block", Style{Cap: mm(3), Weight: Bold})
	p.Text(mm(3), mm(15), "Насос 8 × M8x1.25x30 (a\x07b) ⌓", Style{Cap: mm(2)})
	p.Fill(image.Rect(mm(3), mm(18), mm(40), mm(24)), Black)
	p.Text(mm(4), mm(22), "white on black", Style{Cap: mm(2), Ink: White})
	p.Shape(float64(mm(60)), float64(mm(20)), OpenHexagon, float64(mm(6)), Black)
	return p
}

func pdfOf(t testing.TB, pages ...*Page) []byte {
	d, err := Finish(About{Title: "Тест", Date: time.Date(2026, 5, 12, 0, 0, 0, 0, time.UTC)}, pages...)
	require.NoError(t, err)
	b, err := d.PDF()
	require.NoError(t, err)
	return b
}

func TestPDFIsTheSameEachTime(t *testing.T) {
	p := demoPage(t, 203)
	one := pdfOf(t, p, p)
	for range 3 {
		require.True(t, bytes.Equal(one, pdfOf(t, p, p)))
	}
	require.True(t, bytes.HasPrefix(one, []byte("%PDF-")))
	require.Equal(t, 2, bytes.Count(one, []byte("/Type /Page\n")), "pages")
}

func TestPDFTextIsFound(t *testing.T) {
	if !peer.Has(t, "pdftotext") {
		return
	}
	file := peer.SaveBytes(t, "label.pdf", pdfOf(t, demoPage(t, 203)))
	out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	for _, want := range []string{"Kühlwasserpumpe zum Block", "Насос 8 × M8x1.25x30 (a‹07›b) ⌓", "white on black"} {
		require.Contains(t, string(out), want)
	}
}

// Rendered at the printer's resolution the PDF's symbols are the dots of the
// page, each one; its texts and boxes are where they are on the page.
func TestPDFSymbolsAreTheDots(t *testing.T) {
	if !peer.Has(t, "pdftoppm") {
		return
	}
	for dpi, resolution := range map[symbol.DPI]string{203: "203.2", 300: "300", 600: "600"} {
		p := demoPage(t, dpi)
		file := peer.SaveBytes(t, "label.pdf", pdfOf(t, p))
		out := filepath.Join(t.TempDir(), "page")
		require.NoError(t, exec.Command("pdftoppm", "-r", resolution, "-mono", "-singlefile", file, out).Run())
		m := readPBM(t, out+".pbm")
		drawn := p.Draw()
		for _, s := range p.Symbols() {
			for y := s.Zone.Min.Y; y < s.Zone.Max.Y; y++ {
				for x := s.Zone.Min.X; x < s.Zone.Max.X; x++ {
					if drawn.Black(x, y) != m.Black(x, y) {
						t.Fatalf("%s at %d dpi: dot %d %d", s.Kind, dpi, x, y)
					}
				}
			}
		}
		differ, black := 0, 0
		for y := range p.DPI.Dots(26) {
			for x := range p.Width {
				if drawn.Black(x, y) != m.Black(x, y) {
					differ++
				}
				if drawn.Black(x, y) {
					black++
				}
			}
		}
		require.Less(t, differ*6, black, "%d of %d dots of text differ at %d dpi", differ, black, dpi)
	}
}

func readPBM(t *testing.T, file string) *Bitmap {
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	fields := strings.SplitN(string(b), "\n", 3)
	require.Equal(t, "P4", fields[0])
	var w, h int
	_, err = fmt.Sscan(fields[1], &w, &h)
	require.NoError(t, err, strconv.Quote(fields[1]))
	m := NewBitmap(image.Rect(0, 0, w, h))
	require.Len(t, fields[2], len(m.bits))
	for i := range m.bits {
		m.bits[i] = ^fields[2][i]
	}
	return m
}
