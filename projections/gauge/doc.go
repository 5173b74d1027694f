// Package gauge knows what readings say: in their units with their digits,
// against limits, against each other, and whether one can be true at all.
//
// It is pure: plain values in, values and words out. It knows no plan, no part
// and no event, takes no decision about a part, and holds nothing against a
// person: it says how a reading stands and what to do next.
//
// # Readings
//
// A [Reading] is what was read off: a whole number of its last decimal, and a
// unit. 51.98 mm and 51.980 mm are two readings of one size. Sizes are whole
// numbers of a tenth of a nanometre, or of a millionth of a degree, so that
// every reading in millimetres with up to seven decimals and in inches with up
// to six is exact: an inch is 25.4 mm exactly. Nothing drifts, and a
// conversion that keeps the digits comes back to the same reading.
//
// # Judging
//
// A size is held against the limits for new parts and the service limits. A
// gauge is never exact: nearer to the limit that decides than its guard band,
// in either direction, one reading proves neither that the part is good nor
// that it is not (the decision rule of ISO 14253-1), and a second one is
// wanted. Two readings that the band cannot explain want a third; then the
// middle one counts.
//
// A reading that can hardly be true is questioned before it is judged: two
// inches typed as millimetres, a point in the wrong place, something that the
// gauge cannot show. A question is never a refusal.
package gauge
