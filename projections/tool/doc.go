// Package tool is the shop's register of its tools: which there are, what a
// torque tool covers and until when it is calibrated, and who has which for
// which job. It is folded from the facts of all jobs, in any order.
//
// It knows no engine, no plan and no step; whoever asks says what a tool is
// wanted for. It reads no clock: the day comes with the question.
//
// A tool that nobody issued and somebody took is known by its id and no more.
// A correction takes the place of the fact that it names, a correction of a
// correction too, as in the fold of a job.
package tool
