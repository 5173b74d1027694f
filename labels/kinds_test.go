package labels

import (
	"fmt"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/symbol"
)

var resolutions = []symbol.DPI{symbol.DPI203, symbol.DPI300, symbol.DPI600}

var day = time.Date(2026, 5, 12, 9, 30, 0, 0, time.UTC)

func issued(t require.TestingT, ty code.Type, n uint32) code.Code {
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	c, _, ok := i.Next(ty, n)
	require.True(t, ok)
	return c
}

// frontCover is the bag of the worked example: four sizes, one piece short.
func frontCover(t testing.TB) Bag {
	return Bag{
		Code: issued(t, code.Bag, 7), Job: "4K7", Engine: "Sorrel I4-20", Joint: "Front cover to block", Side: "front",
		Lines: []Line{
			{Spec: "M6x1.0x25 8.8 flange", Count: 1, Expected: 1, Holes: []string{"1"}},
			{Spec: "M8x1.25x30 8.8 flange", Count: 8, Expected: 8, Holes: []string{"3", "5", "9", "12", "14", "15", "16", "17"}},
			{Spec: "M8x1.25x45 8.8 flange", Count: 4, Expected: 4, Holes: []string{"18", "19", "20", "22"}},
			{Spec: "M10x1.5x50 8.8 flange", Count: 4, Expected: 5, Holes: []string{"6", "7", "10", "13", "21"}},
		},
		Pattern: coverPattern(), Condition: Reuse, BackWith: []string{"sealant"}, Bag: 2, Of: 3, Date: day, Initials: "MT",
	}
}

func coverPattern() Pattern {
	p := Pattern{Placed: true, Front: "pump side"}
	for i, q := range [][2]float64{
		{10, 0}, {40, 0}, {80, 0}, {120, 0}, {150, 0}, {160, 30}, {155, 60}, {160, 90}, {150, 120}, {140, 150}, {120, 170},
		{100, 180}, {80, 182}, {60, 180}, {40, 170}, {20, 150}, {10, 120}, {0, 90}, {5, 60}, {0, 30}, {60, 60}, {100, 100},
	} {
		p.Spots = append(p.Spots, Spot{strconv.Itoa(i + 1), q[0], q[1]})
	}
	return p
}

func strip(t testing.TB, n int) RackStrip {
	s := RackStrip{Code: issued(t, code.Rack, 1), Job: "4K7", Engine: "Sorrel I4-20", Name: "Front cover bolts", From: "front"}
	for i := range n {
		s.Positions = append(s.Positions, RackPosition{
			Code: issued(t, code.Position, uint32(2*i)), Name: strconv.Itoa(i + 1), Holds: "M8x1.25x45 8.8 flange", Shape: page.ShapeOf(i),
		})
	}
	return s
}

// sample is one kind of label on the paper that it is meant for.
type sample struct {
	name          string
	label         Label
	width, height float64
	symbols       Symbols
}

func (s sample) media(dpi symbol.DPI) Media {
	return Media{WidthMm: s.width, HeightMm: s.height, DPI: dpi, Symbols: s.symbols}
}

// kinds is every kind of label.
func kinds(t testing.TB) []sample {
	again := frontCover(t)
	again.Reprint, again.Training = 2, true
	return []sample{
		{"bag", frontCover(t), 100, 60, Both},
		{"bag-low", again, 57, 32, Both},
		{"bag-narrow", frontCover(t), 40, 30, Both},
		{"bag-large", frontCover(t), 150, 100, Both},
		{"bag-linear", frontCover(t), 60, 30, LinearOnly},
		{"bag-blank", BlankBag{Code: issued(t, code.Bag, 90), Shop: "Bench 2"}, 70, 50, Both},
		{"part", Tag{Code: issued(t, code.Part, 3), Job: "4K7", Engine: "Sorrel I4-20", Position: "2", Name: "Connecting rod 2",
			WayRound: "mark to the front", From: "crank", Piece: 2, Of: 4, Date: day, Initials: "MT"}, 70, 40, Both},
		{"position", Tag{Code: issued(t, code.Position, 3), Job: "4K7", Position: "2 Ea", Name: "Graded bucket"}, 50, 25, Both},
		{"position-matrix", Tag{Code: issued(t, code.Position, 5), Job: "4K7", Position: "2 Eb", Name: "Graded bucket"}, 25, 25, MatrixOnly},
		{"job", Tag{Code: issued(t, code.Job, 4), Name: "Sorrel I4-20, Hansen", Note: "Owner waits for the price"}, 80, 40, Both},
		{"loan", LoanFlag{Code: issued(t, code.Loan, 3), Job: "4K7", Engine: "Sorrel I4-20", Name: "Tensioner lock pin", In: "timing case",
			OutBefore: []string{"Front cover on", "turning"}, Piece: 1, Of: 1, Since: day, Initials: "MT"}, 90, 40, Both},
		{"joint-blank", JointTag{Code: issued(t, code.Joint, 3), Shop: "Bench 2"}, 70, 45, Both},
		{"badge-blank", BlankTag{Code: issued(t, code.Badge, 3), Shop: "Bench 2"}, 70, 45, Both},
		{"slip-blank", BlankTag{Code: issued(t, code.Slip, 3), Shop: "Bench 2"}, 70, 45, Both},
		{"rack-strip", strip(t, 4), 45, 35, Both},
		{"tray", Tray{Code: issued(t, code.Place, 1), Job: "4K7", Engine: "Sorrel I4-20", Name: "Tray 7", Custody: "With Ole since 12 May", Holds: 10,
			Lines: []Line{{Spec: "M6x1.0x25 8.8 flange", Count: 4}, {Spec: "M14x1.25 spark plug", Count: 4}}, Bags: []string{"BHTTG2Z5, Flywheel"},
			Date: day, Initials: "OL"}, 100, 60, Both},
		{"tool", ToolTag{Code: issued(t, code.Loan, 5), Shop: "hill", Name: "Large wrench", ID: "wrench-40-200", Range: "40 to 200 N.m",
			Due: "Friday 1 May 2026"}, 57, 32, Both},
	}
}

// codesOf lists the codes that a label must show.
func codesOf(l Label) []code.Code {
	switch l := l.(type) {
	case Bag:
		return []code.Code{l.Code}
	case BlankBag:
		return []code.Code{l.Code}
	case Tag:
		return []code.Code{l.Code}
	case BlankTag:
		return []code.Code{l.Code}
	case JointTag:
		return []code.Code{l.Code}
	case LoanFlag:
		return []code.Code{l.Code}
	case Tray:
		return []code.Code{l.Code}
	case ToolTag:
		return []code.Code{l.Code}
	case RackStrip:
		list := []code.Code{l.Code}
		for _, p := range l.Positions {
			list = append(list, p.Code)
		}
		return list
	}
	panic(fmt.Sprintf("unreachable: %T", l))
}

func TestEveryKindAtEachResolution(t *testing.T) {
	for _, s := range kinds(t) {
		for _, dpi := range resolutions {
			d, err := Draw(s.label, s.media(dpi))
			require.NoError(t, err, "%s at %d", s.name, dpi)
			require.Equal(t, codesOf(s.label), d.Codes())
			require.Empty(t, d.Page(0).Overlaps(), "%s at %d", s.name, dpi)
			want := map[symbol.Kind]int{symbol.Linear: len(d.Codes()), symbol.Matrix: len(d.Codes())}
			switch s.symbols {
			case LinearOnly:
				delete(want, symbol.Matrix)
			case MatrixOnly:
				delete(want, symbol.Linear)
			}
			got := map[symbol.Kind]int{}
			for _, p := range d.Page(0).Symbols() {
				got[p.Kind]++
			}
			require.Equal(t, want, got, s.name)
			charactersBelow(t, d.Page(0), dpi)
		}
	}
}

// Under every Code 128 its eight characters stand, right below the bars and
// between their ends.
func charactersBelow(t *testing.T, p *page.Page, dpi symbol.DPI) {
	t.Helper()
	for _, s := range p.Symbols() {
		if s.Kind != symbol.Linear {
			continue
		}
		found := false
		for _, w := range p.Texts() {
			if w.Text == string(s.Code) {
				found = true
				require.GreaterOrEqual(t, w.Zone.Min.Y, s.Zone.Max.Y)
				require.LessOrEqual(t, dpi.Mm(w.Zone.Min.Y-s.Zone.Max.Y), 0.5)
				require.GreaterOrEqual(t, w.Zone.Min.X, s.Zone.Min.X)
				require.LessOrEqual(t, w.Zone.Max.X, s.Zone.Max.X)
				require.GreaterOrEqual(t, dpi.Mm(w.Style.Cap), 1.4)
			}
		}
		require.True(t, found, "%s has no characters below", s.Code)
	}
}

// What matters most is the largest and comes first.
func TestWhatStandsOnABag(t *testing.T) {
	d, err := Draw(frontCover(t), Media{WidthMm: 100, HeightMm: 60, DPI: 203})
	require.NoError(t, err)
	caps := map[string]float64{}
	for _, w := range d.Page(0).Texts() {
		caps[w.Text] = symbol.DPI203.Mm(w.Style.Cap)
	}
	for _, want := range []string{
		"BAG", "Job 4K7  Sorrel I4-20", "2 of 3", "front", "1 × M6x1.0x25 8.8 flange", "8 × M8x1.25x30 8.8 flange", "3 5 9 12 14–17",
		"4 × M8x1.25x45 8.8 flange", "18–20 22", "4 of 5 × M10x1.5x50 8.8 flange", "6 7 10 13 21", "Goes back with: sealant",
		"REUSE", "17 of 18", "12 May 2026  MT", "◀ pump side", "22", string(issued(t, code.Bag, 7)),
	} {
		require.Contains(t, caps, want)
	}
	require.GreaterOrEqual(t, caps["17 of 18"], 3.0)
	require.GreaterOrEqual(t, caps["front"], 2.0)
	for _, c := range caps {
		require.GreaterOrEqual(t, c, 1.5)
	}
}

func TestReprintAndTrainingAreSaid(t *testing.T) {
	for _, s := range kinds(t) {
		l, ok := s.label.(Bag)
		if !ok || s.name == "bag-low" {
			continue
		}
		l.Reprint, l.Training = 1, true
		d, err := Draw(l, s.media(203))
		require.NoError(t, err)
		require.Equal(t, 1, d.Reprint())
		var texts []string
		for _, w := range d.Page(0).Texts() {
			texts = append(texts, w.Text)
		}
		require.Subset(t, texts, []string{"REPRINT 1", "TRAINING"}, s.name)
	}
}
