// Package labels knows what stands on the labels of a shop: bags, parts,
// positions, loans, joints, rack strips. A plain value goes in, a page or a
// document that was read back comes out. It knows no engine, no plan, no job
// and no printer: the caller fills the values with words.
//
// # Every label
//
// A label has a black head (what it is, the job, which of how many; REPRINT
// and TRAINING stand there too), the text, and its code twice at the bottom:
// as Code 128 with the eight characters below it, and as Data Matrix. The
// symbols are drawn in whole dots, see package symbol; the text is made to fit,
// see package page. What is the most important stands first, is the largest,
// and goes last: if a label is too low, text shrinks to seven tenths, then bars
// shrink to the least height that the standard allows, then text to the
// smallest capitals, then lines go from the bottom up, and the last line says
// how many went.
//
// A label that cannot hold its symbols is refused with a *TooSmall that says
// what would fit.
package labels
