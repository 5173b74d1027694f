package panel

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/kiosk"
	"countback/labels/code"
)

func TestBagHidesItsNumbersUntilItIsCounted(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint water-pump", bag, "2", "2", bag)
	p := s.panel()
	require.Equal(t, "bag", p.Name)
	require.Equal(t, "Bag "+bag+", Water pump", p.Title)
	require.Equal(t, "open, counted 12 May 07:00 by Marit", p.Stand)
	require.Len(t, rows(p, "In it"), 2)
	for _, row := range rows(p, "In it") {
		require.True(t, strings.HasPrefix(row, "count it|M"), row)
	}
	s.scan("COUNT", "2", "2")
	for _, row := range rows(s.panel(), "In it") {
		require.True(t, strings.HasPrefix(row, "counted|2 M"), row)
	}
	s.scan(bag)
	require.True(t, strings.HasPrefix(rows(s.panel(), "In it")[0], "count it|"), "scanned again, it is counted blind again")
}

func TestBagThatIsEmptyOrUnknown(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t)
	require.Equal(t, "nothing was put into it yet", OfBag(s.job(), events.Code(bag), events.FactID{}).Stand)
	s.scan("joint coils", bag, "ALL OUT", bag, "joint coils", "ALL IN", bag, "EMPTY")
	require.Equal(t, "empty", OfBag(s.job(), events.Code(bag), events.FactID{}).Stand)
}

func TestRack(t *testing.T) {
	rack := labelOf(t, code.Rack, 0)
	s := newStage(t, "part buckets", "OFF", "part buckets", rack, "position 2Ia", "CANCEL")
	s.scan(rack)
	p := s.panel()
	require.Equal(t, "rack", p.Name)
	require.Equal(t, "Graded buckets", p.Stand)
	require.Len(t, p.Cells, 16)
	require.Equal(t, Full, cell(t, p, "2Ia").Mark)
	require.Equal(t, Empty, cell(t, p, "1Ia").Mark)
	s.scan(rack, "FULL")
	require.Equal(t, "rack", s.panel().Name)
	require.Equal(t, Full, cell(t, s.panel(), "1Ia").Mark)
}

func TestRackOfFastenersByHoleLiesAsTheJointDoes(t *testing.T) {
	rack := labelOf(t, code.Rack, 0)
	s := newStage(t, "joint front-cover", rack, "FULL", "CANCEL", rack)
	p := s.panel()
	require.Equal(t, "rack", p.Name)
	require.Equal(t, "Front cover to block, by hole", p.Stand)
	require.True(t, p.Placed)
	require.Equal(t, "exhaust side", p.Left)
	require.Equal(t, 76.0, cell(t, p, "18").X)
	s = newStage(t, "part buckets", "OFF", "part buckets", rack, "position 2Ia", "CANCEL", rack)
	require.False(t, s.panel().Placed)
}

func TestRackThatIsUnknown(t *testing.T) {
	p := OfRack(newStage(t).job(), "RBCBR6KB", nil)
	require.Equal(t, "nothing is known to be in it", p.Stand)
	require.Empty(t, p.Cells)
}

func TestStepsSortByWhatCanBeDone(t *testing.T) {
	s := newStage(t, "joint coils", "hole 1", "OUT", "WHAT NOW")
	p := s.panel()
	require.Equal(t, "steps", p.Name)
	require.Equal(t, "begun|Coils off", rows(p, "Begun")[0][:len("begun|Coils off")])
	require.Contains(t, rows(p, "Can be done now"), "now|Check in, photos, what is missing|")
	require.NotEmpty(t, rows(p, "Waits"))
	for _, row := range rows(p, "Waits") {
		require.NotEmpty(t, row[strings.LastIndex(row, "|")+1:], "every step that waits says for what: %s", row)
	}
}

func TestStepsShowAllReasonsOfOne(t *testing.T) {
	s := newStage(t, "step cover-off", "CAN I?")
	p := s.panel()
	require.Equal(t, "steps", p.Name)
	require.Contains(t, p.Groups[0].Head, "Cover off: ")
	require.Greater(t, len(p.Groups[0].Rows), 1)
}

func TestMissing(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "MISSING")
	require.Equal(t, "nothing is missing", s.panel().Stand)
	s.scan("joint mount-bracket", "ALL OUT", "joint front-cover", bag, "1", "8", "4", "4", "DO NOT KNOW", "MISSING")
	p := s.panel()
	require.Equal(t, "missing", p.Name)
	require.Contains(t, p.Stand, "1 piece for 1 step")
	require.Contains(t, rows(p, "Cover on")[0], "LOOK|1 of 5 M10|look in ")
}

func TestAudit(t *testing.T) {
	s := newStage(t, "joint coils", "ALL OUT", "AUDIT")
	p := s.panel()
	require.Equal(t, "audit", p.Name)
	require.Equal(t, "Audit: Ready to start", p.Title)
	require.Contains(t, p.Stand, "red line")
	a, _ := s.job().Audit("ready-to-start")
	red := rows(p, "Red")
	require.Len(t, red, len(a.Red))
	for i, l := range a.Red {
		require.Equal(t, "LOOK|"+l.Text+"|"+l.Scan, red[i])
	}
	require.Contains(t, rows(p, "The record")[0], a.Hash[:16])
	require.Contains(t, OfAudit(s.job(), "no-such").Stand, "no audit point")
}

func TestWhere(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint water-pump", bag, "2", "2", bag, "WHERE IS")
	p := s.panel()
	require.Equal(t, "where", p.Name)
	require.Contains(t, rows(p, "What happened to it")[0], "12 May 07:00 Marit: Water pump out, into bag "+bag)
	s.scan("joint front-cover", "hole 18", "WHERE IS")
	hole := rows(s.panel(), "The hole")
	require.Contains(t, hole[0], "|Wants M8x1.25x45 8.8 flange|")
	s.scan("part front-cover", "WHERE IS")
	require.Equal(t, "Front cover", s.panel().Title)
	require.Contains(t, OfWhere(s.job(), "part no-such").Stand, "never met")
}

func TestHandOver(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t)
	require.Equal(t, "nothing is open", OfHandOver(s.job()).Stand)
	s.scan("joint mount-bracket", "ALL OUT", "joint front-cover", bag, "1", "8", "4", "4", "DO NOT KNOW",
		"joint water-pump", "ALL OUT", "joint water-pump", "ALL IN", "loan rag", "IN", "1", "HAND OVER")
	p := s.panel()
	require.Equal(t, "hand-over", p.Name)
	require.Contains(t, rows(p, "Short, over, never counted")[0], "LOOK|Short 1")
	require.NotEmpty(t, rows(p, "In it, and does not belong there"))
	require.Contains(t, rows(p, "In, not tightened to the end")[0], "in|Water pump")
	require.NotEmpty(t, rows(p, "Bags"))
	require.NotEmpty(t, rows(p, "Begun"))
}

// Every red line of a job is in the hand-over, under one heading.
func TestHandOverLeavesNothingOut(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "part oil-pan", "OFF", "joint front-cover", bag, "1", "8", "4", "4", "4", "DO NOT KNOW", "loan rag", "IN", "1",
		"joint exhaust", "hole 9", "BROKEN", "BELOW", labelOf(t, code.Case, 0), "NO")
	text := allText(OfHandOver(s.job()))
	red := s.job().Red()
	require.NotEmpty(t, red)
	for _, l := range red {
		require.Equal(t, 1, strings.Count(text, "\n"+l.Text+"\n"), l.Text)
	}
}

func TestCountShowsOnlyThePersonsNumbers(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint front-cover", bag, "1", "8")
	p := s.panel()
	require.Equal(t, "count", p.Name)
	require.Equal(t, []string{"counted|1 M6|", "counted|8 M8 short|", "now|M8 long|how many?", "|M10|", "|M12|"}, rows(p, ""))
	s.scan("STILL IN")
	require.Contains(t, rows(s.panel(), ""), "in|M8 long|left in")
	require.Equal(t, "now|Scan a size, then its number|OK ends it", rows(OfCount(kiosk.Tally{Turn: -1}, ""), "")[0])
}

func TestListIsWhole(t *testing.T) {
	s := newStage(t, "HELP")
	p := s.panel()
	require.Equal(t, "list", p.Name)
	require.Equal(t, "HELP", p.Title)
	require.Len(t, rows(p, ""), len(s.term.Screen().Listed()))
	require.Greater(t, len(rows(p, "")), len(s.term.View().List), "the screen shows a page, the panel all of it")
}

func TestLogIsInThePastTenseAndNewestFirst(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint coils", bag, "4", "joint oil-pan", "hole 1", "OUT")
	log := Log(s.job(), 10)
	require.Equal(t, "Oil pan 1 out, loose on the bench", log[0].Text)
	require.Equal(t, "Marit", log[0].Who)
	require.Equal(t, "07:00", log[0].Time)
	require.Contains(t, log[1].Text, "Coils out, into bag "+bag)
	s.scan("UNDO")
	log = Log(s.job(), 10)
	require.Equal(t, "took back: Oil pan 1 out, loose on the bench", log[0].Text)
	require.Equal(t, "taken back: Oil pan 1 out, loose on the bench", log[1].Text)
	require.Len(t, Log(s.job(), 1), 1)
}

func TestMarksAndShapesHaveWordsOfTheirOwn(t *testing.T) {
	seen := map[string]bool{}
	for m := Done; m < markEnd; m++ {
		require.NotEmpty(t, m.String())
		require.False(t, seen[m.String()], m.String())
		seen[m.String()] = true
	}
	require.Empty(t, markEnd.String())
	for s := Shape(0); s < Shapes; s++ {
		require.NotEmpty(t, s.String())
	}
	require.Empty(t, NoShape.String())
	require.Equal(t, Shape(Shapes-1), shapeOf(99), "sizes past the last shape share it")
}

func TestGroupsHaveAnEnd(t *testing.T) {
	var g Group
	for range MaxRows + 5 {
		g.add(Look, "x", "")
	}
	var p Panel
	p.with(g)
	require.Len(t, p.Groups[0].Rows, MaxRows+1)
	require.Equal(t, "5 more", p.Groups[0].Rows[MaxRows].Text)
}
