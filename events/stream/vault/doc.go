// Package vault keeps the files of one shop's journal safe from the server
// that writes them, from the disk, and from people.
//
// The server repairs a damaged store by cutting off what it cannot read, or
// by removing the whole stream, and says so in its log at most. So this
// package looks at everything before the server may, refuses to hand over a
// store that lost anything, and keeps a copy that the server does not know.
// It knows the files; it knows nothing of connections, and imports no server.
//
// # Files
//
// For a store in DIR:
//
//	DIR/format       "countback store 1", then "shop NAME": this is a store
//	DIR/lock         locked while a program has the store open; says which
//	DIR/js/          the server's own folder
//	DIR.guard/       the protected copy
//	DIR.mark         the high-water mark
//
// The last two lie beside the store, or wherever Place says, so that they
// survive its folder. A store is made only where there is neither format
// file, nor an event in DIR, nor an event in the protected copy, nor a mark
// above 0; the format file is written last.
//
// # Blocks
//
// The server keeps the messages of the stream "countback-SHOP" in
// DIR/js/jetstream/$G/streams/countback-SHOP/msgs, in blocks 1.blk, 2.blk, …
// of about 8 MiB. Only the last one grows; the others are sealed and never
// change, since nothing is ever deleted or compressed. A block is a row of
// records, little-endian:
//
//	4  length of the whole record; bit 31: it has headers
//	8  sequence; bits 63 and 62 mark deletions, of which there must be none
//	8  time, nanoseconds since 1970
//	2  length of the subject
//	   subject: countback.SHOP.TERMINAL.JOB
//	4  length of the headers        (only with headers)
//	   headers: "NATS/1.0\r\n", lines, an empty line; Nats-Msg-Id is the id
//	   data
//	8  HighwayHash-64 over sequence, time, subject, headers and data; its key
//	   is the SHA-256 of "countback-SHOP-BLOCKNUMBER"
//
// Beside msgs lie the stream's settings: meta.inf (JSON) and meta.sum, the
// hexadecimal HighwayHash-64 of it, keyed with the SHA-256 of
// "countback-SHOP". msgs/index.db is the server's own and can be made again
// from the blocks. This was read from the sources of nats-server 2.15.2,
// server/filestore.go, and is tested against the server in use.
//
// Every record is verified whenever a store is opened and whenever it is
// read. The sequences must be 1, 2, 3, … through all blocks. Half a record is
// accepted only at the very end of the last block, if neither mark nor
// protected copy has it and the store was not closed in order: then it is a
// write that a crash cut short, and it was never acknowledged.
//
// # Protected copy
//
// A folder with the file copy ("countback copy 1", then "shop NAME"), the
// stream's two settings files, and the blocks under their own names. The
// bytes are real copies, not links, since damage to a file and a server that
// truncates it reach every link to it. A sealed block is copied once; of the
// last one, what is new is added every few seconds, when the store is opened
// and when it is closed. Only acknowledged events are copied, so that after a
// power cut the copy is never ahead of the store. On file systems that share
// blocks between files a copy may share them too: a guard on another disk is
// the better one. A backup is the same kind of folder.
//
// # Mark
//
// Two slots of 256 bytes, at 0 and 4096, written in turns; the whole one with
// the higher count holds:
//
//	countback mark 1 count N seq SEQ id ID sum CRC state open|closed … CRC
//
// sum is the CRC-32C of the event's data, the last one that of the line up to
// it. It is written after every acknowledgement, which waits neither for that
// nor for the disk: after a crash of the program it is some microseconds old
// for this program's own appends and some seconds for those of other
// terminals; after a power cut it may be older; it is never ahead of the
// store. State is closed only after an orderly end.
//
// # Repair
//
// Check reports and changes nothing. Restore builds a new store record by
// record from what is left, the protected copy and backups, and moves the old
// one aside; it deletes nothing.
package vault
