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
