// Package torque knows how hard a threaded fastener may be turned: torques as
// people write them, what a torque does to a fastener, guidance where a plan
// has no value, and what public tables say.
//
// It is pure: values in, values and sentences out. It knows no engine, no
// plan and no job, and nothing that it computes replaces what the maker of an
// engine says: every [Guidance] carries that sentence with it.
//
// Friction is never assumed. A torque says nothing about a clamp load without
// it, and public sources disagree by a factor of two (oil is 0.90 or 0.70 of
// dry), so each computation takes a [NutFactor] or a [Friction] from its
// caller, each with the source that it was taken from, and repeats it in its
// answer.
//
// A [Value] is a torque as written: a whole number of its last decimal, and a
// unit. Units are converted with the exact factors, rounded once, half away
// from zero.
package torque
