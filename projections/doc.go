// Package projections runs the folds of a whole shop: it takes the records of
// the journal in their order, gives each to its job, and answers what no single
// job can answer.
//
// It knows which jobs there are, up to which place in the journal they are
// folded ([Cursor]), whether a terminal's own counter has gaps ([Runner.Gaps]),
// which job a label belongs to ([Runner.Owner]), the badges and label ranges of
// the shop, hardware that one job lent another ([Runner.Lendings]), and what was
// lost on all jobs ([Runner.Losses]).
//
// It refuses to know the journal itself, screens, and persons: no view over
// several jobs holds a name. Whoever counts well finds more, so a number of
// losses by name would punish the careful; what is shown is where in the process
// and at which place pieces were missed, always against how many were handled.
//
// Everything is worked out from the facts and can be thrown away and worked out
// again; the same records give the same answers, in whatever order the jobs'
// late facts arrived. It reads no clock, starts no goroutine and does no I/O.
package projections
