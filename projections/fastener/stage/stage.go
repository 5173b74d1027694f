package stage

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"countback/projections/fastener/torque"
)

// Kind is what a stage does. Its text is the word that plan files use.
type Kind string

// The kinds.
const (
	Snug       Kind = "snug"        // N.m, or by hand
	Torque     Kind = "torque"      // N.m
	Angle      Kind = "angle"       // degrees further
	Loosen     Kind = "loosen"      // back to nothing, or by a part of a turn
	Stretch    Kind = "stretch"     // mm longer than before it was turned; wants a reading
	PressDepth Kind = "press-depth" // mm below the face; wants a reading
	Height     Kind = "height"      // mm that a stud stands above the face; wants a reading
	Again      Kind = "again"       // N.m, the same torque once more after all others had it
)

var kindUnits = map[Kind]string{Snug: "N.m", Torque: "N.m", Angle: "deg", Loosen: "", Stretch: "mm", PressDepth: "mm", Height: "mm", Again: "N.m"}

// Unit is the unit of the values of a kind: N.m, deg or mm; empty for loosen.
func (k Kind) Unit() string { return kindUnits[k] }

// Measured reports whether a stage of the kind is done by what is read: told
// without a reading it is not.
func (k Kind) Measured() bool { return k == Stretch || k == PressDepth || k == Height }

// WholeTurn is the greatest angle of one stage in degrees.
const WholeTurn = 360

// Stage is one pass over the positions of a list.
type Stage struct {
	Kind  Kind
	Min   float64 // in the unit of the kind; Min == Max where one value is given
	Max   float64
	Known bool    // Min and Max are known; otherwise Text says it in words
	Never float64 // of a stretch: beyond this the fastener is spent; 0: beyond Max
	Band  float64 // of what is measured, mm: how good a reading is to each side; nearer to a limit it takes a second one; 0: not asked
	Text  string
	Said  string // the value as it was written in a unit of its own: "45 to 55 lbf.ft"; empty: in the unit of the kind
	Unit  string // of Said; empty: that of the kind

	Only  []string // positions; empty: all of the list
	After []int    // stages, from 1, that come before though they share no position
	Needs []string // marks that must stand
	Due   string   // falls due later: "cold after the first heat"
}

// String is the stage as it is said at the bench: torque 70 to 75 N.m.
func (s Stage) String() string {
	switch {
	case s.Known && s.Said != "":
		return string(s.Kind) + " " + s.Said
	case s.Known && s.Min == s.Max:
		return fmt.Sprintf("%s %s %s", s.Kind, short(s.Min), s.Kind.Unit())
	case s.Known:
		return fmt.Sprintf("%s %s to %s %s", s.Kind, short(s.Min), short(s.Max), s.Kind.Unit())
	case s.Text != "":
		return string(s.Kind) + " " + s.Text
	}
	return string(s.Kind)
}

// ReadIn is the unit in which a value of the stage is read at the bench: that in
// which it is written.
func (s Stage) ReadIn() string {
	if s.Unit != "" {
		return s.Unit
	}
	return s.Kind.Unit()
}

// number is a value of the kind's unit as a number of the unit that the stage is
// written in: a ten-thousandth of an inch, a hundredth of a pound-foot.
func (s Stage) number(v float64) string {
	switch s.Unit {
	case "", s.Kind.Unit():
		return short(v)
	case "in":
		return strconv.FormatFloat(math.Round(v/25.4*1e4)/1e4, 'f', -1, 64)
	}
	for _, u := range [...]torque.Unit{torque.PoundFoot, torque.PoundInch, torque.KilopondMetre} {
		if s.Unit == u.String() {
			return strconv.FormatFloat(math.Round(v/u.Nm()*100)/100, 'f', -1, 64)
		}
	}
	return short(v)
}

// short is a number with up to three decimals.
func short(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}

// check says what is wrong with the stage by itself.
func (s Stage) check() error {
	unit, ok := kindUnits[s.Kind]
	switch {
	case !ok:
		return fmt.Errorf("%q is no kind of stage", s.Kind)
	case math.IsNaN(s.Band) || s.Band < 0 || s.Band > 0 && !s.Kind.Measured():
		return fmt.Errorf("%s with a band of %v: only what is measured has one", s.Kind, s.Band)
	case math.IsNaN(s.Min+s.Max+s.Never) || s.Min < 0 || s.Max > 1e6 || s.Min > s.Max:
		return fmt.Errorf("%s from %v to %v %s: no range", s.Kind, s.Min, s.Max, unit)
	case s.Known && s.Max == 0 && s.Kind != Loosen && s.Kind != PressDepth:
		return fmt.Errorf("%s of 0 %s does nothing", s.Kind, unit)
	case s.Kind == Angle && s.Max > WholeTurn:
		return fmt.Errorf("angle of %v deg: more than a whole turn", s.Max)
	case s.Never != 0 && (s.Kind != Stretch || !s.Known || s.Never < s.Max):
		return fmt.Errorf("%s never above %v %s: only a stretch has that, and not below its most", s.Kind, s.Never, unit)
	}
	return nil
}

// Limits on a list.
const (
	MostPositions = 1000
	MostStages    = 250
)

// List is what is to be done to the fasteners of one order, over one or
// several joints.
type List struct {
	ID        string
	Order     []string      // positions in the order in which they are turned
	Stages    []Stage       // at least one
	Sets      [][]string    // positions that go through the stages together, such as the two of a cap; empty: all of them
	Neighbour [][]string    // positions that may not be loosened without each other
	Pause     time.Duration // longest pause inside an angle stage; 0: none is too long
	AnyHands  bool          // others may finish an angle stage than began it
}

// Check says what is wrong with a list: positions without a name or twice, no
// stages, ranges that run backwards, angles beyond a whole turn, names that the
// order does not have, a position in two sets or in none.
func (l List) Check() error {
	if err := l.check(); err != nil {
		return fmt.Errorf("tightening list %s: %w", l.ID, err)
	}
	return nil
}

func (l List) check() error {
	if n := len(l.Order); n < 1 || n > MostPositions {
		return fmt.Errorf("%d positions; from 1 to %d are wanted", n, MostPositions)
	}
	if n := len(l.Stages); n < 1 || n > MostStages {
		return fmt.Errorf("%d stages; from 1 to %d are wanted", n, MostStages)
	}
	if err := l.known("order", l.Order, true); err != nil {
		return err
	}
	for i, s := range l.Stages {
		err := s.check()
		if err == nil {
			err = l.known("only", s.Only, true)
		}
		for _, a := range s.After {
			if a < 1 || a > i {
				err = fmt.Errorf("after stage %d, which does not come before it", a)
			}
		}
		if err != nil {
			return fmt.Errorf("stage %d: %w", i+1, err)
		}
	}
	for _, set := range l.Neighbour {
		if err := l.known("neighbours", set, true); err != nil {
			return err
		}
	}
	if len(l.Sets) > 0 {
		return l.checkSets()
	}
	return nil
}

// checkSets says which position is in two sets or in none.
func (l List) checkSets() error {
	all := slices.Concat(l.Sets...)
	if err := l.known("sets", all, true); err != nil {
		return err
	}
	if len(all) != len(l.Order) {
		return fmt.Errorf("sets of %d positions in an order of %d", len(all), len(l.Order))
	}
	return nil
}

// known says which of the names the order does not have, or which stands twice.
func (l List) known(what string, names []string, once bool) error {
	seen := map[string]bool{}
	for _, n := range names {
		switch {
		case n == "":
			return fmt.Errorf("%s: a position without a name", what)
		case !slices.Contains(l.Order, n):
			return fmt.Errorf("%s: position %s is not in the order", what, n)
		case once && seen[n]:
			return fmt.Errorf("%s: position %s stands in it twice", what, n)
		}
		seen[n] = true
	}
	return nil
}

// Repeat is the list with its stages gone through so many times.
func (l List) Repeat(passes int) List {
	once := l.Stages
	for range passes - 1 {
		from := len(l.Stages)
		for _, s := range once {
			s.After = slices.Clone(s.After)
			for i := range s.After {
				s.After[i] += from
			}
			l.Stages = append(slices.Clip(l.Stages), s)
		}
	}
	return l
}

// Angle is how far a position is turned by all angle stages together since it
// was last loosened, in degrees from the least to the most; stages that are not
// known count nothing.
func (l List) Angle(position string) (least, most float64) {
	for _, s := range l.Stages {
		switch {
		case !s.has(position):
		case s.Kind == Loosen:
			least, most = 0, 0
		case s.Kind == Angle && s.Known:
			least, most = least+s.Min, most+s.Max
		}
	}
	return least, most
}

func (s Stage) has(position string) bool {
	return len(s.Only) == 0 || slices.Contains(s.Only, position)
}

// names joins positions, the first eight of them.
func names(list []string) string {
	const shown = 8
	if len(list) > shown {
		return strings.Join(list[:shown], ", ") + fmt.Sprintf(" and %d more", len(list)-shown)
	}
	return strings.Join(list, ", ")
}
