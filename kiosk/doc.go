// Package kiosk is the screen of a terminal as a plain value: what a message
// makes of it, what it shows, and what it wants done.
//
// [Screen.Update] takes a [Msg] (a scanned line, the time, what became of the
// last sentence, what other benches told) and returns the next screen with its
// [Effect] values: give this command to the rules and store what they answer,
// open another job, beep. [Screen.View] is all that there is to see. Neither
// does I/O, reads a clock or changes the job that it reads: kiosk/bench does
// that, and beeps only for what is on disk.
//
// How a sentence comes about, on top of the table of kiosk/scan:
//
//   - A noun goes behind those on the screen where some sentence begins like
//     that; otherwise a new sentence begins and the old one is dropped aloud.
//   - A verb uses up its nouns. A second firing finds nothing to act on and
//     says so. Only the code immediately before counts as a repeat; for number
//     cards and OK, within half a second.
//   - Digits chain within half a second and are one number after it.
//   - What a count is compared with is not shown before the count is in.
//   - Where a verb could be about several nouns it asks, and takes none.
//   - A refused sentence is used up too, so that a number which follows it
//     cannot find its nouns.
//   - A question after a fact (still in, broken, never there?) has its short as
//     its subject; whoever does not answer it leaves it open and red.
//   - UNDO is the last fact of this person at this terminal, named on the
//     screen by its sentence; it is a correction like any other. A second one
//     is refused and shows the list. REDO corrects that correction.
//   - HAPPENED says when the next tell happened, and leaves what is on the screen
//     as it is; CANCEL, another person and a long silence take it back. An ask or
//     a query never happens at another time.
//   - After a label that could not be read, or a noun that answers nothing, the
//     sentence waits for that noun: no number and no verb is taken until it is
//     scanned again, or OK goes on without it. A noun that begins another
//     sentence drops a question to which nothing was answered yet, aloud; where
//     answers would be lost it has to be scanned twice.
//   - A badge is another person, and drops the sentence aloud, unless the
//     screen asked for a badge.
//   - While nobody knows whether the last fact is stored no scan is taken.
//
// The sentences in the past tense are pure functions of a fact and the job
// ([Telling]): one file for each topic, tell_*.go.
//
// The package knows no terminal program, no journal, no printer and no files.
package kiosk
