// Package share gives hardware to the steps that need it.
//
// Each need accepts some classes of piece, the best first; each supply is so
// many pieces of a class in one place. Needs are served in the order of their
// steps: the first gets as many as it can, then the second as many as it can
// without the first getting fewer, and so on. Pieces may change hands for that,
// since an earlier need may do as well with others: a need that cannot be
// served from what is free looks for a chain of needs that each take something
// else, at whose end something is free. Such chains are exact: what the first
// needs get together is the most that any sharing could give them (augmenting
// paths, Ford and Fulkerson; in step order, the greedy rule of a transversal
// matroid, Edmonds and Fulkerson, 1965).
//
// Among sharings that serve the needs equally well, the cheapest is taken: a
// piece from a need's own bag before any other, then a better class before a
// worse one, over all needs together. The shortest chain by that price keeps
// the sharing cheapest (successive shortest paths).
//
// A need that is not ready keeps its share, unless a person released it: then
// it is served after all the others. Needs of one set must have their pieces
// from one lot; the lots are tried one by one.
//
// The package knows numbers, places and lots. What may stand in for what,
// which pieces are condemned, and when a step may start is not known here.
package share
