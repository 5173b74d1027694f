// Package scan knows how a line from a scanner or a keyboard is read, and what
// can be said with lines: the cards, the nouns, and the table of sentences.
//
// # A line
//
// One line is one scan: a code of eight characters (labels/code), or what a
// person typed: the word of a card ("ALL OUT"), a whole number or a reading, or
// a noun by its name, with its type word where several things have that name
// ("joint front-cover", "hole 18", "bag B2KCZ6EE", "short 1", "badge Marit",
// "place shelf", "size M8x1.25x30 8.8 flange"). Any text is taken: what is none
// of these is a misread label, a foreign code, a label that nobody here issued,
// one that is out of use, one of another job, or a text.
//
// Where a day is asked, a line is read as a date ([Date]): 2026-12-14, 14.12.,
// 14 Dec, or a number for so many days from today.
//
// # A sentence
//
// A sentence is nouns, then a verb or numbers. The first noun is where pieces
// come from. [Sentences] holds all of them as data: subject, verb, what is
// asked after it, whether it asks or tells, where pieces come from, which fact
// it stores and how that is known. [Table] writes it as a page, and the help on
// the screen is made of it. SENTENCES.md is that page.
//
// # The cards
//
// Verbs and answers have cards of fixed codes, the same in every shop. A card's
// code is made of its index in the lists of this package; the lists only grow
// at their end, and a test holds them to testdata/cards.txt. Whole numbers from
// 0 to 40 have cards of their own (labels/code); above that, digit cards are
// chained.
//
// What it refuses to know: the time, what is on the screen, what was scanned
// before, and how a fact is stored. It builds commands and decides nothing.
package scan
