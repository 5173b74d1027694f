// Package peer reads pictures of labels with the decoders of others, zbarimg,
// dmtxread and ZXingReader, and spoils pictures as printing and grease do. It
// is for tests only.
//
// A program that is not installed reads nothing; with CI=true the test fails.
package peer

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Has reports whether a program is installed. With CI=true a missing one fails
// the test.
func Has(t testing.TB, program string) bool {
	t.Helper()
	if _, err := exec.LookPath(program); err == nil {
		return true
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", program)
	}
	t.Logf("%s is not installed: not asked", program)
	return false
}

// Save writes a picture to a temporary file.
func Save(t testing.TB, m image.Image) string {
	t.Helper()
	var buf bytes.Buffer
	if err := png.Encode(&buf, m); err != nil {
		t.Fatal(err)
	}
	return SaveBytes(t, "label.png", buf.Bytes())
}

// SaveBytes writes a temporary file.
func SaveBytes(t testing.TB, name string, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// Bars lists the texts of all Code 128 that zbarimg finds in a picture; ok is
// false if it is not installed.
func Bars(t testing.TB, file string) (texts []string, ok bool) {
	t.Helper()
	if !Has(t, "zbarimg") {
		return nil, false
	}
	return run(t, "zbarimg", "--nodbus", "-q", "--raw", "-Sdisable", "-Scode128.enable", file), true
}

// Cells lists the texts of at most so many Data Matrix symbols that dmtxread
// finds in a picture, looking at every shrink-th dot.
func Cells(t testing.TB, file string, most, shrink int) (texts []string, ok bool) {
	t.Helper()
	if !Has(t, "dmtxread") {
		return nil, false
	}
	return run(t, "dmtxread", "-n", "-N"+strconv.Itoa(most), "-S"+strconv.Itoa(shrink), "-m4000", file), true
}

// ZXing lists the texts of the symbols of a format, Code128 or DataMatrix, that
// ZXingReader finds. It looks for a Data Matrix from the middle of the picture
// outwards, so show it one.
func ZXing(t testing.TB, file, format string) (texts []string, ok bool) {
	t.Helper()
	if !Has(t, "ZXingReader") {
		return nil, false
	}
	for _, line := range run(t, "ZXingReader", "-noscale", "-format", format, file) {
		if text, found := strings.CutPrefix(line, "Text:"); found {
			texts = append(texts, strings.Trim(strings.TrimSpace(text), `"`))
		}
	}
	return texts, true
}

// run lists the lines that a program prints. Finding nothing is no error here.
func run(t testing.TB, program string, args ...string) []string {
	t.Helper()
	out, err := exec.Command(program, args...).Output()
	if err != nil {
		if _, exited := err.(*exec.ExitError); !exited {
			t.Fatal(err)
		}
	}
	return strings.FieldsFunc(string(out), func(r rune) bool { return r == '\n' })
}

// Blur is a picture as an office camera sees a print: edges softened over about
// so many dots, and black grown a little into white, which is dot gain.
func Blur(m image.Image, dots float64) *image.Gray {
	const gain = 0.15
	grey := grey(m)
	kernel := gauss(dots)
	half := len(kernel) / 2
	b := grey.Rect
	pass := func(in *image.Gray, dx, dy int) *image.Gray {
		out := image.NewGray(b)
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Min.X; x < b.Max.X; x++ {
				sum := 0.0
				for k, w := range kernel {
					px := min(max(x+(k-half)*dx, b.Min.X), b.Max.X-1)
					py := min(max(y+(k-half)*dy, b.Min.Y), b.Max.Y-1)
					sum += w * float64(in.GrayAt(px, py).Y)
				}
				out.SetGray(x, y, color.Gray{Y: uint8(sum + 0.5)})
			}
		}
		return out
	}
	out := pass(pass(grey, 1, 0), 0, 1)
	for i, v := range out.Pix {
		out.Pix[i] = uint8(255 * max(0, float64(v)/255-gain) / (1 - gain))
	}
	return out
}

func gauss(sigma float64) []float64 {
	half := int(math.Ceil(3 * sigma))
	kernel := make([]float64, 2*half+1)
	sum := 0.0
	for i := range kernel {
		d := float64(i - half)
		kernel[i] = math.Exp(-d * d / (2 * sigma * sigma))
		sum += kernel[i]
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	return kernel
}

// Smudge is a picture with a round stain.
func Smudge(m image.Image, x, y, radius float64) *image.Gray {
	g := grey(m)
	for py := int(y - radius); py <= int(y+radius); py++ {
		for px := int(x - radius); px <= int(x+radius); px++ {
			if math.Hypot(float64(px)+0.5-x, float64(py)+0.5-y) <= radius && image.Pt(px, py).In(g.Rect) {
				g.SetGray(px, py, color.Gray{Y: 30})
			}
		}
	}
	return g
}

// Crop is a part of a picture with a white border of so many dots.
func Crop(m image.Image, r image.Rectangle, border int) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, r.Dx()+2*border, r.Dy()+2*border))
	for i := range out.Pix {
		out.Pix[i] = 255
	}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			out.Set(x-r.Min.X+border, y-r.Min.Y+border, m.At(x, y))
		}
	}
	return out
}

func grey(m image.Image) *image.Gray {
	b := m.Bounds()
	out := image.NewGray(b)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			out.Set(x, y, m.At(x, y))
		}
	}
	return out
}
