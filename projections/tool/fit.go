package tool

import (
	"math"
	"strconv"
	"strings"

	"countback/events"
)

// overdue says that the calibration was due before a day; empty: it was not,
// or the tool needs none. On the day itself it still may be used.
func (t *Tool) overdue(day events.Day) string {
	if t.Due.Valid() && day.Valid() && t.Due < day {
		return "its calibration was due on " + t.Due.Words()
	}
	return ""
}

// DueIn is how many days are left until the calibration is due, below zero
// when it is overdue; false for a tool that needs none.
func (t *Tool) DueIn(day events.Day) (int, bool) {
	if !t.Due.Valid() || !day.Valid() {
		return 0, false
	}
	return day.Until(t.Due), true
}

// Torque says whether the tool measures torque.
func (t *Tool) Torque() bool { return t.MaxNm > 0 }

// Fits says why a tool must not be used for a torque in newton metres on a
// day, the worst first: out of its range, or out of date. Nothing: it may. A
// torque of 0 asks about the day only. A wrench of 40 to 200 N.m reads nothing
// at 10 N.m; both ends of the range belong to it.
func (t *Tool) Fits(nm float64, day events.Day) []string {
	var why []string
	switch {
	case nm <= 0:
	case !t.Torque():
		if t.Issued && t.Kind != "" {
			why = append(why, t.Words()+" measures no torque")
		}
	case nm < t.MinNm-hair || nm > t.MaxNm+hair:
		why = append(why, t.Words()+" covers "+t.Range()+", not "+t.scale(nm))
	}
	if text := t.overdue(day); text != "" {
		why = append(why, t.Words()+": "+text)
	}
	return why
}

// Range is what a torque tool covers: "40 to 200 N.m", "10 to
// 100 lbf.ft", in the unit of its scale; empty for others.
func (t *Tool) Range() string {
	if !t.Torque() {
		return ""
	}
	return strings.TrimSuffix(t.scale(t.MinNm), " "+t.unit()) + " to " + t.scale(t.MaxNm)
}

// hair is how near a torque in N.m counts as the end of a range: what was read in
// pounds is compared to a hundredth of a newton metre.
const hair = 0.01

// inNm are the units of scales in newton metres (NIST SP 811 appendix B).
var inNm = map[string]float64{"lbf.ft": 1.3558179483314004, "lbf.in": 1.3558179483314004 / 12}

// unit is the unit of the tool's scale; one that is not known is N.m.
func (t *Tool) unit() string {
	if inNm[t.Unit] > 0 {
		return t.Unit
	}
	return "N.m"
}

// scale is a torque in N.m as the tool's scale has it, to a tenth of a pound-foot.
func (t *Tool) scale(nm float64) string {
	if size := inNm[t.Unit]; size > 0 {
		return strconv.FormatFloat(math.Round(nm/size*10)/10, 'f', -1, 64) + " " + t.Unit
	}
	return number(nm) + " N.m"
}

// Words is the tool for people: its name, or its id.
func (t *Tool) Words() string {
	if t.Name != "" {
		return t.Name
	}
	return string(t.Tool)
}

// number is a torque with as many decimals as it has, at most three: 30 lbf.ft are
// 40.675 N.m.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}
