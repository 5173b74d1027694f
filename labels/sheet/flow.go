package sheet

import (
	"fmt"
	"image"
	"time"

	"countback/labels/page"
)

// head is what stands at the top of every page.
type head struct {
	kind  string // JOB SHEET
	words string // job and engine
	stamp string // TRAINING, REPRINT 1
}

// flow fills pages with blocks, column by column.
type flow struct {
	d       dots
	head    head
	columns int
	pages   []*page.Page
	column  int
	y       int
	err     error
}

// block is something of a height that draws itself into a width.
type block struct {
	height int
	draw   func(p *page.Page, area image.Rectangle)
	keep   bool // must not be the last one of a column
}

func (d dots) flow(h head, columns int) *flow { return &flow{d: d, head: h, columns: columns} }

// Heights of the head and foot of a page in millimetres.
const (
	headMm = 7.0
	footMm = 4.5
)

// area is what blocks may fill of a page.
func (f *flow) area() image.Rectangle {
	r := f.page().Bounds().Inset(f.d.margin)
	r.Min.Y += f.d.mm(headMm + 2)
	r.Max.Y -= f.d.mm(footMm)
	return r
}

// page is the page that is being filled.
func (f *flow) page() *page.Page {
	if len(f.pages) == 0 {
		f.newPage()
	}
	return f.pages[len(f.pages)-1]
}

func (f *flow) newPage() {
	p, err := page.New(f.d.Paper.WidthMm, f.d.Paper.HeightMm, f.d.DPI, f.d.Fonts)
	if err != nil {
		f.err = fmt.Errorf("sheet: %w", err)
		p, _ = page.New(A4.WidthMm, A4.HeightMm, 600, nil)
	}
	f.pages = append(f.pages, p)
	f.column = 0
	f.y = f.area().Min.Y
}

// columnArea is the column that is being filled.
func (f *flow) columnArea() image.Rectangle {
	a := f.area()
	gutter := f.d.mm(5)
	w := (a.Dx() - gutter*(f.columns-1)) / f.columns
	a.Min.X += f.column * (w + gutter)
	a.Max.X = a.Min.X + w
	return a
}

// width is that of a column.
func (f *flow) width() int { return f.columnArea().Dx() }

// next goes on in the next column.
func (f *flow) next() {
	if f.column++; f.column == f.columns {
		f.newPage()
		return
	}
	f.y = f.area().Min.Y
}

// add puts a block where there is room, together with follow, the height of
// what must not be parted from it.
func (f *flow) add(b block, follow int) {
	a := f.columnArea()
	if b.height > a.Dy() && f.err == nil {
		f.err = fmt.Errorf("sheet: a block of %.0f mm does not fit a page of %.0f mm", f.d.DPI.Mm(b.height), f.d.DPI.Mm(a.Dy()))
		return
	}
	if f.y+b.height+follow > a.Max.Y && f.y > a.Min.Y {
		f.next()
		a = f.columnArea()
	}
	b.draw(f.page(), image.Rect(a.Min.X, f.y, a.Max.X, f.y+b.height))
	f.y += b.height
}

// addAll adds blocks, none that must be kept with its next one parted from it.
func (f *flow) addAll(list []block) {
	for i, b := range list {
		follow := 0
		for j := i; j < len(list)-1 && list[j].keep; j++ {
			follow += list[j+1].height
		}
		f.add(b, min(follow, f.columnArea().Dy()-b.height))
	}
}

// document draws heads and feet and reads everything back.
func (f *flow) document(title string, date time.Time, reprint int) (page.Document, error) {
	f.page()
	if f.err != nil {
		return page.Document{}, f.err
	}
	for i, p := range f.pages {
		f.drawHead(p)
		foot := f.d.style(1.8, page.Regular)
		base := p.Height - f.d.margin - foot.Descent()
		p.TextRight(p.Width-f.d.margin, base, fmt.Sprintf("page %d of %d", i+1, len(f.pages)), foot)
		if !date.IsZero() {
			p.Text(f.d.margin, base, date.Format("2 Jan 2006"), foot)
		}
	}
	return page.Finish(page.About{Title: title, Date: date, Reprint: reprint}, f.pages...)
}

func (f *flow) drawHead(p *page.Page) {
	d := f.d
	r := image.Rect(d.margin, d.margin, p.Width-d.margin, d.margin+d.mm(headMm))
	p.Fill(r, page.Black)
	style := d.style(3.2, page.Bold)
	style.Ink = page.White
	base := (r.Min.Y+r.Max.Y)/2 + style.Cap/2
	x, right := r.Min.X+d.mm(2), r.Max.X-d.mm(2)
	p.Text(x, base, f.head.kind, style)
	x += d.Fonts.Width(f.head.kind, style) + d.mm(4)
	if f.head.stamp != "" {
		p.TextRight(right, base, f.head.stamp, style)
		right -= d.Fonts.Width(f.head.stamp, style) + d.mm(4)
	}
	style.Weight = page.Regular
	text, style := d.Fonts.Fit(f.head.words, style, right-x, d.mm(2))
	p.Text(x, base, text, style)
}

// text is a paragraph of at most so many lines.
func (d dots) text(text string, style page.Style, width, lines, indent int) block {
	list, style := d.Fonts.FitLines(text, style, width-indent, lines, d.least())
	return block{height: len(list) * style.Height(), draw: func(p *page.Page, area image.Rectangle) {
		for i, t := range list {
			p.Text(area.Min.X+indent, area.Min.Y+i*style.Height()+style.Ascent(), t, style)
		}
	}}
}

// heading parts sections.
func (d dots) heading(text string, width int) block {
	style := d.style(3.2, page.Bold)
	text, style = d.Fonts.Fit(text, style, width, d.least())
	high := style.Height() + d.mm(5)
	return block{height: high, keep: true, draw: func(p *page.Page, area image.Rectangle) {
		rule := area.Max.Y - d.mm(2.5)
		p.Text(area.Min.X, rule-style.Descent(), text, style)
		p.Fill(image.Rect(area.Min.X, rule, area.Max.X, rule+d.mm(0.4)), page.Black)
	}}
}

// space is nothing.
func (d dots) space(mm float64) block {
	return block{height: d.mm(mm), draw: func(*page.Page, image.Rectangle) {}}
}

// signature is a caption and a line to sign on.
func (d dots) signature(caption string, width int) block {
	style := d.style(2.2, page.Regular)
	caption, style = d.Fonts.Fit(caption, style, width/2, d.least())
	return block{height: d.mm(11), draw: func(p *page.Page, area image.Rectangle) {
		base := area.Max.Y - d.mm(2)
		p.Text(area.Min.X, base, caption, style)
		from := area.Min.X + d.Fonts.Width(caption, style) + d.mm(2)
		p.Fill(image.Rect(from, base+d.mm(0.5), area.Max.X, base+d.mm(0.5)+max(1, d.mm(0.2))), page.Black)
	}}
}
