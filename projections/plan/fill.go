package plan

import (
	"fmt"
	"strconv"
	"strings"
)

// litresIn are the units of an amount in litres: US liquid gallons of 231 cubic
// inches, quarts of a quarter of that.
var litresIn = map[string]float64{"l": 1, "ml": 0.001, "cl": 0.01, "dl": 0.1, "qt": 0.946352946, "gal": 3.785411784, "pt": 0.473176473}

const (
	fillTimes  = 2   // of the plan's amount: without a question
	fillLitres = 100 // where the plan has none
)

// Litres is how much the plan says goes in, in litres; false where it says
// nothing that can be read.
func (c *Cavity) Litres() (float64, bool) {
	number, unit, _ := strings.Cut(c.Amount, " ")
	v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	one, known := litresIn[strings.ToLower(strings.TrimSpace(unit))]
	return v * one, err == nil && known && v > 0
}

// BeyondFill says why litres that were filled in are hard to believe; empty:
// they are not. Less than the plan's is a top-up.
func (c *Cavity) BeyondFill(litres float64) string {
	planned, ok := c.Litres()
	switch {
	case ok && litres > planned*fillTimes:
		return fmt.Sprintf("%g litres is far more than the %s of the plan", litres, c.Amount)
	case !ok && litres > fillLitres:
		return fmt.Sprintf("%g litres is more than an engine holds", litres)
	}
	return ""
}
