package panel

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

func TestJointMarks(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	broken := []string{"joint exhaust", "hole 9", "BROKEN", "BELOW", labelOf(t, code.Case, 0), "YES"}
	for _, row := range []struct {
		name  string
		scans []string
		joint string
		hole  string
		mark  Mark
		stand string
	}{
		{"as it came", nil, "joint front-cover", "18", Tight, "in and tight"},
		{"all out", []string{"joint mount-bracket", "ALL OUT"}, "joint mount-bracket", "1", Out, "out"},
		{"some out", []string{"joint oil-pan", "hole 3", "OUT"}, "joint oil-pan", "3", Out, "partly out"},
		{"others stay in", []string{"joint oil-pan", "hole 3", "OUT"}, "joint oil-pan", "4", Tight, "partly out"},
		{"parked", []string{"joint oil-pan", "PARKED"}, "joint oil-pan", "3", Parked, "PARKED: only finger-tight"},
		{"in again, not tightened", []string{"joint water-pump", bag, "ALL OUT", bag, "joint water-pump", "ALL IN"}, "joint water-pump", "1", In, "in, not tightened to the end"},
		{"presumed", []string{"part oil-pan", "OFF"}, "joint oil-pan", "3", Out, "out, by presumption: never counted"},
		{"broken", broken, "joint exhaust", "9", Broken, "in and tight, BROKEN in one or more"},
		{"a loan is in it", []string{"joint bellhousing", "ALL OUT", "loan stand-bolt", "IN", "4"}, "joint bellhousing", "1", Lent, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := newStage(t, row.scans...)
			s.scan("CANCEL", row.joint)
			p := s.panel()
			require.Equal(t, "joint", p.Name)
			require.Equal(t, row.mark, cell(t, p, row.hole).Mark, p.Cells)
			if row.stand != "" {
				require.Equal(t, row.stand, p.Stand)
			}
		})
	}
}

func TestJointShapesTellSizesApart(t *testing.T) {
	p := newStageOn(t, "joint front-cover")
	require.Equal(t, "Front cover to block", p.Title)
	var names []string
	for _, k := range p.Key {
		names = append(names, k.Text)
	}
	require.Equal(t, []string{"M6", "M8 short", "M8 long", "M10", "M12"}, names)
	for hole, size := range map[string]string{"1": "M6", "3": "M8 short", "18": "M8 long", "6": "M10", "2": "M12"} {
		shape := cell(t, p, hole).Shape
		require.Equal(t, size, p.Key[shape].Text, "hole %s", hole)
	}
	require.Len(t, p.Cells, 22)
	require.Equal(t, "1", p.Cells[0].Name)
	require.Equal(t, "22", p.Cells[21].Name)
}

func newStageOn(t *testing.T, lines ...string) Panel { return newStage(t, lines...).panel() }

func TestJointPointsAtTheHoleThatIsAskedFor(t *testing.T) {
	p := newStageOn(t, "joint front-cover", "hole 18")
	require.True(t, cell(t, p, "18").Ask)
	require.False(t, cell(t, p, "17").Ask)
}

// What comes out is counted blind: from the joint and its bag on, the holes
// are not on the screen. What goes in is fitted by the picture.
func TestJointHidesItsHolesFromACount(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint front-cover", bag)
	p := s.panel()
	require.Empty(t, p.Cells)
	require.Equal(t, []string{"count it|M6|", "count it|M8 short|", "count it|M8 long|", "count it|M10|", "count it|M12|"}, rows(p, "Count each size"))
	s.scan("1", "8", "4", "5", "4")
	require.Len(t, s.panel().Cells, 22, "once it is stored, the picture is back")
	s.scan(bag, "joint front-cover")
	require.Len(t, s.panel().Cells, 22, "going in, the picture stays")
}

func TestJointThatNoPlanKnows(t *testing.T) {
	s := newStage(t)
	tag := s.label(code.Joint, 400)
	s.scan(tag, "LABEL", "text water outlet", tag)
	p := s.panel()
	require.Equal(t, "joint", p.Name)
	require.Contains(t, p.Stand, "no plan knows it")
}

func TestJointListsItsBagAndWhatIsOdd(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint water-pump", bag, "ALL OUT", "joint water-pump", "hole 1", "INSERT", "14", "joint water-pump")
	p := s.panel()
	require.Equal(t, []string{"count it|bag " + bag + "|never counted"}, rows(p, "Its pieces"))
	require.Equal(t, []string{"|Hole 1 is insert|"}, rows(p, "Not as planned"))
}

func TestJointLiesInPlace(t *testing.T) {
	p := newStageOn(t, "joint exhaust")
	require.True(t, p.Placed)
	require.Equal(t, "flywheel end", p.Left)
	require.Equal(t, "head", p.Top)
	require.Equal(t, "right side, exhaust side, seen from the right (left and right from the flywheel end, looking at the timing end)", p.Note)
	one, nine := cell(t, p, "1"), cell(t, p, "9")
	require.Equal(t, []float64{-176, 34, -132, -34}, []float64{one.X, one.Y, nine.X, nine.Y})
	p = newStageOn(t, "joint sensors")
	require.False(t, p.Placed, "they are all over the engine")
	require.Equal(t, "in the order of their numbers, not in place", p.Note)
}

// A hole that the joint shares is not its own hole of that number.
func TestJointTellsSharedHolesApart(t *testing.T) {
	p := newStageOn(t, "joint mount-bracket", "hole 2")
	require.Len(t, p.Cells, 8)
	require.True(t, cell(t, p, "2").Ask)
	require.False(t, cell(t, p, "2*").Ask)
	require.Contains(t, p.Note, "* of Front cover to block")
}

// Eighteen came out of nineteen holes: nobody has said which one still has its
// bolt, until somebody does.
func TestHolesThatNobodyHasSpokenOfAreUnsure(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	for _, row := range []struct {
		name  string
		scans []string
		marks map[string]Mark
		stand string
	}{
		{"short of one", nil, map[string]Mark{"1": Out, "15": Unsure, "18": Unsure}, "out, UNSURE where nobody has said whether it came out"},
		{"nobody knows", []string{"DO NOT KNOW"}, map[string]Mark{"1": Out, "15": Unsure}, ""},
		{"never there", []string{"NEVER THERE"}, map[string]Mark{"15": Out, "18": Out}, "out"},
		{"still in", []string{"STILL IN", "OK"}, map[string]Mark{"1": Out, "15": Out, "18": Tight}, "partly out"},
		{"still in, and which", []string{"STILL IN", "hole 15"}, map[string]Mark{"1": Out, "15": Tight, "18": Out}, "partly out"},
		{"still in, by its number", []string{"STILL IN", "16"}, map[string]Mark{"15": Out, "16": Tight, "18": Out}, "partly out"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := newStage(t, append([]string{"joint oil-pan", bag, "14", "3"}, row.scans...)...)
			s.scan("CANCEL", "joint oil-pan")
			p := s.panel()
			for hole, mark := range row.marks {
				require.Equal(t, mark.String(), cell(t, p, hole).Mark.String(), "hole %s", hole)
			}
			if row.stand != "" {
				require.Equal(t, row.stand, p.Stand)
			}
		})
	}
	require.NotEqual(t, Out.String(), Unsure.String())
}
