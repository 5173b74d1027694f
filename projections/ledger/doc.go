// Package ledger keeps the pieces of one job by double entry.
//
// An item is a kind of piece with its condition and, where they matter, its
// lot and the seat that it came from. An account is a place, written as a path
// whose first word is its class:
//
//	outside/arrived  outside/supplier/…  outside/drawer  outside/owner  outside/job/…
//	fitted/<host>/<joint>   parked/…   stub/…   loan/…   bench/<n>/<joint>
//	bag/…   rack/…/<position>   place/…   slip/…   stock/<lot or kit>
//	kept   scrap   lost   unexplained/<n>
//
// Everything that moves is a posting: item, quantity above zero, from, to.
// Pieces neither appear nor vanish: each kind sums to zero over all accounts
// after every posting, since a posting adds to one account what it takes from
// another. A change of condition is a posting from one item into another of the
// same kind at the same account. Only outside/… and an over may be negative.
//
// A count that differs from the book opens an [Entry]: a short (below the
// book) or an over (above it) in an account of its own, unexplained/<n>.
// Entries never net against each other and are closed by name. A hand that
// takes more than the book holds opens an over as well, so that every sequence
// of facts gives a book.
//
// The package knows accounts, items, counts and who may be negative. It knows
// no event, no plan, no host tree and no clock: a fact is the position of an
// event in the order in which the job is folded, and only the order of facts
// is used. Kinds that look alike, and the hole in which a piece sits, are not
// known here either.
//
// Numbers (ItemID, AccountID, KindID, EntryNo) start at 1 in the order of
// first use; 0 is none. The same calls give the same numbers, so two folds of
// the same facts give equal books. Where a call names only a kind, items are
// taken in the order of their numbers.
package ledger
