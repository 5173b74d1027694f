package engine

import (
	"math"
	"strconv"
	"strings"
	"time"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// matrix is the matrix of a list with all that was told so far.
func (s *State) matrix(li int32) *stage.Matrix {
	ls := &s.tight.lists[li]
	if ls.m == nil {
		s.newMatrix(li)
	}
	for ; ls.upto < len(s.tight.log); ls.upto++ {
		t := &s.tight.log[ls.upto]
		if int32(t.list) != li {
			continue
		}
		if t.what == turnStage && s.ofWhole(t.fact) {
			s.replayRound(ls, li)
			continue
		}
		for _, ix := range s.seatsOf(s.lay, t) {
			if spot := s.listOf(li).Spot(ix); spot >= 0 {
				s.replay(ls.m, li, spot, t)
			}
		}
	}
	return ls.m
}

// ofWhole reports whether a stage was told of all holes of a joint and none was
// named.
func (s *State) ofWhole(f ledger.Fact) bool {
	ev, _ := s.job.standing(f)
	e, ok := ev.(events.StageRecorded)
	return ok && len(e.Holes) == 0
}

// replayRound takes a stage of a whole joint into a matrix, in the order of
// turning: who tells of a round says that it was gone in its order (rule R49).
func (s *State) replayRound(ls *listState, li int32) {
	log, l, fact := s.tight.log, s.listOf(li), s.tight.log[ls.upto].fact
	at := make([]*turn, len(l.Seats)) // by position
	for ; ls.upto < len(log) && log[ls.upto].fact == fact; ls.upto++ {
		t := &log[ls.upto]
		if spot := l.Spot(t.seat); spot >= 0 && int32(t.list) == li {
			at[spot] = t
		}
	}
	ls.upto--
	for spot, t := range at {
		if t != nil {
			s.replay(ls.m, li, spot, t)
		}
	}
}

// seatsOf are the holes that a line of the log is about, by the layout in force
// when it was written.
func (s *State) seatsOf(l *layout, t *turn) []plan.SeatIndex {
	if t.span != 0 {
		return s.job.spanAt(l, t.span)
	}
	return []plan.SeatIndex{t.seat}
}

// newMatrix begins a matrix: a hole of the plan is done as the engine came.
func (s *State) newMatrix(li int32) {
	ls, l, ed := &s.tight.lists[li], s.listOf(li), s.edition(li)
	list := ed.List
	list.Pause, _ = s.pauseOf(ed)
	m, err := stage.New(list)
	if err != nil {
		panic("unreachable: a list that was checked: " + err.Error())
	}
	ls.m, ls.upto = m, 0
	if n := int(li) - len(s.lay.lists); n >= 0 {
		ls.upto = s.tight.own[n].from
		return
	}
	for _, name := range l.Names {
		m.Presume(name, everyStage(ed), "", time.Time{}, "as the engine came")
	}
}

// pauseOf is the longest pause inside an angle stage: the plan's, or the shop's
// where that gives none (planned is false).
func (s *State) pauseOf(ed *tightening.Edition) (longest time.Duration, planned bool) {
	if ed.List.Pause > 0 {
		return ed.List.Pause, true
	}
	return s.job.Limits().AnglePause, false
}

func everyStage(ed *tightening.Edition) []int {
	all := make([]int, len(ed.List.Stages))
	for i := range all {
		all[i] = i + 1
	}
	return all
}

// replay takes one line of the log into a matrix.
func (s *State) replay(m *stage.Matrix, li int32, spot int, t *turn) {
	l, ed := s.listOf(li), s.edition(li)
	name := l.Names[spot]
	r := s.Fact(t.fact)
	who, at := string(r.Operator), time.UnixMicro(r.At).UTC()
	switch t.what {
	case turnIn:
		m.In(name, who, at)
	case turnOut:
		m.Out(name, who, at)
	case turnLoose:
		m.Loosened(name, who, at)
	case turnCame:
		m.In(name, who, at)
		m.Presume(name, everyStage(ed), "", at, "as it was found")
	case turnAbsent:
		m.In(name, who, at)
		m.Presume(name, everyStage(ed), "", at, "this engine has no such hole")
	case turnWhole:
		var told []int
		for k := 1; k <= int(t.stage); k++ {
			if n := ed.Stage(spot, k); n > 0 {
				told = append(told, n)
			}
		}
		m.Presume(name, told, who, at, "told as a whole")
	case turnAgain:
		m.Restart(name, ed.Stage(spot, int(t.stage)), who, at)
	case turnAccept:
		m.Accept(name, ed.Stage(spot, int(t.stage)), who, at)
	case turnStage:
		s.replayStage(m, li, spot, t)
	}
}

// replayStage takes a stage into a matrix, with what was read and what is known
// against it.
func (s *State) replayStage(m *stage.Matrix, li int32, spot int, t *turn) {
	l, ed := s.listOf(li), s.edition(li)
	r := s.Fact(t.fact)
	ev, _ := s.job.standing(t.fact)
	e, _ := ev.(events.StageRecorded)
	at := time.UnixMicro(r.At).UTC()
	n := ed.Stage(spot, int(t.stage))
	a := stage.Act{Position: l.Names[spot], Stage: n, Who: string(r.Operator), Tool: e.Tool, At: at}
	if n > 0 {
		st := &ed.List.Stages[n-1]
		for _, mark := range st.Needs {
			if m.Stands(mark) != t.met {
				m.Mark(mark, t.met, a.Who, at)
			}
		}
		if st.Due != "" && !m.Fallen(st.Due) {
			m.FallDue(st.Due, a.Who, at)
		}
		if a.Doubt = s.doubts(li, &e); a.Doubt == "" && t.bare {
			a.Doubt = st.String() + " was told of the nut before the stud was set: set the stud and do it again, or accept it"
		}
		if why := readInto(&a, st, e.Value, e.Unit, e.Read); why != "" {
			a.Doubt = why
		}
	}
	m.Record(a)
}

// rounded is a value that was read in another unit: as the least or the most of
// the stage where that, written with as many decimals, is the same reading:
// 29.5 lbf.ft for 40 N.m.
func rounded(v, read float64, st *stage.Stage) float64 {
	if v == read || read == 0 || !st.Known {
		return v
	}
	_, decimals, _ := strings.Cut(strconv.FormatFloat(read, 'f', -1, 64), ".")
	half := v / read / math.Pow10(len(decimals)) / 2
	for _, limit := range [...]float64{st.Min, st.Max} {
		if math.Abs(v-limit) <= half {
			return limit
		}
	}
	return v
}

// doubts is what is known against a stage besides its place in the order: that
// it was told by an edition which does not count (rule R52).
func (s *State) doubts(li int32, e *events.StageRecorded) string {
	l, ed := s.listOf(li), s.edition(li)
	if len(l.Editions) < 2 {
		return ""
	}
	by := e.Edition
	if by == "" {
		by = l.Edition(0).Label()
	}
	if by == ed.Label() {
		return ""
	}
	return "told by edition " + by + ", and " + ed.Label() + " counts: do it again by that, or accept it"
}

// numberWords is a number with up to four decimals.
func numberWords(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}
