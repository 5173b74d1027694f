// Package stretch knows what the length and the diameter of a fastener say: how
// far it was pulled when it was tightened, and whether it may be used again.
//
// It is pure, holds readings against limits that its caller has from a plan or
// a manual, and gives verdicts with words. It knows no limits of its own, no
// torque that a list asks for, and no stock: what follows from a verdict for
// the hardware is for others.
//
// A length that was read twice, before and after, is uncertain twice over: the
// guard band of a stretch is twice that of the gauge.
package stretch
