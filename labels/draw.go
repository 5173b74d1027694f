package labels

import (
	"errors"
	"fmt"
	"image"
	"strings"

	"countback/labels/page"
	"countback/labels/symbol"
)

// Page draws a label without reading it back; Draw and Roll do both. The error
// is a *TooSmall if the symbols have no room.
func Page(l Label, m Media) (*page.Page, error) {
	if s, ok := l.(RackStrip); ok {
		return s.page(m)
	}
	c, err := l.content()
	if err != nil {
		return nil, err
	}
	return m.draw(c)
}

// Draw draws one label and reads it back. The document says whether it is a
// reprint, as the label does.
func Draw(l Label, m Media) (page.Document, error) { return Roll([]Label{l}, m) }

// Roll draws labels one behind the other, one page each, and reads them back.
// All must be first prints, or reprints of the same number.
func Roll(list []Label, m Media) (page.Document, error) {
	about, err := About(list)
	if err != nil {
		return page.Document{}, err
	}
	pages := make([]*page.Page, len(list))
	for i, l := range list {
		p, err := Page(l, m)
		if err != nil {
			return page.Document{}, err
		}
		pages[i] = p
	}
	return page.Finish(about, pages...)
}

// About is what a document of labels says of itself. It refuses first prints
// together with reprints.
func About(list []Label) (page.About, error) {
	if len(list) == 0 {
		return page.About{}, errors.New("labels: none given")
	}
	about := page.About{Title: title(list[0]), Reprint: reprintOf(list[0])}
	if len(list) > 1 {
		about.Title = fmt.Sprintf("%s and %d more", about.Title, len(list)-1)
	}
	for i, l := range list {
		if reprintOf(l) != about.Reprint {
			return page.About{}, fmt.Errorf("labels: label %d is reprint %d, the first is reprint %d; print them apart", i+1, reprintOf(l), about.Reprint)
		}
	}
	return about, nil
}

func reprintOf(l Label) int {
	if r, ok := l.(interface{ reprint() int }); ok {
		return r.reprint()
	}
	return 0
}

// title is what a printer's queue shows for a label.
func title(l Label) string {
	c, err := l.content()
	if err != nil {
		return "label"
	}
	return strings.ToLower(c.kind) + " " + string(c.code)
}

// draw puts a content on a page.
func (m Media) draw(c content) (*page.Page, error) {
	d, err := m.dots()
	if err != nil {
		return nil, err
	}
	p, err := page.New(m.WidthMm, m.HeightMm, m.DPI, d.Fonts)
	if err != nil {
		return nil, fmt.Errorf("media: %w", err)
	}
	both, err := symbols(c.code)
	if err != nil {
		return nil, err
	}
	at, lacks := d.places(p.Bounds(), both)
	if lacks != "" {
		return nil, d.tooSmall(c.code, lacks)
	}
	at = d.drawText(p, c, at)
	d.drawSymbols(p, both, at)
	return p, nil
}

// drawSymbols draws both symbols and the eight characters.
func (d dots) drawSymbols(p *page.Page, both pair, at places) {
	if !at.linear.Empty() {
		p.Symbol(at.linear.Min.X, at.linear.Min.Y, both.linear, d.module(symbol.Linear), at.linear.Dy())
	}
	if !at.matrix.Empty() {
		p.Symbol(at.matrix.Min.X, at.matrix.Min.Y, both.matrix, d.module(symbol.Matrix), 0)
	}
	text, style := d.Fonts.Fit(string(both.linear.Code), page.Style{Cap: d.cap(hriCapMm), Weight: page.Bold}, at.hri.Dx(), d.least)
	p.TextMiddle((at.hri.Min.X+at.hri.Max.X)/2, at.hri.Max.Y-style.Descent(), text, style)
}

// drawText draws head, rows, foot and pattern, and returns where the symbols
// are after the bars gave what they could.
func (d dots) drawText(p *page.Page, c content, at places) places {
	c.rows = present(append(d.drawHead(p, c, at.head), c.rows...))
	c.foot = present(c.foot)
	high := d.compose(p, c, at)
	for _, s := range scales {
		if s < small {
			break
		}
		if parts, ok := d.fill(high.rows, high.at.text, s); ok {
			return d.finish(p, c, high, parts)
		}
	}
	for quarter := 1; quarter <= 4; quarter++ {
		m := d.compose(p, c, at.shrink((at.bars*quarter+3)/4))
		if parts, ok := d.fill(m.rows, m.at.text, small); ok {
			return d.finish(p, c, m, parts)
		}
	}
	low := d.compose(p, c, at.shrink(at.bars))
	for _, s := range scales {
		if s >= small {
			continue
		}
		if parts, ok := d.fill(low.rows, low.at.text, s); ok {
			return d.finish(p, c, low, parts)
		}
	}
	return d.finish(p, c, low, d.squeeze(low.rows, low.at.text))
}

// small is the scale of the text from which on the bars give height for it.
const small = 0.7

// composed is a division of the label between text and symbols.
type composed struct {
	at      places
	rows    []row
	foot    []part
	drawing image.Rectangle // of the pattern; empty: none
}

// compose divides the label: what has no room beside the symbols stands behind
// the rows.
func (d dots) compose(p *page.Page, c content, at places) composed {
	m := composed{at: at, rows: c.rows}
	ok := false
	if !at.foot.Empty() {
		m.foot, ok = d.fitFoot(c.foot, at.foot)
	}
	if !ok {
		m.rows = append(append([]row(nil), c.rows...), inOne(c.foot)...)
	}
	m.drawing = d.patternArea(p, c, at.text)
	if !m.drawing.Empty() {
		m.at.text.Max.X = m.drawing.Min.X - d.gap
	}
	return m
}

// inOne writes the foot on one line.
func inOne(foot []row) []row {
	if len(foot) == 0 {
		return nil
	}
	one := foot[0]
	one.capMm = foot[len(foot)-1].capMm
	for _, r := range foot[1:] {
		one.text += "  " + r.text
	}
	return []row{one}
}

func (d dots) finish(p *page.Page, c content, m composed, parts []part) places {
	d.place(p, parts)
	d.place(p, m.foot)
	if !m.drawing.Empty() {
		DrawPattern(p, m.drawing, c.pattern, Shapes(c.sizes), d.least)
	}
	return m.at
}

// present leaves out the rows that say nothing.
func present(rows []row) []row {
	var list []row
	for _, r := range rows {
		if strings.TrimSpace(r.text) != "" || r.blank {
			list = append(list, r)
		}
	}
	return list
}

// fitFoot lays the foot as large as it fits.
func (d dots) fitFoot(rows []row, area image.Rectangle) ([]part, bool) {
	for _, s := range scales {
		if parts, ok := d.fill(rows, area, s); ok {
			return parts, true
		}
	}
	return nil, false
}

// place draws laid parts.
func (d dots) place(p *page.Page, parts []part) {
	for _, t := range parts {
		switch {
		case t.rule > 0:
			p.Fill(image.Rect(t.x, t.y, t.x+t.rule, t.y+max(1, d.mm(0.15))), page.Black)
		case t.shape != page.NoShape:
			p.Shape(float64(t.x), float64(t.y), t.shape, float64(t.style.Cap)*1.3, page.Black)
		default:
			p.Text(t.x, t.y, t.text, t.style)
		}
	}
}

// drawHead draws the black head and returns the stamps that it had no room
// for.
func (d dots) drawHead(p *page.Page, c content, head image.Rectangle) []row {
	style := page.Style{Cap: d.headCap(image.Rectangle{Max: image.Pt(1, p.Height-2*d.margin)}), Weight: page.Bold, Ink: page.White}
	p.Fill(head, page.Black)
	pad := style.Cap / 2
	x, right, base := head.Min.X+pad, head.Max.X-pad, head.Min.Y+style.Ascent()
	kind := d.Fonts.Cut(c.kind, style, right-x)
	p.Text(x, base, kind, style)
	x += d.Fonts.Width(kind, style) + 2*pad
	var left []row
	for _, s := range c.stamps {
		dark := style
		dark.Ink = page.Black
		w := d.Fonts.Width(s, dark)
		if x+w+2*pad > right {
			left = append(left, row{text: s, capMm: headCapMm, weight: page.Bold, keep: true})
			continue
		}
		p.Fill(image.Rect(x, head.Min.Y+1, x+w+2*pad, head.Max.Y-1), page.White)
		p.Text(x+pad, base, s, dark)
		x += w + 3*pad
	}
	if w := d.Fonts.Width(c.corner, style); c.corner != "" && x+w+2*pad <= right {
		p.TextRight(right, base, c.corner, style)
		right -= w + 2*pad
	}
	style.Weight = page.Regular
	if room := right - x; room > 6*style.Cap {
		p.Text(x, base, d.Fonts.Cut(d.Fonts.Visible(c.head), style, room), style)
	}
	return left
}
