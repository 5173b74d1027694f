package ledger

import (
	"strconv"
	"strings"

	"countback/events"
)

// AccountID numbers an account within one book, from 1.
type AccountID int32

// Class is the first word of an account's path.
type Class uint8

// The classes of account. Elsewhere is any first word that is not listed.
const (
	Elsewhere Class = iota
	Outside
	Fitted
	Parked
	Stub
	Loan
	Bench
	Bag
	Rack
	Placed
	Slip
	Stock
	Kept
	Scrap
	Lost
	Unexplained
	Classes // how many there are
)

var classWords = [Classes]string{"elsewhere", "outside", "fitted", "parked", "stub", "loan", "bench", "bag",
	"rack", "place", "slip", "stock", "kept", "scrap", "lost", "unexplained"}

// String is the first word of the paths of a class.
func (c Class) String() string {
	if c >= Classes {
		return classWords[Elsewhere]
	}
	return classWords[c]
}

// ClassOf reads the class from a path.
func ClassOf(p events.Place) Class {
	word, _, _ := strings.Cut(string(p), "/")
	switch word {
	case "outside":
		return Outside
	case "fitted":
		return Fitted
	case "parked":
		return Parked
	case "stub":
		return Stub
	case "loan":
		return Loan
	case "bench":
		return Bench
	case "bag":
		return Bag
	case "rack":
		return Rack
	case "place":
		return Placed
	case "slip":
		return Slip
	case "stock":
		return Stock
	case "kept":
		return Kept
	case "scrap":
		return Scrap
	case "lost":
		return Lost
	case "unexplained":
		return Unexplained
	}
	return Elsewhere
}

// Bounds says whether a number known in this way bounds a search: only a
// count does.
func Bounds(k events.Known) bool { return k >= events.CountedOpen }

// Look is an observation of an account: the fact, and how it is known. The
// zero Look is none.
type Look struct {
	Fact  Fact
	Known events.Known
}

// account is the hot row of an account: where its cells lie in the slab, and
// what was last seen of it.
type account struct {
	off      int32
	len, cap int32
	class    Class
	negative bool // may go below zero
	touched  Fact
	seen     Look
	counted  Look
	partial  int32 // head of the chain of counts of some of it
}

// partialCount is the last count of what matches at an account, where the rest
// of the account was not counted with it.
type partialCount struct {
	match Match
	look  Look
	next  int32
}

// unexplainedPrefix begins the path of an entry's account.
const unexplainedPrefix = "unexplained/"

// Account gives the number of an account, new if the book had not met it. The
// path unexplained/<n> names the account of entry n; it is 0 while the book has
// no such entry, and 0 takes no posting.
func (b *Book) Account(path events.Place) AccountID {
	if path == "" || path[0] == unexplainedPrefix[0] {
		return b.oddAccount(path)
	}
	id, added := b.accountOf.Add(path, int32(len(b.accounts)))
	if added {
		class := ClassOf(path)
		b.addAccount(class, class == Outside)
		b.paths[id] = path
	}
	return AccountID(id)
}

// oddAccount is Account for a path that may be an entry's.
func (b *Book) oddAccount(path events.Place) AccountID {
	if id, ok := b.Lookup(path); ok {
		return id
	}
	if ClassOf(path) == Unexplained {
		return 0
	}
	id := b.addAccount(ClassOf(path), false)
	b.paths[id] = path
	b.accountOf.Put(path, int32(id))
	return id
}

func (b *Book) addAccount(class Class, negative bool) AccountID {
	id := AccountID(len(b.accounts))
	b.accounts = append(b.accounts, account{class: class, negative: negative})
	if int(id) < len(b.rooms) && b.rooms[id] > 0 {
		b.cells.open(&b.accounts[id], int(b.rooms[id]))
	}
	b.paths = append(b.paths, "")
	return id
}

// Lookup gives the number of an account that the book has met; false if not.
func (b *Book) Lookup(path events.Place) (AccountID, bool) {
	if id, ok := b.accountOf.Get(path); ok {
		return AccountID(id), true
	}
	if n, cut := strings.CutPrefix(string(path), unexplainedPrefix); cut {
		if k, err := strconv.Atoi(n); err == nil && k > 0 && k < len(b.entries) {
			return b.entries[k].Account, true
		}
	}
	return 0, false
}

// Path is the path of an account, empty for 0.
func (b *Book) Path(a AccountID) events.Place {
	if k := b.EntryAt(a); k != 0 {
		return events.Place(unexplainedPrefix + strconv.Itoa(int(k)))
	}
	return b.paths[a]
}

// Accounts is how many accounts the book knows; their numbers are 1 to
// Accounts.
func (b *Book) Accounts() int { return len(b.accounts) - 1 }

// Class is the class of an account.
func (b *Book) Class(a AccountID) Class { return b.accounts[a].class }
