package engine

import (
	"strconv"

	"countback/projections/fastener"
	"countback/projections/fastener/stage"
	"countback/projections/fastener/torque"
)

// LengthUnit is the unit in which lengths are said and read at the bench where
// nothing else is said: that of the plan's units, or else the shop's, or else mm.
func (j *Job) LengthUnit() string {
	u, shop := j.State().lay.plan.Units, j.Limits().Length
	if u.LengthSaid || shop == "" {
		return lengthOr(u.Length)
	}
	return shop
}

// lengthOr is a unit of length; of a job without a plan the millimetre.
func lengthOr(unit string) string {
	if unit == "" {
		return stage.Stretch.Unit()
	}
	return unit
}

// TorqueUnit is the unit in which torques are, as LengthUnit: N.m where nobody
// says another.
func (j *Job) TorqueUnit() string {
	u, shop := j.State().lay.plan.Units, j.Limits().Torque
	switch {
	case !u.TorqueSaid && shop != "":
		return shop
	case u.Torque == "":
		return stage.Torque.Unit()
	}
	return u.Torque
}

// ShopTorque is the unit of torques that belong to the shop and to no plan: the
// range of a tool.
func (j *Job) ShopTorque() string {
	if u := j.Limits().Torque; u != "" {
		return u
	}
	return stage.Torque.Unit()
}

// readIn is the unit in which a value of a stage is read: that in which the plan
// gives it, or else that of the bench.
func (s *State) readIn(st *stage.Stage) string {
	u := &s.lay.plan.Units
	switch {
	case st.Unit != "":
	case st.Kind.Unit() == stage.Torque.Unit() && !u.TorqueSaid:
		return s.job.TorqueUnit()
	case st.Kind.Unit() == stage.Stretch.Unit() && !u.LengthSaid:
		return s.job.LengthUnit()
	}
	return st.ReadIn()
}

// beside is what a stage is worth in the unit that it is read in, where that is
// another one than the plan gives it in: "29.5 lbf.ft"; empty where it is not.
func (s *State) beside(st *stage.Stage) string {
	unit := s.readIn(st)
	if !st.Known || unit == st.ReadIn() {
		return ""
	}
	text := inOther(st.Min, unit)
	if st.Max != st.Min {
		text += " to " + inOther(st.Max, unit)
	}
	return text + " " + unit
}

// inOther is N.m or mm as a number of another unit: a tenth of a pound-foot or
// pound-inch, a ten-thousandth of an inch.
func inOther(v float64, unit string) string {
	for _, u := range [...]torque.Unit{torque.PoundFoot, torque.PoundInch} {
		if unit == u.String() {
			return strconv.FormatFloat(v/u.Nm(), 'f', 1, 64)
		}
	}
	if unit == "in" {
		return strconv.FormatFloat(v/25.4, 'f', 4, 64)
	}
	return numberWords(v)
}

// inBenchUnit is a verdict in the unit of the bench: where the shop says that
// its lengths are millimetres, and the plan is not in inches, in those alone.
func (s *State) inBenchUnit(v fastener.Verdict) fastener.Verdict {
	if s.job.Limits().Length == "mm" && s.lay.plan.Units.Length != "in" {
		return v.Metric()
	}
	return v
}
