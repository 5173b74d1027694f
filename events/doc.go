// Package events is the vocabulary of Countback: every kind of fact that a
// shop can record about an engine, and the one form in which facts are stored.
//
// # What an event is
//
// An event says one thing that somebody at a terminal stated, in the past
// tense: [PiecesOut], [Counted], [LoanIn], [StudExtracted]. It is one of these
// (see [Class] and [ClassOf]):
//
//   - a transfer: what a hand did. These pieces went from here to there.
//   - an observation: what an eye saw. This is in that place, and whether that
//     is all there is.
//   - both: everything went over, and nothing is left where it was.
//   - a state: a mark made, a stage done, a hold, a decision, a signature.
//
// One sentence at the kiosk is one event, and what happens in one act is one
// kind. The pieces are [Line] values: a kind, a number and, where it was said,
// condition, lot and origin. Places are paths ("bag/B2KCZ6EE", "bench/b2").
//
// A [Record] is an event with its envelope: which terminal stated it, its own
// running number there, when, for which job, who stood there, how it is known,
// and what the terminal had seen of the job by then. The last point is what
// the order of facts rests on: what matters is what the person knew, not when
// the message arrived.
//
// # What events do not know
//
// An event has no consequence in it. It holds no posting, no balance, no
// shortage and no "missing" flag: those are computed from all facts of a job,
// again and again, because a late fact or a correction changes them. What was
// expected may ride along ([Line].Expected), and no computation reads it.
// This package knows no plan, no rule, no screen, no label and no stream; it
// imports nothing but the standard library. It reads no clock and starts no
// goroutine. It also does not judge: whether a bag exists, or whether eight
// bolts fit in seven holes, is not its business, since what a person told is
// kept even where it cannot be true. Only what no reader could take back is
// refused: see Limits.
//
// Nothing is ever edited. A fact that was wrong is followed by a [Corrected]
// that names it.
//
// # The stored form
//
// A stored fact is one event of CloudEvents 1.0 in its JSON format ("structured
// mode"), in UTF-8, so that any program that reads CloudEvents can read a
// shop's journal. This is one, with line breaks for this page only:
//
//	{"specversion":"1.0","id":"b2-54","source":"/countback/elm-street/b2",
//	"type":"countback.counted","subject":"4K7",
//	"time":"2025-11-25T08:42:18.123456Z","datacontenttype":"application/json",
//	"at":"1764060140307456","n":54,"seen":"b1:803 b2:53 office:12",
//	"operator":"Ole","known":"counted-blind",
//	"data":{"place":"bag/B2KCZ6EE","lines":[{"kind":"M6x1.0x25 8.8 flange","qty":1}],"all":true}}
//
// The attributes, in this order; the first nine are in every fact:
//
//   - specversion: always "1.0".
//   - id: the terminal, a hyphen and n. It is unique in the shop, and given
//     once, before the first try to store the fact.
//   - source: /countback/<shop>/<terminal>.
//   - type: "countback." and the kind as the catalogue has it ([Names]).
//   - subject: the job, or "shop" for what belongs to no single job.
//   - time: the terminal's clock as it was, right or wrong; RFC 3339 in UTC
//     with six decimals.
//   - datacontenttype: always "application/json".
//   - at: the time that orders facts, a hybrid logical clock (Kulkarni et al.
//     2014): microseconds since 1970 as a string of digits, because an integer
//     of CloudEvents has 32 bits.
//   - n: the terminal's own counter as a number, 1 to 2147483647, no gaps.
//   - seen: the highest n of each terminal whose facts of this job were known
//     here: "b1:803 b2:53", terminals in byte order. Absent: nothing was seen.
//   - operator: who stood there. Absent: nobody had scanned a badge.
//   - known: presumed, reconstructed, claimed, counted or counted-blind.
//     Absent: told by who did it. Only a count bounds a search.
//   - happenedfrom, happenedto: the interval in which it happened, like at,
//     when that is not the moment of recording. Both or none.
//   - data: the event. Its members are those of the Go struct, by their json
//     tags and in their order.
//
// The envelope is closed. What a later version has to add to the meaning of a
// fact goes into data; a reader passes over an attribute that it does not know
// (CloudEvents lets programs on the way add some, for tracing) and does not
// write it again.
//
// # Canonical form
//
// [Append] writes every fact in one way only: the order above, no blanks
// between tokens, absent instead of empty (where the tag says omitempty or
// omitzero), integers without sign or leading zero, other numbers in the
// shortest form of ECMA-262, and in texts just four escapes: \" \\ \n \t.
// Equal facts are equal bytes. An empty list and a missing one are the same.
// Only the data of an [Unknown] is written as it came.
//
// The [Decoder] has a fast road for this form, made from the catalogue and the
// tags. It takes the canonical form byte for byte and nothing else. At the
// first surprise the slow road, made of encoding/json, reads any JSON that
// says the same: members in other order, blanks, other escapes, a time with
// another offset. A fuzz test holds the two equal.
//
// A [Corrected] holds another event. It is stored in two members, its kind and
// its data: "insteadkind":"counted","instead":{...}. Without them the wrong
// fact falls and nothing takes its place.
//
// # Newer and older
//
//   - Stored names are literals in the catalogue and in the tags. A name is
//     never used for another thing, also not after it is gone from use.
//   - A changed meaning is a new kind. The old one stays in the catalogue, and
//     its frozen samples (testdata/events) must decode for ever.
//   - A kind may get a new member if its absence keeps the old meaning. The
//     tag needs omitempty or omitzero, so that old facts are still canonical.
//   - A kind that this program does not know becomes [Unknown], which keeps
//     the name and the data as they were stored, byte for byte, and is shown.
//     So does a known kind with a member that is not known, anywhere in it: a
//     newer program wrote it, and half of it could mean the opposite.
//
// # Limits
//
// A shop, terminal or job is 1 to [MaxWord] bytes of A-Z a-z 0-9 - and _: a
// word of a NATS subject and of a URI as it is. Any other text is UTF-8 up to
// [MaxName] bytes, without control characters (Unicode category Cc). The text
// of a plan or of a piece of one may have line ends and tabs and [MaxText]
// bytes. A number of pieces, stages or minutes is 0 to [MaxQty]; a list has up
// to [MaxList] elements; times are 1 to [MaxTime] microseconds;
// an amount of money is a whole number of the currency's smallest unit, 0 to MaxTime; corrections
// lie up to [MaxNest] deep in one another; a stored fact has up to [MaxSize]
// bytes. Both [Append] and [Decoder.Decode] hold them, so that whatever was
// read can be stored.
package events
