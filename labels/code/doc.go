// Package code knows the eight-character codes on labels and cards: how one is
// made, how one is recognised, and what a wrong one is. It knows nothing of
// what a code stands for beyond its type letter, keeps no list of codes that
// were given out, and draws no symbol.
//
// # A code
//
//	B  H T  7 K 2 M  X
//	|  |    |        check character, ISO 7064 MOD 37,36 over the seven before it
//	|  |    scrambled counter, four characters
//	|  range of the terminal that issued it, two letters
//	type letter
//
// All characters are from the 31 of A-Z and 0-9 without the look-alikes
// 0 O 1 I L; type and range are letters of these. There are no separators.
// Input is read in either case and with blanks around it. Codes whose check
// character would be a look-alike are never issued; their counter is passed
// over. Always eight characters, so a scan that lost its end or two scans run
// together are never a code.
//
// A letter I in the first place would add nothing to the check: it stands for
// 18, which takes the starting value 36 back to 36.
//
// # The range
//
// Each terminal issues from ranges of its own, so that two terminals that
// cannot reach each other never issue the same code. There are 23 x 23 = 529
// ranges; KK is that of the cards for numbers, verbs and answers, which are the
// same in every shop, and no terminal's.
//
// # The counter
//
// Within a type and a range a counter from 0 to 923,520 gives the four
// characters through a fixed bijection: its digits to the base 31, lowest
// first, times a matrix over the integers modulo 31, plus a constant. All minors
// of the matrix differ from zero, so counters that differ in k digits differ in
// at least 5 - k characters; it was chosen so that moreover
//
//   - a counter and the next differ in all four characters;
//   - any two counters less than 927 apart differ in the first or second of
//     them, so that a label torn or misread in its last three characters, check
//     included, is no other label of those 926 on either side;
//   - the 961 counters of a block (0 to 960, 961 to 1921, ...) differ in at
//     least three characters pairwise, so that no two mistakes make one of them
//     another.
//
// The tests prove these, and compute what goes unnoticed: no single wrong
// character; of neighbours swapped 0.09 %; of two wrong characters 1.7 %, or
// 2.3 % if both are of our 31; nothing cut short or run together; of all texts
// of eight characters from A-Z and 0-9 0.34 %, before the range is looked at. A
// code is one of ours only if its range was given to a terminal of this shop
// and its counter was reached; the caller knows both (Code.Range,
// Code.Counter).
package code
