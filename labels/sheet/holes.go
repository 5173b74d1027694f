package sheet

import (
	"fmt"
	"image"
	"time"

	"countback/labels"
	"countback/labels/code"
	"countback/labels/page"
)

// Holes is the position card of a joint: the drawing of its holes to push the
// fasteners through, or to lie them on, and below it the code of each position.
type Holes struct {
	Code      code.Code // of the rack that the card is
	Job       string
	Engine    string
	Joint     string
	Pattern   labels.Pattern
	Lines     []labels.Line
	Positions []labels.RackPosition
	Date      time.Time
	Reprint   int
	Training  bool
}

// Draw makes the card.
func (h Holes) Draw(s Settings) (page.Document, error) {
	if s.LinearMm == 0 {
		s.LinearMm = 0.25
	}
	d, err := s.dots()
	if err != nil {
		return page.Document{}, err
	}
	if h.Code.Type() != code.Rack {
		return page.Document{}, fmt.Errorf("position card: code %q is no rack's", h.Code)
	}
	if len(h.Pattern.Spots) == 0 {
		return page.Document{}, fmt.Errorf("position card %s: no hole; give the pattern", h.Joint)
	}
	f := d.flow(head{"RACK", words(h.Job, h.Engine) + "  " + h.Joint, stamp(h.Reprint, h.Training)}, 1)
	top, err := d.item(Item{Code: h.Code, Name: h.Joint, Notes: []string{"the rack: FULL, or scan the empty positions"}}, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("position card: %w", err)
	}
	f.add(top, 0)
	drawing := d.large(h, f.width())
	if drawing.height == 0 {
		return page.Document{}, fmt.Errorf("position card %s: %d holes have no room on the paper", h.Joint, len(h.Pattern.Spots))
	}
	f.add(drawing, 0)
	for i, l := range h.Lines {
		f.add(d.legend(page.ShapeOf(i), l, d.style(2.4, page.Regular), f.width()), 0)
	}
	f.add(d.space(4), 0)
	rows, err := d.positionRows(h.Positions, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("position card %s: %w", h.Joint, err)
	}
	f.addAll(rows)
	return f.document("position card "+h.Joint, h.Date, h.Reprint)
}

// large is the drawing over the whole width.
func (d dots) large(h Holes, width int) block {
	shapes := labels.Shapes(h.Lines)
	least := d.mm(2.6)
	high := d.mm(d.Paper.HeightMm / 2.6)
	if !h.Pattern.Placed {
		high = d.patternHeight(h.Pattern, shapes, width, least)
	}
	try, err := page.New(d.Paper.WidthMm, d.Paper.HeightMm, d.DPI, d.Fonts)
	if err != nil {
		return block{}
	}
	for ; least > d.least(); least-- {
		if labels.DrawPattern(try, image.Rect(0, 0, width, high), h.Pattern, shapes, least) {
			break
		}
	}
	if !labels.DrawPattern(try, image.Rect(0, 0, width, high), h.Pattern, shapes, least) {
		return block{}
	}
	return block{height: high, draw: func(p *page.Page, area image.Rectangle) {
		labels.DrawPattern(p, area, h.Pattern, shapes, least)
	}}
}

// positionRows is the codes of the positions, several in a row.
func (d dots) positionRows(list []labels.RackPosition, width int) ([]block, error) {
	pairs := make([]pair, len(list))
	cell := image.Point{}
	for i, at := range list {
		if at.Code.Type() != code.Position {
			return nil, fmt.Errorf("position %s: code %q is no position's", at.Name, at.Code)
		}
		var err error
		if pairs[i], err = d.pair(at.Code); err != nil {
			return nil, err
		}
		cell = image.Pt(max(cell.X, pairs[i].bars.X), max(cell.Y, pairs[i].bars.Y))
	}
	if len(list) == 0 {
		return nil, nil
	}
	name := d.style(3, page.Bold)
	high := cell.Y + name.Height() + d.mm(3)
	columns := max(1, (width+d.mm(4))/(cell.X+d.mm(4)))
	var rows []block
	for from := 0; from < len(list); from += columns {
		to := min(from+columns, len(list))
		rows = append(rows, block{height: high, draw: func(p *page.Page, area image.Rectangle) {
			for i := from; i < to; i++ {
				x := area.Min.X + (i-from)*(cell.X+d.mm(4))
				left := x + d.linear*10
				if list[i].Shape != page.NoShape {
					p.Shape(float64(left+name.Cap/2), float64(area.Min.Y+name.Ascent()-name.Cap/2), list[i].Shape, float64(name.Cap)*1.2, page.Black)
					left += name.Cap * 3 / 2
				}
				text, style := d.Fonts.Fit(list[i].Name, name, cell.X/2, d.least())
				p.Text(left, area.Min.Y+name.Ascent(), text, style)
				left += d.Fonts.Width(text, style) + d.mm(1.5)
				holds, small := d.Fonts.Fit(list[i].Holds, d.style(1.8, page.Regular), x+cell.X-left, d.least())
				p.Text(left, area.Min.Y+name.Ascent(), holds, small)
				d.drawBars(p, pairs[i], image.Pt(x, area.Min.Y+name.Height()))
			}
		}})
	}
	return rows, nil
}
