// Package journal is the contract of the one place where a shop's facts are
// kept: an append-only list of messages, numbered 1, 2, 3, … without gaps,
// which only ever grows. Everything shown is folded from it.
//
// What it knows: who wrote a message (terminal), which one of that terminal's
// messages it is (n, counted from 1 without gaps), which job it belongs to,
// and its bytes. What it refuses to know: what the bytes mean. It compares
// them and hands them back, nothing else.
//
// # The id of a message
//
// A message's id is its terminal and n, written "b2-42": the terminal, a
// hyphen, n in decimal with at least six digits. The id is given once, before
// the first try, and stays the same for every further try, so that a second
// try of something that did arrive is seen for what it is.
//
// # Appending
//
// Every append states what its writer knew. Checked expects a job's last
// message and is for an answer that depends on the job's state: it is refused
// with *Stale if anything was written to the job in the meantime. Recorded
// expects the terminal's own last message and is for a fact that is stored
// whatever else happened. An append is judged in this order:
//
//  1. malformed: an error that says what is wrong with the draft;
//  2. an append of this terminal is unsettled: *Unclear, unless it is this one;
//  3. repeated: the id is stored already. With the same job and bytes it is a
//     success with Receipt.Repeated set, and nothing is stored; with anything
//     else it is a *Conflict;
//  4. n is not the next one of its terminal: *Skipped;
//  5. the expectation does not hold: *Stale;
//  6. the message is stored, durably, and numbered.
//
// Where the answer got lost the error is *Unclear: the message may or may not
// be stored, or may still arrive. Until Settle has given an answer, or the
// same draft was appended again, the journal takes nothing else from that
// terminal. A terminal has one writer; two that use one name are detected
// where they collide (*Conflict, *Stale), not prevented.
//
// # Reading
//
// Read and Follow hand out messages in the order of their numbers and check
// that none is missing; a missing one is corruption and ends in a *Gap.
// Message.Data is valid only until the callback returns, so that a rebuild
// from a million messages need not copy each; the in-memory journal overwrites
// it afterwards, so that a reader who keeps it is found by its tests.
package journal
