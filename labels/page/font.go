package page

import (
	"fmt"
	"io"
	"math"
	"sync"

	"codeberg.org/go-pdf/fpdf"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Weight is regular or bold.
type Weight uint8

// The weights.
const (
	Regular Weight = iota
	Bold
)

// face is one font file.
type face struct {
	name  string
	ttf   []byte
	font  *sfnt.Font
	upem  fixed.Int26_6
	perEm float64 // units to the em
}

// capHeight is the height of a capital letter in ems, the same in both
// built-in fonts: 1493 of 2048 units.
const capHeight = 1493.0 / 2048

// Heights of lines, in capital letter heights.
const (
	ascent  = 1.30 // from the baseline up, with an accent on a capital
	descent = 0.35
)

func newFace(name string, ttf []byte) (*face, error) {
	if len(ttf) < 4 || string(ttf[:4]) != "\x00\x01\x00\x00" && string(ttf[:4]) != "true" {
		return nil, fmt.Errorf("font %s: no TrueType file", name)
	}
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("font %s: %w", name, err)
	}
	var buf sfnt.Buffer
	if _, err := f.LoadGlyph(&buf, 0, fixed.I(16), nil); err != nil {
		return nil, fmt.Errorf("font %s: %w", name, err)
	}
	return &face{name: name, ttf: ttf, font: f, upem: fixed.I(int(f.UnitsPerEm())), perEm: float64(f.UnitsPerEm())}, nil
}

// Fonts is the built-in fonts and those added for other scripts. It may be
// used by many goroutines.
type Fonts struct {
	faces []*face // regular, bold, then the added ones
	mu    sync.RWMutex
	known map[rune]spot // where a character is found, by weight
}

// spot is where one character is found and how wide it is, in ems.
type spot struct {
	face  [2]int16 // -1: nowhere
	glyph [2]sfnt.GlyphIndex
	width [2]float64
}

var builtIn = sync.OnceValue(func() *Fonts {
	f, err := NewFonts()
	if err != nil {
		panic("unreachable: " + err.Error())
	}
	return f
})

// BuiltIn is the fonts that are always there.
func BuiltIn() *Fonts { return builtIn() }

// NewFonts is the built-in fonts with others behind them, TrueType files for
// characters that the built-in ones lack, in the order in which they are asked.
func NewFonts(more ...[]byte) (*Fonts, error) {
	f := &Fonts{known: map[rune]spot{}}
	files := [][]byte{dejavusanscondensed.TTF, dejavusanscondensedbold.TTF}
	names := []string{"regular", "bold"}
	for i, b := range more {
		files, names = append(files, b), append(names, fmt.Sprintf("added%d", i+1))
	}
	for i := range files {
		one, err := newFace(names[i], files[i])
		if err != nil {
			return nil, err
		}
		if i >= 2 {
			if err := one.embeds(); err != nil {
				return nil, err
			}
		}
		f.faces = append(f.faces, one)
	}
	return f, nil
}

// embeds tries whether a font can be put into a PDF: the writer panics at
// tables that it does not expect.
func (f *face) embeds() (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("font %s: cannot be embedded in a PDF: %v", f.name, r)
		}
	}()
	d := fpdf.New("P", "pt", "A4", "")
	d.AddUTF8FontFromBytes(f.name, "", f.ttf)
	d.SetFont(f.name, "", 9)
	d.AddPage()
	d.Text(9, 9, "0")
	if err := d.Output(io.Discard); err != nil {
		return fmt.Errorf("font %s: cannot be embedded in a PDF: %w", f.name, err)
	}
	return nil
}

// find is where a character is found.
func (f *Fonts) find(r rune) spot {
	f.mu.RLock()
	s, ok := f.known[r]
	f.mu.RUnlock()
	if ok {
		return s
	}
	s = spot{face: [2]int16{-1, -1}}
	var buf sfnt.Buffer
	for w := range 2 {
		for i, one := range f.faces {
			if i < 2 && i != w || r > 0xffff {
				continue // PDF text is written in two bytes a character
			}
			g, err := one.font.GlyphIndex(&buf, r)
			if err != nil || g == 0 {
				continue
			}
			a, err := one.font.GlyphAdvance(&buf, g, one.upem, font.HintingNone)
			if err != nil {
				continue
			}
			s.face[w], s.glyph[w], s.width[w] = int16(i), g, float64(a)/64/one.perEm
			break
		}
	}
	f.mu.Lock()
	f.known[r] = s
	f.mu.Unlock()
	return s
}

// has reports whether some font has a character.
func (f *Fonts) has(r rune) bool {
	s := f.find(r)
	return s.face[Regular] >= 0 && s.face[Bold] >= 0
}

// em is the size in dots of type whose capitals are so many dots high.
func em(capDots float64) float64 { return capDots / capHeight }

// Width is how wide a text is in dots, rounded up. The text is measured as it
// stands: see Visible.
func (f *Fonts) Width(text string, style Style) int {
	return int(math.Ceil(f.ems(text, style.Weight)*em(float64(style.Cap)) - 1e-6))
}

func (f *Fonts) ems(text string, w Weight) float64 {
	sum := 0.0
	for _, r := range text {
		sum += f.find(r).width[w]
	}
	return sum
}
