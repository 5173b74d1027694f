package sheet

import (
	"fmt"
	"image"
	"strings"
	"time"

	"countback/labels"
	"countback/labels/code"
	"countback/labels/page"
)

// Job is the job sheet: every joint and step as a code, in order, with the
// drawing of a joint's holes.
type Job struct {
	Code     code.Code
	Job      string
	Engine   string
	Sections []Section
	Date     time.Time
	Reprint  int
	Training bool
}

// Section is a part of the work.
type Section struct {
	Name  string // "Taking apart"
	Items []Item
}

// Item is one joint, step, part, loan or mark.
type Item struct {
	Code    code.Code
	Number  string // its place in the order: "12"
	Name    string
	Notes   []string // "18 bolts", "waits for: front cover off"
	Pattern labels.Pattern
	Lines   []labels.Line // sizes, whose shapes the pattern has
}

// Draw makes the sheet: two columns of codes.
func (j Job) Draw(s Settings) (page.Document, error) {
	d, err := s.dots()
	if err != nil {
		return page.Document{}, err
	}
	if j.Code.Type() != code.Job {
		return page.Document{}, fmt.Errorf("job sheet: code %q is no job's", j.Code)
	}
	f := d.flow(head{"JOB SHEET", words(j.Job, j.Engine), stamp(j.Reprint, j.Training)}, 2)
	top, err := d.item(Item{Code: j.Code, Name: words(j.Job, j.Engine), Notes: []string{"scan this first"}}, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("job sheet: %w", err)
	}
	f.add(top, 0)
	for _, sec := range j.Sections {
		list := []block{d.heading(sec.Name, f.width())}
		for _, it := range sec.Items {
			b, err := d.item(it, f.width())
			if err != nil {
				return page.Document{}, fmt.Errorf("job sheet: %s: %w", it.Name, err)
			}
			list = append(list, b)
		}
		f.addAll(list)
	}
	return f.document("job sheet "+j.Job, j.Date, j.Reprint)
}

func words(job, engine string) string {
	return strings.TrimSpace("Job " + job + "  " + engine)
}

func stamp(reprint int, training bool) string {
	var list []string
	if training {
		list = append(list, "TRAINING")
	}
	if reprint > 0 {
		list = append(list, fmt.Sprintf("REPRINT %d", reprint))
	}
	return strings.Join(list, "  ")
}

// item is a code with its text on the right, and the drawing below.
func (d dots) item(it Item, width int) (block, error) {
	q, err := d.pair(it.Code)
	if err != nil {
		return block{}, err
	}
	beside := width - q.bars.X - d.gap - q.square.X - d.gap
	if beside < d.mm(18) {
		return block{}, fmt.Errorf("Code 128 of %.1f mm and Data Matrix of %.1f mm leave no room for words in a column of %.1f mm; take narrower modules",
			d.DPI.Mm(q.bars.X), d.DPI.Mm(q.square.X), d.DPI.Mm(width))
	}
	name := it.Name
	if it.Number != "" {
		name = it.Number + "  " + name
	}
	texts := []block{d.text(name, d.style(2.7, page.Bold), beside, 2, 0)}
	for _, n := range it.Notes {
		texts = append(texts, d.text(n, d.style(1.8, page.Regular), beside, 2, 0))
	}
	high := 0
	for _, t := range texts {
		high += t.height
	}
	upper := max(q.bars.Y, high, q.square.Y)
	lower := d.drawing(it, width)
	draw := func(p *page.Page, area image.Rectangle) {
		d.drawBars(p, q, area.Min)
		d.drawSquare(p, q, image.Pt(area.Max.X-q.square.X, area.Min.Y))
		y := area.Min.Y
		for _, t := range texts {
			x := area.Min.X + q.bars.X + d.gap
			t.draw(p, image.Rect(x, y, x+beside, y+t.height))
			y += t.height
		}
		lower.draw(p, image.Rect(area.Min.X, area.Min.Y+upper+d.gap, area.Max.X, area.Min.Y+upper+d.gap+lower.height))
	}
	return block{height: upper + lower.height + d.mm(5), draw: draw}, nil
}

// drawing is the hole pattern and what its shapes stand for.
func (d dots) drawing(it Item, width int) block {
	if len(it.Pattern.Spots) == 0 {
		return block{draw: func(*page.Page, image.Rectangle) {}}
	}
	shapes := labels.Shapes(it.Lines)
	room := d.patternHeight(it.Pattern, shapes, width, d.least())
	legend := make([]block, len(it.Lines))
	high := room
	for i, l := range it.Lines {
		legend[i] = d.legend(page.ShapeOf(i), l, d.style(1.8, page.Regular), width)
		high += legend[i].height
	}
	return block{height: high, draw: func(p *page.Page, area image.Rectangle) {
		labels.DrawPattern(p, image.Rect(area.Min.X, area.Min.Y, area.Max.X, area.Min.Y+room), it.Pattern, shapes, d.least())
		y := area.Min.Y + room
		for _, l := range legend {
			l.draw(p, image.Rect(area.Min.X, y, area.Max.X, y+l.height))
			y += l.height
		}
	}}
}

// patternHeight is the least height that a pattern can be drawn in, 0 if there
// is none up to half of a page.
func (d dots) patternHeight(t labels.Pattern, shapes map[string]page.Shape, width, least int) int {
	try, err := page.New(d.Paper.WidthMm, d.Paper.HeightMm, d.DPI, d.Fonts)
	if err != nil {
		return 0
	}
	from := 6.0
	if t.Placed {
		from = 26
	}
	for mm := from; mm <= d.Paper.HeightMm/2; mm += 4 {
		if labels.DrawPattern(try, image.Rect(0, 0, width, d.mm(mm)), t, shapes, least) {
			return d.mm(mm)
		}
	}
	return 0
}

// legend is what one shape stands for.
func (d dots) legend(shape page.Shape, l labels.Line, style page.Style, width int) block {
	text := d.text(l.Words(), style, width, 2, style.Cap*2)
	return block{height: text.height, draw: func(p *page.Page, area image.Rectangle) {
		p.Shape(float64(area.Min.X+style.Cap), float64(area.Min.Y+style.Ascent())-float64(style.Cap)/2, shape, float64(style.Cap)*1.3, page.Black)
		text.draw(p, area)
	}}
}
