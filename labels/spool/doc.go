// Package spool prints each label once. It keeps documents until a printer has
// taken them, through restarts, replays, printers that are off and power cuts.
// It knows no label and no journal: the caller adds finished documents, each
// under a key of its own, and says how far it has read.
//
// # Once
//
// A key is taken once, for ever: adding it again, after a restart or in a
// replay, does nothing. A reprint is its own order under the same key, and its
// document says so on the paper (page.Document.Reprint).
//
// Whether a printer printed is not always known: the power fails while it is
// sending, the connection breaks half-way. Then the spool does not guess. The
// order is unclear, it holds its printer's queue, and a person who has looked
// at the printer says Printed or Again. An order of which the printer took
// nothing is held and tried again by itself.
//
// # Files
//
// All in one folder, which one program at a time may have:
//
//	lock           held while a program has the folder
//	cursor         how far the caller has read, as text:
//	                   countback print cursor 1
//	                   1041
//	log            one JSON object a line, only ever added to, see below
//	files/7.pdf    the document of order 7, until it is printed or dropped
//
// Every change is synced to disk before it counts; cursor, documents and a
// rewritten log are written beside and renamed. A line of the log without its
// line feed is one that the power cut, and is dropped. On opening, the log is
// rewritten with one line an order.
//
// A line has the number n of its order and its state, and when it is the first
// of that number also what the order is:
//
//	{"n":7,"state":"waiting","time":"2026-05-12T09:30:00Z","key":"bench-2/1041/bag","reprint":0,
//	 "printer":"labels","title":"bag B2KCZ6EE","format":"pdf","width":100,"height":60,"sum":"<SHA-256>"}
//	{"n":7,"state":"sending","time":"..."}
//	{"n":7,"state":"printed","time":"..."}
//
// The states are waiting, sending, printed, unclear and dropped. A change of
// printer is a line with state waiting and printer; unclear and dropped have a
// why. An order that was sending when the program ended is unclear.
package spool
