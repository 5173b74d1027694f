// Package stream is the journal on NATS JetStream, and the only importer of
// NATS: in a server inside this process, which is what a shop with one
// machine runs (Open), or on a server or cluster elsewhere (Connect).
//
// What it knows: how to make the server keep every acknowledged message, how
// to tell a repeat from a conflict, and how to read fast. What it refuses to
// know: what messages mean, and how files are looked after (package vault).
//
// # The stream
//
// One stream, "countback-SHOP", holds the shop: file storage, subjects
// countback.SHOP.>, no limits, nothing compressed, deletes and purges denied,
// new messages refused when there is no room. A stream is made only in a
// fresh store, or where Remote.Create says so and the mark does not object;
// settings that would lose events are refused, never changed. A message is:
//
//	subject                                        countback.SHOP.TERMINAL.JOB
//	Nats-Msg-Id                                    TERMINAL-N, such as b2-42
//	Nats-Expected-Last-Subject-Sequence            what its writer knew
//	Nats-Expected-Last-Subject-Sequence-Subject    countback.SHOP.*.JOB, or countback.SHOP.TERMINAL.>
//	Nats-Expected-Last-Sequence                    instead of those two, for a checked append to a cluster
//	data                                           as given
//
// # What an acknowledgement promises
//
// The embedded server writes and syncs every message before it answers, so an
// acknowledged message survives the end of the program and of the machine. It
// promises nothing against a disk that lies or rots: that is what the
// protected copy, the verification on opening, and backups are for. A server
// elsewhere must be set to sync always by whoever runs it.
//
// # Expectations
//
// A single server checks an expectation while it stores nothing else. A
// cluster checks it against what it has stored, not against what is on its
// way, unless that was sent under the very same filter; then it refuses both
// kinds of doubt with an error that has no number, and the append tries again
// until it knows. Since a checked and a recorded append to one job use
// different filters, a checked append to a cluster expects the number of the
// whole stream's last message instead, as of a moment at which the job's last
// message was the expected one. That costs two questions more, and another
// try whenever the shop wrote something in between.
//
// # Who may do what
//
// Nobody outside this process can reach an embedded server unless it is told
// to listen. Then whoever connects without a name may read; a terminal with
// its password may append as itself; nobody may change or delete anything.
package stream
