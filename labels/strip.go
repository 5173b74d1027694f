package labels

import (
	"fmt"
	"image"

	"countback/labels/code"
	"countback/labels/page"
)

// RackPosition is one position of a rack.
type RackPosition struct {
	Code  code.Code
	Name  string // "1", "2 E"
	Holds string // "M8x1.25x45, hole 18"
	Shape page.Shape
}

// RackStrip is the labels of a rack's positions in one piece, with the rack's
// own label at its beginning; that end has a black corner, so that nobody puts
// the strip on the wrong way round. The width of the media is that of one
// position.
type RackStrip struct {
	Code      code.Code
	Job       string
	Engine    string
	Name      string // "Front cover bolts"
	From      string // at the end with the black corner: "front"
	Positions []RackPosition
	Reprint   int
	Training  bool
}

func (s RackStrip) reprint() int { return s.Reprint }

// content is the rack's own label.
func (s RackStrip) content() (content, error) {
	if len(s.Positions) == 0 {
		return content{}, fmt.Errorf("rack strip %s: no position; give at least one", s.Code)
	}
	c := content{code: s.Code, kind: "RACK", stamps: stamps(s.Reprint, s.Training), head: jobWords(s.Job, s.Engine)}
	c.rows = []row{{text: s.Name, capMm: 3.4, weight: page.Bold, lines: 2, keep: true}}
	if s.From != "" {
		c.rows = append(c.rows, row{shape: page.TriangleDown, text: s.From, capMm: 2.6, weight: page.Bold, keep: true})
	}
	return c, typed(s.Code, code.Rack)
}

func (s RackStrip) position(i int) (content, error) {
	at := s.Positions[i]
	c := content{code: at.Code, kind: fmt.Sprintf("%d of %d", i+1, len(s.Positions)), stamps: stamps(s.Reprint, s.Training)}
	c.rows = []row{{shape: at.Shape, text: at.Name, capMm: 7, weight: page.Bold, keep: true}, {text: at.Holds, capMm: 2.2, lines: 2}}
	return c, typed(at.Code, code.Position)
}

// page puts the labels side by side.
func (s RackStrip) page(m Media) (*page.Page, error) {
	first, err := s.content()
	if err != nil {
		return nil, err
	}
	long := m
	long.WidthMm *= float64(len(s.Positions) + 1)
	d, err := m.dots()
	if err != nil {
		return nil, err
	}
	strip, err := page.New(long.WidthMm, m.HeightMm, m.DPI, d.Fonts)
	if err != nil {
		return nil, fmt.Errorf("rack strip %s of %d positions: %w", s.Code, len(s.Positions), err)
	}
	for i := -1; i < len(s.Positions); i++ {
		c := first
		if i >= 0 {
			if c, err = s.position(i); err != nil {
				return nil, err
			}
		}
		one, err := m.draw(c)
		if err != nil {
			return nil, err
		}
		strip.Paste(one, image.Pt((i+1)*one.Width, 0))
		if i >= 0 {
			cutMarks(strip, (i+1)*one.Width, d.margin)
		}
	}
	corner := float64(d.margin)
	strip.Path(page.Black, []page.Point{{X: 0, Y: 0}, {X: corner, Y: 0}, {X: 0, Y: corner}})
	strip.Fill(image.Rect(0, 0, max(2, d.margin/2), strip.Height), page.Black)
	return strip, nil
}

// cutMarks shows at the edges where one position ends.
func cutMarks(p *page.Page, x, long int) {
	p.Fill(image.Rect(x, 0, x+1, long), page.Black)
	p.Fill(image.Rect(x, p.Height-long, x+1, p.Height), page.Black)
}
