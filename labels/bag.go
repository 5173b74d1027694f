package labels

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

// Condition says what may be done with what is in a bag.
type Condition uint8

// The conditions.
const (
	NoCondition Condition = iota
	Reuse
	New
	Measure
	Condemned
	Sample
)

// words and shape of each condition: never one without the other.
var conditions = [...]struct {
	word  string
	shape page.Shape
}{{}, {"REUSE", page.Disc}, {"NEW", page.Star}, {"MEASURE FIRST", page.Diamond},
	{"CONDEMNED: DO NOT FIT", page.Octagon}, {"SAMPLE: KEEP", page.Box}}

// String is the condition's word as it stands on the label.
func (c Condition) String() string {
	if int(c) >= len(conditions) {
		return fmt.Sprintf("condition %d", uint8(c))
	}
	return conditions[c].word
}

// Line is pieces of one kind in a bag.
type Line struct {
	Spec     string // "M8x1.25x30 8.8 flange"
	Count    int    // pieces in the bag
	Expected int    // pieces that belong in it; 0: not known, or not to be shown
	Holes    []string
}

// Bag is the label of a bag. Empty fields are left out.
type Bag struct {
	Code      code.Code
	Job       string // "4K7"
	Engine    string // "Sorrel I4-20"
	Joint     string // in words: "Front cover to block"
	Side      string // "left, seen from the flywheel"
	End       string // "front"
	LeftRight string // where somebody stands whose left and right are meant: "from the flywheel end"
	Into      string // what the fasteners go into: "cylinder block"
	Lines     []Line
	Pattern   Pattern // drawn if there are several lines
	Condition Condition
	GoesWith  []string // washers, clips, spacers that belong to it
	BackWith  []string // "thread lock", "sealant", "oil", "dry"
	Under     string   // what else sits under it, and in which order
	Before    string   // the bag before it in the order of work
	After     string   // the bag after it
	Bag, Of   int      // which bag of how many; 0: not said
	Date      time.Time
	Initials  string
	Reprint   int  // 0: first print
	Training  bool // from the training store: on no real job
}

// reprint is how often a label was printed before.
func (b Bag) reprint() int { return b.Reprint }

// content puts the joint first, then side and end, then what is in the bag.
func (b Bag) content() (content, error) {
	c := content{code: b.Code, kind: "BAG", stamps: stamps(b.Reprint, b.Training), head: jobWords(b.Job, b.Engine),
		corner: ofHowMany(b.Bag, b.Of), pattern: b.Pattern, sizes: b.Lines}
	if err := typed(b.Code, code.Bag); err != nil {
		return c, err
	}
	if b.Condition > Sample {
		return c, fmt.Errorf("bag %s: %s: want reuse, new, measure, condemned or sample", b.Code, b.Condition)
	}
	c.rows = append(c.rows, row{text: b.Joint, capMm: 4.2, weight: page.Bold, lines: 2, keep: true},
		row{text: joined(", ", b.Side, b.End), capMm: 2.8, weight: page.Bold, lines: 2, keep: true},
		labelled("Left and right as seen", b.LeftRight))
	total, expected, known := 0, 0, len(b.Lines) > 0
	for i, l := range b.Lines {
		if l.Count < 0 || l.Expected < 0 {
			return c, fmt.Errorf("bag %s: %s: %d of %d pieces: a count is 0 or more", b.Code, l.Spec, l.Count, l.Expected)
		}
		r := row{text: counted(l) + " × " + l.Spec, right: holeWords(l.Holes), capMm: 2.4, list: true}
		if len(b.Lines) > 1 {
			r.shape = page.ShapeOf(i)
		}
		c.rows = append(c.rows, r)
		total, expected, known = total+l.Count, expected+l.Expected, known && l.Expected > 0
	}
	c.rows = append(c.rows, labelled("With", strings.Join(b.GoesWith, ", ")), labelled("Goes back with", strings.Join(b.BackWith, ", ")),
		labelled("Under it", b.Under), labelled("Into", b.Into), labelled("Bag before", b.Before), labelled("Bag after", b.After))
	if b.Condition != NoCondition {
		c.foot = append(c.foot, row{shape: conditions[b.Condition].shape, text: b.Condition.String(), capMm: 3, weight: page.Bold, keep: true})
	}
	if len(b.Lines) > 0 {
		words := strconv.Itoa(total) + pieces(total)
		if known {
			words = fmt.Sprintf("%d of %d", total, expected)
		}
		c.foot = append(c.foot, row{text: words, capMm: 3.4, weight: page.Bold, keep: true})
	}
	c.foot = append(c.foot, row{text: joined("  ", dateWords(b.Date), b.Initials), capMm: 2.2, keep: true})
	return c, nil
}

// Words is count, spec and holes on one line.
func (l Line) Words() string {
	return joined("   ", counted(l)+" × "+l.Spec, holeWords(l.Holes))
}

// counted is 7, or 7 of 8 where they differ.
func counted(l Line) string {
	if l.Expected > 0 && l.Expected != l.Count {
		return fmt.Sprintf("%d of %d", l.Count, l.Expected)
	}
	return strconv.Itoa(l.Count)
}

func pieces(n int) string {
	if n == 1 {
		return " piece"
	}
	return " pieces"
}

// BlankBag is a bag label printed ahead, on a roll of a terminal's own codes,
// with lines to write on.
type BlankBag struct {
	Code     code.Code
	Shop     string // in the head
	Training bool
}

// content is what people write on a bag by hand.
func (b BlankBag) content() (content, error) {
	c := content{code: b.Code, kind: "BAG", stamps: stamps(0, b.Training), head: b.Shop}
	for _, caption := range []string{"Job", "Joint", "Side, end", "Count", "Date, by"} {
		c.rows = append(c.rows, row{text: caption, capMm: 2.4, blank: true})
	}
	return c, typed(b.Code, code.Bag)
}
