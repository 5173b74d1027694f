// Package tightening makes of the tightening lists of a plan the lists that the
// package stage runs: one for each joint, or one over several joints where the
// plan's order goes over them, with the positions in the order in which they
// are turned, and each edition by itself.
//
// Stages are numbered as people tell them: a hole's own stages from 1, a list
// that is gone through twice counted on, and behind them what falls due later.
//
// The order of turning is the plan's where it names holes. Where it does not
// and the plan says where the holes lie, it is worked out: opposite pairs for
// holes around a circle, from the middle outwards for others. That is guidance,
// and says so. Otherwise it is the plan's order of its holes.
//
// The package knows no facts, no person and no clock, and no maker's data but
// that of the plan.
package tightening
