// Package stage runs the stages in which the fasteners of a joint are turned:
// a matrix of positions by stages, each cell with who, when, tool and value.
//
// A [List] says what is to be done: positions in the order in which they are
// turned, and stages of snug, torque, angle, loosen, stretch, press depth,
// height and again. A [Matrix] is what has been done of it. It takes facts as they come
// and never refuses one: what is out of order, beyond its limits, or broken off
// is stored in its cell as doubtful, over or part, with the reason and what
// clears it, until a person redoes or accepts it. Whoever asks first is
// answered by [Matrix.May].
//
// The rules:
//
//  1. A stage comes after each earlier stage that it shares a position with,
//     done at every position of the same set; and after the stages that it
//     names in After, done everywhere.
//
//  2. A stage that needs marks is good only while they stand.
//
//  3. A stage that falls due later is not owed, and not good, before that.
//
//  4. A value below its least leaves the cell part done, one above its most
//     makes it over. Angles add up.
//
//  5. An angle stage that was begun is finished by the same hands, and without
//     a pause that is longer than the list allows; otherwise every position
//     turned in it is doubtful until the stage is restarted or accepted.
//
//  6. What is loosened or comes out loses all its cells, and so do the
//     positions that may not be loosened without it. A loosening that the list
//     has at that place is a stage, and takes nothing.
//
//  7. An angle that is told a second time is doubtful: it may have been turned
//     twice. Any other stage may be told again.
//
//  8. Nobody waits for a position that nothing is in: what is not in cannot be
//     tightened, and is owed all its stages once it is.
//
//  9. A reading nearer to a limit than its band wants a second one, and two that
//     do not agree a third.
//
// No cell is ever lost: every position of every stage has one, and every fact
// stays in the history, also where its cell was emptied.
//
// The package is pure. It knows names of positions and marks as its caller has
// them, and neither plans nor events nor clocks: times come with the facts.
package stage
