// Package acts explains shorts and overs by what hands may have done.
//
// One act makes several entries: a bag tipped into another makes a short and an
// over of every kind in it. So the question is not which short pairs with which
// over but which few acts make all of them. An act is one of
//
//   - moved: pieces went from one place to another at one moment, any number of
//     kinds at once; the moment lies in the interval of every entry that it
//     explains;
//   - swapped: moved both ways between two places at one moment;
//   - miscounted: one count of one place was wrong, in any number of kinds. It
//     explains an entry that the next count of the place takes back, and an
//     entry of a container that no hand was at;
//   - confused: at one place pieces of one kind were taken for another that a
//     person can mistake for it.
//
// What a moved piece was taken for may differ from what it is in the same way.
//
// An answer is a set of acts with the pieces that each explains. Answers are
// compared by the pieces left unexplained (fewest), then by the number of acts
// (fewest), then by likelihood: an entry wholly explained counts one, half
// explained one half; half of that where pieces should have moved through a
// container that no hand was at; and half an entry less for each moved piece
// that was taken for another kind. Answers equal in all three are all shown.
//
// Entries that no act can join are explained apart. Within a group of up to 12
// entries the answer is exact: acts are added where a maximum flow of pieces
// through the acts chosen so far is cut, one act more at a time, so that the
// first answers found have the fewest acts, and all of them are found, up to a
// limit. A larger group is a transportation problem in which a piece costs the
// less the more pieces its act could explain (the linear form of a fixed charge
// by Balinski, 1961), then acts that others can replace are taken out; that is
// approximate, and the explanation says so.
//
// The package knows places, kinds and intervals. It knows neither events nor
// the book, and not which kinds look alike: that is asked of the caller.
package acts
