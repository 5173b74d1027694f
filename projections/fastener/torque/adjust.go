package torque

import (
	"fmt"
	"slices"
)

// Adjustment is by how much a printed torque is multiplied where the threads
// are in another state than the one that it was printed for.
type Adjustment struct {
	From, To Lubricant
	Factor   float64
	Source   string
}

const (
	armyDry   = "TM 9-4310-394-13 table G-1 and TM 10-4320-346-12&P table H-1"
	armyAir   = "TM 55-1520-240-23-1 p. 1-14"
	armyPlate = "TM 9-2320-362-14&P appendix F and TM 9-6115-604-34 p. 1-11"
	armyOiled = "TM 5-3810-294-34 table 1-2"
)

var adjustments = []Adjustment{
	{Dry, Oil, 0.90, armyDry}, {Dry, Lubricated, 0.70, armyAir}, {Dry, NewPlated, 0.80, armyPlate},
	{Oil, NewPlated, 0.85, armyOiled}, {Oil, Parkerized, 0.75, armyOiled}, {Oil, Molybdenum, 0.70, armyOiled},
	{Oil, HardUnderHead, 0.90, armyOiled}, {Oil, ThreadLock, 1.20, armyOiled}, {Oil, TaperHead, 1.25, armyOiled},
	{Oil, TaperLock, 1.40, armyOiled},
}

// Adjustments are the multipliers that public manuals give, in a fixed order.
// For one and the same oil they run from 0.90 to 0.70.
func Adjustments() []Adjustment { return slices.Clone(adjustments) }

// AdjustmentsFor are the multipliers from one state to another, none where no
// source is known.
func AdjustmentsFor(from, to Lubricant) []Adjustment {
	var list []Adjustment
	for _, a := range adjustments {
		if a.From == from && a.To == to {
			list = append(list, a)
		}
	}
	return list
}

// Apply is the torque for the other state, in the same unit and with one
// decimal more, up to six.
func (a Adjustment) Apply(v Value) Value {
	w := v.In(v.unit, int(v.decimals)+1)
	w.digits = int64(float64(w.digits)*a.Factor + 0.5)
	return w
}

// String is the multiplier with its source.
func (a Adjustment) String() string {
	return fmt.Sprintf("%s instead of %s: x %.2f (%s)", a.To, a.From, a.Factor, a.Source)
}

// InAluminium is what the same manuals say of threads in aluminium: the least
// reduction, for which they give no upper end.
const InAluminium = "threaded into aluminium without inserts the torque may have to be 30 % less or more (" + armyPlate + ")"

// WithDrag is a torque range for a self-locking nut: the torque that turns the
// nut on its thread before it seats is added to both ends (FAA AC 43.13-1B par.
// 7-40).
func WithDrag(low, high, drag Value) (Value, Value, error) {
	if low.Nm() > high.Nm() {
		return Value{}, Value{}, &Refusal{fmt.Sprintf("torque %s to %s runs backwards", low, high), "write the least first"}
	}
	return plus(low, drag), plus(high, drag), nil
}

// Castle is where a castle nut is turned for its cotter pin: from the least
// torque and the drag up to the greatest torque, which is never passed (FAA AC
// 43.13-1B par. 7-40). It is refused where nothing is left between the two.
func Castle(low, high, drag Value) (from, to Value, err error) {
	from = plus(low, drag)
	if from.Nm() > high.Nm() {
		return Value{}, Value{}, &Refusal{fmt.Sprintf("with %s of drag it starts at %s, and %s is not to be passed", drag, from, high), "take another nut, or another washer under it"}
	}
	return from, high, nil
}

// plus is a sum in the unit of the first, with the decimals of the finer one.
func plus(v, w Value) Value {
	w = w.Convert(v.unit)
	n := max(v.decimals, w.decimals)
	a, b := v.In(v.unit, int(n)), w.In(v.unit, int(n))
	a.digits += b.digits
	return a
}
