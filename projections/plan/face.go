package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"countback/events"
)

// Face is where a joint is on the engine, and how it is looked at. All of it
// is optional.
type Face struct {
	Side     Side
	End      string // of the engine or the part, in words: "timing end"
	SeenFrom string // where whoever looks at it stands, in words
	AtLeft   string // what lies at its left edge then: "front"
	AtTop    string // what lies at its upper edge then: "deck"
}

// Side is a side of the engine as it stands, or of the part while it is off.
type Side string

// The sides.
const (
	Left   Side = "left"
	Right  Side = "right"
	Front  Side = "front"
	Rear   Side = "rear"
	Top    Side = "top"
	Bottom Side = "bottom"
	Inside Side = "inside"
)

var sides = []string{string(Left), string(Right), string(Front), string(Rear), string(Top), string(Bottom), string(Inside)}

// String is a face in words: "left side, timing end, seen from the front";
// empty where nothing is known.
func (f Face) String() string {
	var words []string
	switch f.Side {
	case "":
	case Left, Right:
		words = append(words, string(f.Side)+" side")
	default:
		words = append(words, string(f.Side))
	}
	if f.End != "" {
		words = append(words, f.End)
	}
	if f.SeenFrom != "" {
		words = append(words, "seen from "+f.SeenFrom)
	}
	return strings.Join(words, ", ")
}

// XY is the middle of a hole in the plane of its joint's face, in millimetres:
// X to the right and Y up for whoever looks at the face, from any origin that
// all holes of the joint have in common. Holes that a joint shares keep the
// place that they have in their own, so that the two joints have one origin. A
// place is kept to a thousandth of a millimetre, -5000 to 5000.
type XY struct {
	X, Y  float64
	Known bool
}

// Placed reports whether the place of every hole of a joint is known, so that
// it can be drawn as it is.
func (p *Plan) Placed(j JointIndex) bool {
	for _, s := range p.Joints[j].Seats {
		if !p.Seats[s].XY.Known {
			return false
		}
	}
	return len(p.Joints[j].Seats) > 0
}

// HoleName is what a hole is called among those of a joint: its name; with a
// star behind it where the joint shares it and has a hole of that name already;
// its whole name where two joints share holes of one name with it.
func (p *Plan) HoleName(j JointIndex, s SeatIndex) string {
	seat, same := &p.Seats[s], 0
	if seat.Joint == j {
		return string(seat.Hole)
	}
	own := false
	for _, o := range p.Joints[j].Seats {
		if o != s && p.Seats[o].Hole == seat.Hole {
			same++
			own = own || p.Seats[o].Joint == j
		}
	}
	switch {
	case same == 0:
		return string(seat.Hole)
	case same == 1 && own:
		return string(seat.Hole) + "*"
	}
	return string(seat.ID)
}

// Starred is the joint whose holes HoleName puts a star behind; None where it
// does so with no hole.
func (p *Plan) Starred(j JointIndex) JointIndex {
	for _, s := range p.Joints[j].Seats {
		if name := p.HoleName(j, s); name != string(p.Seats[s].Hole) && name != string(p.Seats[s].ID) {
			return p.Seats[s].Joint
		}
	}
	return None
}

func (e *entry) face() Face {
	n := e.get("face")
	if n == nil || isNull(n) {
		return Face{}
	}
	in := e.r.open(n, e.what+": face")
	if in == nil {
		return Face{}
	}
	f := Face{End: in.text("end"), SeenFrom: in.text("seen-from"), AtLeft: in.text("at-left"), AtTop: in.text("at-top")}
	if i := in.choice("side", sides...); child(n, "side") != nil {
		f.Side = Side(sides[i])
	}
	in.done()
	return f
}

const maxPlaceMm = 5000

// xys reads the places of so many holes: a pair for each, or unknown. One hole
// may have its pair without the outer brackets.
func (e *entry) xys(holes []ref) []XY {
	out := make([]XY, len(holes))
	n := e.get("xy")
	if n == nil || isNull(n) || (n.Kind == yaml.ScalarNode && n.Value == unknownWord) {
		return out
	}
	if n.Kind != yaml.SequenceNode {
		e.bad(n, "xy", "a pair of millimetres for each hole: [[12.5, 80], [40, 80]]")
		return out
	}
	pairs := n.Content
	if len(holes) == 1 && flatPair(n) {
		pairs = []*yaml.Node{n}
	}
	if len(pairs) != len(holes) {
		e.r.fault(n.Line, CodeCount, "%s: xy has %d places for %d holes; one for each is wanted, or unknown", e.what, len(pairs), len(holes))
		return out
	}
	for i, pair := range pairs {
		out[i] = e.xy(pair, holes[i].text)
	}
	return out
}

// flatPair reports whether a list is two numbers and not two places.
func flatPair(n *yaml.Node) bool {
	return len(n.Content) == 2 && !slices.ContainsFunc(n.Content, func(c *yaml.Node) bool {
		return c.Kind != yaml.ScalarNode || c.Value == unknownWord
	})
}

func (e *entry) xy(n *yaml.Node, hole string) XY {
	if n.Kind == yaml.ScalarNode && n.Value == unknownWord {
		return XY{}
	}
	var v [2]float64
	ok := n.Kind == yaml.SequenceNode && len(n.Content) == 2
	for i := 0; ok && i < 2; i++ {
		v[i], ok = number(n.Content[i])
		v[i] = e.r.inMm(v[i])
		ok = ok && math.Abs(v[i]) <= maxPlaceMm
	}
	if !ok {
		e.r.fault(n.Line, CodeValue, "%s: xy of hole %s: two numbers from -%d to %d millimetres are wanted, or unknown", e.what, hole, maxPlaceMm, maxPlaceMm)
		return XY{}
	}
	return XY{thousandth(v[0]), thousandth(v[1]), true}
}

// thousandth rounds to a thousandth; there is no minus nought.
func thousandth(v float64) float64 { return math.Round(v*1000)/1000 + 0 }

// nearestMm is how near the middles of two holes can be to each other.
const nearestMm = 1

// sameSpot reports holes of one joint that lie on each other.
func (r *reader) sameSpot(j *Joint) {
	type spot struct{ x, y int }
	cells := map[spot][]SeatIndex{}
	for _, ix := range j.Seats {
		s := &r.p.Seats[ix]
		if !s.XY.Known {
			continue
		}
		at := spot{int(math.Floor(s.XY.X / nearestMm)), int(math.Floor(s.XY.Y / nearestMm))}
		for x := at.x - 1; x <= at.x+1; x++ {
			for y := at.y - 1; y <= at.y+1; y++ {
				for _, other := range cells[spot{x, y}] {
					o := &r.p.Seats[other]
					if math.Hypot(s.XY.X-o.XY.X, s.XY.Y-o.XY.Y) < nearestMm {
						r.fault(s.Line, CodeDuplicate, "joint %s: xy: holes %s and %s are on the same spot, %v, %v", j.ID, o.Hole, s.Hole, s.XY.X, s.XY.Y)
					}
				}
			}
		}
		cells[at] = append(cells[at], ix)
	}
}

// faces looks for sides that mean nothing, and for holes without a place among
// holes that have one.
func (c *checker) faces() {
	p := c.p
	for i := range p.Joints {
		j := &p.Joints[i]
		if (j.Face.Side == Left || j.Face.Side == Right) && p.LeftRight == "" {
			c.fault(CodeMissing, j.Line, fmt.Sprintf("joint %s: face: side is %s, and nobody says seen from where; write left-right under plan", j.ID, j.Face.Side))
		}
		var without []SeatIndex
		for _, s := range j.Seats {
			if !p.Seats[s].XY.Known {
				without = append(without, s)
			}
		}
		if n := len(without); n > 0 && n < len(j.Seats) {
			names := make([]events.Hole, n)
			for k, s := range without {
				names[k] = p.Seats[s].Hole
			}
			c.add(Unknown, CodeUnknown, j.Line, fmt.Sprintf("joint %s: the place of hole %s is not known, so that it is drawn in order, not in place", j.ID, joined(names)))
		}
	}
}

func joined(names []events.Hole) string {
	words := make([]string, len(names))
	for i, n := range names {
		words[i] = string(n)
	}
	return strings.Join(words, ", ")
}
