package panel

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels/code"
)

// scales are the scales of a group by their names.
func scales(p Panel, head string) map[string]*Scale {
	list := map[string]*Scale{}
	for _, g := range p.Groups {
		for i := range g.Rows {
			if g.Head == head && g.Rows[i].Scale != nil {
				list[g.Rows[i].Scale.Name] = g.Rows[i].Scale
			}
		}
	}
	return list
}

// table is the cells of a group, each row as one list.
func table(p Panel, head string) [][]string {
	var list [][]string
	for _, g := range p.Groups {
		if g.Head != head {
			continue
		}
		if len(g.Heads) > 0 {
			list = append(list, g.Heads)
		}
		for _, r := range g.Rows {
			if len(r.Cells) > 0 {
				list = append(list, r.Cells)
			}
		}
	}
	return list
}

func TestMeasureDrawsLimitsBandAndReadings(t *testing.T) {
	s := newStage(t, "measurement bore", "position 1", "86.012", "86.010", "86.051", "86.011", "measurement bore")
	one := scales(s.panel(), "To look at")["1"]
	require.NotNil(t, one)
	require.Equal(t, End{true, 86, "86"}, one.Min)
	require.Equal(t, End{true, 86.05, "86.05"}, one.Max)
	require.False(t, one.New[0].Known, "the same as the one that decides")
	require.Equal(t, End{true, 86.02, "86.02"}, one.New[1])
	require.InDelta(t, 0.005, one.Band, 1e-9)
	require.InDelta(t, 86.051, one.At, 1e-9)
	require.Len(t, one.Beside, 3, "the other points")
	require.Less(t, one.Low, 86.0)
	require.Greater(t, one.High, 86.051)
}

// A reading in inches lies on the line of limits in millimetres.
func TestScaleIsInTheUnitOfItsLimits(t *testing.T) {
	s := newStage(t, "measurement main-journal", "position 2", "2.047 in", "measurement main-journal")
	sc := scales(s.panel(), "Within limits")["2"]
	require.InDelta(t, 51.9938, sc.At, 1e-3)
	require.Equal(t, "2.047 in", sc.Value)
}

func TestSiblingsShareOneStretchAndOneStandsOut(t *testing.T) {
	s := newStage(t)
	for _, r := range [][2]string{{"1Ia", "5.478"}, {"1Ib", "5.477"}, {"2Ia", "5.478"}, {"2Ib", "5.479"}, {"3Ia", "5.478"}, {"3Ib", "5.462"}} {
		s.scan("measurement valve-stem", "position "+r[0], r[1])
	}
	s.scan("measurement valve-stem")
	p := s.panel()
	require.Len(t, rows(p, "To look at"), 1)
	require.Contains(t, rows(p, "To look at")[0], "stands out")
	odd, usual := scales(p, "To look at")["3Ib"], scales(p, "Within limits")["1Ia"]
	require.Equal(t, odd.Low, usual.Low)
	require.Equal(t, odd.High, usual.High)
}

// Every line has a length, and what was read near the limits is on it.
func TestSpanHoldsLimitsAndReadings(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var list []*Scale
		for range rapid.IntRange(1, 5).Draw(r, "scales") {
			v := func(name string) float64 { return float64(rapid.IntRange(-100000, 100000).Draw(r, name)) / 1000 }
			low := v("low")
			s := &Scale{At: v("at"), Known: true, Band: float64(rapid.IntRange(0, 20).Draw(r, "band")) / 1000}
			if rapid.Bool().Draw(r, "min") {
				s.Min = End{Known: true, At: low}
			}
			if rapid.Bool().Draw(r, "max") {
				s.Max = End{Known: true, At: low + float64(rapid.IntRange(0, 5000).Draw(r, "wide"))/1000}
			}
			list = append(list, s)
		}
		span(list...)
		for _, s := range list {
			require.Less(t, s.Low, s.High)
			require.Equal(t, list[0].Low, s.Low)
			for _, e := range []End{s.Min, s.Max} {
				if e.Known {
					require.LessOrEqual(t, s.Low, e.At)
					require.GreaterOrEqual(t, s.High, e.At)
				}
			}
		}
	})
}

func TestFindingsByWhatTheyWaitFor(t *testing.T) {
	s := newStage(t, "part oil-pan", "OFF", "part head", "FINDING", "text crack", "finding 1", "180", "ASK THE OWNER", "text weld it",
		"joint oil-pan", "hole 3", "FINDING", "text thread pulled", "finding 2", "size M8x1.25 insert", "1", "REPAIR", "AGREED",
		"part chain", "FINDING", "text stretched", "finding 3", "USE", "OK", "part cam-intake", "FINDING", "text scored")
	require.Equal(t, "findings", s.panel().Name, "a finding that was raised is shown")
	s.scan("FINDINGS")
	p := s.panel()
	require.Equal(t, "3 findings open, 1 done with", p.Stand)
	require.Len(t, rows(p, "Not decided"), 1)
	require.Contains(t, rows(p, "The owner is asked")[0], "waits|")
	require.Contains(t, rows(p, "To be done")[0], "begun|")
	require.Contains(t, rows(p, "Done with")[0], "done|")
	s.scan("CANCEL", "finding 2")
	one := allText(s.panel())
	require.Contains(t, one, "To buy: 1 M8 insert")
	require.Contains(t, one, "Holds Pan on")
	s.scan("CANCEL", "finding 1")
	require.Contains(t, allText(s.panel()), "weld it")
	s.scan("CANCEL", "WHAT NOW")
	work := rows(s.panel(), "Decided")
	require.Len(t, work, 1, "what is open, or used as it is, adds nothing")
	require.Contains(t, work[0], "LOOK|Oil pan hole 3 is to be repaired")
	require.Contains(t, work[0], ", DONE; 1 step waits for it")
	s.scan("finding 2", "DONE", "OK", "WHAT NOW")
	require.Empty(t, rows(s.panel(), "Decided"))
	require.Equal(t, "nothing was found", OfFindings(newStage(t).job(), "").Stand)
}

func TestRunBeforeAndAfterAStart(t *testing.T) {
	s := newStage(t, "part oil-pan", "OFF", "START?")
	p := s.panel()
	require.Equal(t, "run", p.Name)
	require.Contains(t, rows(p, "Before a start"), "waits|Pre-oiled: not done|do it; then scan mark pre-oiled, DONE")
	s = newStage(t, "mark pre-oiled", "DONE", "STARTED", "reading oil-pressure", "2.1", "1000", "4", "reading oil-pressure", "2.2", "3500", "OK")
	p = s.panel()
	require.Equal(t, "run", p.Name)
	require.Contains(t, p.Stand, "it runs; 1 start")
	at := scales(p, "Read since the start")
	require.InDelta(t, 1.25, at["oil pressure, 1000 rpm"].Min.At, 1e-9, "a straight line from 1.0 at 800 to 2.5 at 2000")
	require.InDelta(t, 3.25, at["oil pressure, 3500 rpm"].Min.At, 1e-9)
	s.scan("STOPPED", "YES", "COLD", "DISTANCE", "12", "DISTANCE", "815", "OUTPUT", "4900", "400 hp", "429 lbf.ft")
	p = s.panel()
	due := scales(p, "Falls due")
	require.Equal(t, 803.0, due["first-service"].At)
	require.Equal(t, 800.0, due["first-service"].Max.At)
	require.Contains(t, rows(p, "Falls due")[2], "LOOK|")
	require.Equal(t, [][]string{{"rpm", "power", "torque"}, {"4900", "400 hp", "429 lbf.ft"}}, table(p, "Power and torque"))
	require.Len(t, table(p, "Starts"), 2)
}

func TestToolsWhoHasWhatAndWhatWaits(t *testing.T) {
	s := newStage(t, "TOOLS?")
	require.Equal(t, "none is on the shop's register", s.panel().Stand)
	s.scan("part buckets", "CATCH UP", "CANCEL", "part head", "CATCH UP", "CANCEL", "tool wrench-40-200", "ISSUED", "text Large wrench", "text wrench", "40", "200", "2026-05-01",
		"tool wrench-5-25", "ISSUED", "OK", "OK", "5", "25", "2025-04-01", "OK", "tool lamp", "ISSUED", "text Lamp", "OK", "OK", "OK",
		"step coils-on", "AMEND", "text {tools: [wrench-5-25]}", "text as we do it", "step head-on", "AMEND", "text {tools: [wrench-40-200]}", "text as we do it",
		"tool wrench-40-200", "step head-on", "TAKEN", "tool lamp", "TAKEN", "tool lamp", "cavity timing-case", "IN", "TOOLS?")
	p := s.panel()
	require.Equal(t, "tools", p.Name)
	require.Equal(t, "2 tools taken for this job, 1 step waiting for one", p.Stand)
	here := table(p, "Taken for this job")
	require.Equal(t, []string{"Large wrench", "with Marit", "Head on", "until 1 May 2026"}, here[1])
	require.Equal(t, []string{"Lamp", "INSIDE, timing-case", "", ""}, here[2])
	require.Equal(t, []string{"waits|Coils on: wrench-5-25|OVERDUE since 1 April"}, rows(p, "Wait for a tool"))
	s.scan("tool wrench-40-200", "WHERE IS")
	p = s.panel()
	require.Equal(t, "tool", p.Name)
	require.Equal(t, "with Marit for job 4K7", p.Stand)
	want := rows(p, "Wanted for")
	require.Contains(t, want, "done|Head on: 40 N.m|")
	require.Contains(t, want, "LOOK|Head on: 20 N.m|Large wrench covers 40 to 200 N.m, not 20 N.m")
	require.Len(t, rows(p, "For this job"), 1)
	s.scan("tool his-own")
	require.Contains(t, s.panel().Stand, "not on the shop's register")
}

func TestTraysByCustodyAndWithoutNumbers(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "tray 7", "HOLDS", "10", "joint coils", "tray 7", "4", "joint flywheel", bag, "8", bag, "tray 7", "tray 7", "bench b2", "tray 7", "TAKEN")
	p := s.panel()
	require.Equal(t, "tray", p.Name)
	require.Equal(t, "tray 7 is with Marit since 12 May", p.Stand)
	require.Contains(t, rows(p, "In it"), "count it|M6|")
	require.Len(t, rows(p, "Where it was"), 2)
	s.scan("TRAYS?")
	p = s.panel()
	require.Equal(t, "1 tray of this job", p.Stand)
	in := "Tray 7 is with Marit since 12 May"
	require.Equal(t, 4.0, scales(p, in)["full"].At)
	require.Contains(t, rows(p, in)[2], "closed|"+bag+" Flywheel")
	s.scan("joint throttle", "tray 7")
	require.Equal(t, "joint", s.panel().Name, "what comes out of a joint is counted blind into a tray too")
}

func TestSortSaysWhereEachPieceGoes(t *testing.T) {
	bagA, bagB := labelOf(t, code.Bag, 0), labelOf(t, code.Bag, 1)
	s := newStage(t, "joint mount-bracket", "ALL OUT", "joint front-cover", bagA, "1", "8", "4", "5", "joint water-pump", bagB, "ALL OUT",
		bagA, "place dish", "MOVE", bagB, "place dish", "MOVE", "place dish", "COUNT", "size M14x1.5x90 10.9 hex", "1", "5", "1", "9", "4", "2", "DO NOT KNOW", "DO NOT KNOW", "place dish", "WHOSE?")
	p := s.panel()
	require.Equal(t, "sort", p.Name)
	require.Equal(t, "21 pieces into 2 places, 1 stay", p.Stand)
	sum := 0
	all := table(p, "")
	require.Equal(t, []string{"in it", "A", "B", "stays", "all"}, all[0])
	require.Contains(t, all, []string{"M8x1.25x30", "8", "1", ".", "9"})
	require.Contains(t, all, []string{"M14", ".", ".", "1", "1"})
	for _, row := range all[1:] {
		sum += map[string]int{"1": 1, "2": 2, "4": 4, "5": 5, "9": 9}[row[len(row)-1]]
	}
	require.Equal(t, 22, sum, "every piece that lies there is in one row")
	require.Contains(t, rows(p, "Goes into")[0], "A  bag "+bagA+" (Front cover to block)")
	require.Contains(t, rows(p, "Still missing")[0], "1 M8 of Water pump|or of Front cover")
	require.Equal(t, "empty by the book", OfSort(s.job(), "place/tin", "b1").Stand)
	s.scan("size M8x1.25x30", "WHOSE?")
	require.Equal(t, "list", s.panel().Name, "of one bolt in the hand it is a list")
}

func TestBatchesHideWhatIsOnUntilItIsCountedOff(t *testing.T) {
	s := newStage(t, "joint mount-bracket", "ALL OUT", "joint front-cover", "ALL OUT", "batch wash-1", "part front-cover", "OPEN", "WASH", "6")
	p := s.panel()
	require.Equal(t, "batches", p.Name)
	require.NotContains(t, allText(p), "6")
	s.scan("batch wash-1", "CLOSE", "5", "DO NOT KNOW", "batch paint-1", "part front-cover", "size M8x1.25 plug", "12", "OPEN", "PAINT", "batch paint-1", "CLOSE", "12", "24", "BATCHES?")
	p = s.panel()
	require.Equal(t, "2 of this job, 0 open", p.Stand)
	var wash, paint []Row
	for _, g := range p.Groups {
		if g.Rows[0].Scale != nil && g.Rows[0].Scale.Name == "cured" {
			paint = g.Rows
		} else {
			wash = g.Rows
		}
	}
	require.Equal(t, Waits, paint[0].Mark)
	require.Equal(t, 24.0, paint[0].Scale.Max.At)
	require.Equal(t, Look, wash[1].Mark, "one plug did not come off")
	require.Equal(t, 5.0, wash[1].Scale.At)
	s.now += 25 * 3_600_000_000
	s.job().Clock(s.now)
	require.Equal(t, Done, OfBatches(s.job(), "").Groups[0].Rows[0].Mark, "it has cured")
}
