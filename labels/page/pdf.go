package page

import (
	"bytes"
	"fmt"
	"image"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// inset draws the bars in by so many dots at each edge. A renderer that inks
// every dot that an edge touches would make each bar a dot wider from one
// rounding error.
const inset = 0.02

// pdf writes one document.
type pdf struct {
	*fpdf.Fpdf
	page   *Page
	at     image.Point // moves what is written
	buf    strings.Builder
	fill   Ink
	inDots bool // the coordinates are dots from the left upper corner
	added  map[*face]bool
}

// scale is points to the dot.
func (d *pdf) scale() float64 { return 72 / (25.4 * d.page.DPI.PerMm()) }

// raw writes operators in coordinates of dots.
func (d *pdf) raw(text string) {
	if !d.inDots {
		fmt.Fprintf(&d.buf, "q %.8f 0 0 %.8f 0 %.5f cm 0 g\n", d.scale(), -d.scale(), float64(d.page.Height)*d.scale())
		d.inDots, d.fill = true, Black
	}
	d.buf.WriteString(text)
}

// flush ends the coordinates of dots.
func (d *pdf) flush() {
	if d.inDots {
		d.RawWriteStr(d.buf.String() + "Q")
		d.buf.Reset()
		d.inDots = false
	}
}

// ink chooses the colour of what is filled next.
func (d *pdf) ink(i Ink) {
	d.raw("")
	if i != d.fill {
		d.raw(fmt.Sprintf("%d g\n", i))
		d.fill = i
	}
}

func (d *pdf) rectangle(r image.Rectangle, inset float64) {
	r = r.Add(d.at)
	if inset == 0 {
		d.raw(fmt.Sprintf("%d %d %d %d re\n", r.Min.X, r.Min.Y, r.Dx(), r.Dy()))
		return
	}
	d.raw(fmt.Sprintf("%.2f %.2f %.2f %.2f re\n", float64(r.Min.X)+inset, float64(r.Min.Y)+inset, float64(r.Dx())-2*inset, float64(r.Dy())-2*inset))
}

func (d *pdf) outline(points []Point) {
	op := "m"
	for _, q := range points {
		d.raw(fmt.Sprintf("%.2f %.2f %s\n", q.X+float64(d.at.X), q.Y+float64(d.at.Y), op))
		op = "l"
	}
	d.raw("h\n")
}

// text writes a line in the fonts that have its characters.
func (d *pdf) text(l line) {
	d.flush()
	grey := 255 * int(l.style.Ink)
	d.SetTextColor(grey, grey, grey)
	x, size := float64(l.x), em(float64(l.style.Cap))
	w := l.style.Weight
	write := func(f *face, text string) {
		if !d.added[f] {
			d.AddUTF8FontFromBytes(f.name, "", f.ttf)
			d.added[f] = true
		}
		d.SetFont(f.name, "", size*d.scale())
		d.Text((x+float64(d.at.X))*d.scale(), float64(l.y+d.at.Y)*d.scale(), text)
		x += l.fonts.ems(text, w) * size
	}
	var now *face
	var run strings.Builder
	for _, r := range visual(l.text) {
		f := l.fonts.faces[max(0, l.fonts.find(r).face[w])]
		if f != now && run.Len() > 0 {
			write(now, run.String())
			run.Reset()
		}
		now = f
		run.WriteRune(r)
	}
	if run.Len() > 0 {
		write(now, run.String())
	}
}

// writePDF makes one document of pages.
func writePDF(title string, date time.Time, pages []*Page) ([]byte, error) {
	d := &pdf{Fpdf: fpdf.New("P", "pt", "A4", ""), added: map[*face]bool{}}
	d.SetCatalogSort(true)
	if date.IsZero() {
		date = time.Unix(0, 0).UTC()
	}
	d.SetCreationDate(date)
	d.SetModificationDate(date)
	d.SetTitle(title, true)
	d.SetProducer("countback", false)
	d.SetAutoPageBreak(false, 0)
	d.SetMargins(0, 0, 0)
	for _, p := range pages {
		d.page = p
		s := d.scale()
		d.AddPageFormat("P", fpdf.SizeType{Wd: float64(p.Width) * s, Ht: float64(p.Height) * s})
		for _, t := range p.things {
			t.pdf(d)
		}
		d.flush()
	}
	var buf bytes.Buffer
	if err := d.Output(&buf); err != nil {
		return nil, fmt.Errorf("pdf %q: %w", title, err)
	}
	return buf.Bytes(), nil
}
