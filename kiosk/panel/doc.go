// Package panel says what each screen of a bench terminal shows below its
// first lines, as plain values: the bench, a joint as its hole pattern, a rack,
// a bag, the steps, what is missing, a broken fastener, an audit, where a thing
// is, the hand-over, a count that is going on, and the last facts.
//
// Every function reads the state of one job and gives a Panel. It changes
// nothing, reads no clock, and knows nothing of terminals, colours and fonts:
// how a mark or a shape looks is for the package that draws. A mark has a word,
// so that no screen has to speak by colour.
//
// What a count will be compared with is not in a panel before the count is in:
// a row whose number is hidden says when it was counted and by whom, and the
// bag that was counted just now shows its numbers.
//
// Which panel is on the screen follows from what was scanned: see Topic.
// Days and hours are those of UTC, as in all sentences.
package panel
