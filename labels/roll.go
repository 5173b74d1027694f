package labels

import (
	"fmt"

	"countback/labels/code"
)

// MaxRoll is how many labels one roll may have.
const MaxRoll = 5000

// Codes lists codes of a type from a counter of a terminal's range on, and the
// counter from which the next roll goes on. Counters whose code does not exist
// are passed over.
func Codes(i code.Issuer, t code.Type, from uint32, n int) (list []code.Code, next uint32, err error) {
	if n < 1 || n > MaxRoll {
		return nil, from, fmt.Errorf("roll of %d labels: want 1 to %d", n, MaxRoll)
	}
	for next = from; len(list) < n; next++ {
		c, counter, ok := i.Next(t, next)
		if !ok {
			return nil, from, fmt.Errorf("roll of %d labels: range %s has %d %s codes left from %d on; take another range", n, i.Range(), len(list), t, from)
		}
		list, next = append(list, c), counter
	}
	return list, next, nil
}

// BagRoll is blank bag labels for codes, in their order.
func BagRoll(list []code.Code, shop string, training bool) []Label {
	roll := make([]Label, len(list))
	for i, c := range list {
		roll[i] = BlankBag{Code: c, Shop: shop, Training: training}
	}
	return roll
}

// JointRoll is blank joint tags for codes, in their order.
func JointRoll(list []code.Code, shop string, training bool) []Label {
	roll := make([]Label, len(list))
	for i, c := range list {
		roll[i] = JointTag{Code: c, Shop: shop, Training: training}
	}
	return roll
}

// TagRoll is blank tags for codes of any type that is given out, in their order:
// badges, racks, slips, places, loans and tools, engines.
func TagRoll(list []code.Code, shop string, training bool) []Label {
	roll := make([]Label, len(list))
	for i, c := range list {
		roll[i] = BlankTag{Code: c, Shop: shop, Training: training}
	}
	return roll
}
