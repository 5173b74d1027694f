// Package printer brings a file to paper: into a folder, to a printer that
// takes documents on a raw socket, or to a queue of the printing system CUPS.
// It sends the bytes as they are and knows nothing of what is in them; it keeps
// no queue of its own and tries nothing twice, see package spool.
//
// # What may have been printed
//
// A label that was printed twice is a bag that is somewhere twice. So every
// error says what became of the file:
//
//	*Held     nothing was taken: the printer is off, refuses, is out of paper.
//	          The same file may be sent again.
//	*Unclear  some or all of it was taken before something went wrong. A person
//	          has to look at the printer.
//
// A raw socket has no answer. A file counts as printed when all of it was
// handed over, and the printer ended the connection in order after that, or
// left it open until the time was up: printers that say nothing are common. A
// printer that drops the connection before has not taken everything, and the
// result is unclear.
package printer
