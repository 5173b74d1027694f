package page

import "math"

// Shape tells sizes, groups and conditions apart without colour.
type Shape uint8

// The shapes. Neighbours in this list differ much from each other.
const (
	NoShape Shape = iota
	Disc
	Square
	Triangle
	Diamond
	Cross
	Hexagon
	Star
	TriangleDown
	Octagon
	Ring
	Box // an open square
	OpenTriangle
	OpenDiamond
	OpenHexagon
	OpenStar
	lastShape
)

// ShapeOf is a shape by number, counted from 0; past the last one they begin
// again.
func ShapeOf(i int) Shape {
	n := int(lastShape) - 1
	return Shape((i%n+n)%n + 1)
}

var shapeWords = [...]string{"", "disc", "square", "triangle", "diamond", "cross", "hexagon", "star", "triangle down", "octagon",
	"ring", "open square", "open triangle", "open diamond", "open hexagon", "open star"}

// String is the shape's word.
func (s Shape) String() string {
	if s >= lastShape {
		return "shape"
	}
	return shapeWords[s]
}

// filled is the shape without a hole in it.
func (s Shape) filled() (base Shape, open bool) {
	switch s {
	case Ring:
		return Disc, true
	case Box:
		return Square, true
	case OpenTriangle:
		return Triangle, true
	case OpenDiamond:
		return Diamond, true
	case OpenHexagon:
		return Hexagon, true
	case OpenStar:
		return Star, true
	}
	return s, false
}

// Shape draws a shape with its middle at a point, about so many dots across.
func (p *Page) Shape(x, y float64, s Shape, size float64, ink Ink) {
	base, open := s.filled()
	if base == NoShape || base >= lastShape {
		return
	}
	outlines := [][]Point{outline(base, x, y, size/2)}
	if open {
		outlines = append(outlines, outline(base, x, y, size/2*0.6))
	}
	p.Path(ink, outlines...)
}

// outline is the corners of a shape round a point; none is farther from it
// than about the radius.
func outline(s Shape, x, y, r float64) []Point {
	switch s {
	case Square:
		return polygon(x, y, r*1.2, 4, 45)
	case Triangle:
		return polygon(x, y+r*0.2, r*1.15, 3, 90)
	case TriangleDown:
		return polygon(x, y-r*0.2, r*1.15, 3, 270)
	case Diamond:
		return polygon(x, y, r*1.15, 4, 90)
	case Hexagon:
		return polygon(x, y, r*1.05, 6, 90)
	case Octagon:
		return polygon(x, y, r*1.05, 8, 22.5)
	case Star:
		return star(x, y, r*1.15)
	case Cross:
		return cross(x, y, r, r*0.36)
	}
	return polygon(x, y, r, 48, 0)
}

// polygon is a regular one with a corner at an angle in degrees, upwards from
// the right.
func polygon(x, y, r float64, corners int, degrees float64) []Point {
	list := make([]Point, corners)
	for i := range list {
		a := degrees*math.Pi/180 + 2*math.Pi*float64(i)/float64(corners)
		list[i] = Point{x + r*math.Cos(a), y - r*math.Sin(a)}
	}
	return list
}

func star(x, y, r float64) []Point {
	outer, inner := polygon(x, y, r, 5, 90), polygon(x, y, r*0.42, 5, 126)
	var list []Point
	for i := range outer {
		list = append(list, outer[i], inner[i])
	}
	return list
}

func cross(x, y, r, w float64) []Point {
	return []Point{{x - w, y - r}, {x + w, y - r}, {x + w, y - w}, {x + r, y - w}, {x + r, y + w}, {x + w, y + w},
		{x + w, y + r}, {x - w, y + r}, {x - w, y + w}, {x - r, y + w}, {x - r, y - w}, {x - w, y - w}}
}
