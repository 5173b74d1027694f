// Package page knows one sheet or label as a list of things at whole printer
// dots: texts, boxes, shapes and symbols. From this one list it makes dots, a
// PNG and a PDF, so that what is read back is what is printed. It knows how
// text is measured, shortened and made visible; it knows no label, no job and
// no printer.
//
// # Reading back
//
// A Document can only be had from Finish, which looks at every symbol of every
// page: nothing but the symbol may stand in it and in its quiet zone, dot by
// dot, and an independent decoder must read the code from the dots. Finish
// refuses a page of which anything runs over the edge.
//
// # Text
//
// The fonts are DejaVu Sans Condensed, regular and bold, built in: Latin,
// Greek, Cyrillic, Armenian, Georgian, Hebrew, Arabic and many signs. Fonts
// for other scripts can be added. Text is composed (NFC) and put in visual
// order; Arabic letters stand unjoined. Nothing is swallowed in silence:
//
//   - a control character, or a character that no font has, is written as its
//     hexadecimal number between angle quotes: ‹0A›, ‹7530›;
//   - a byte that is no UTF-8 likewise: ‹FF›;
//   - text that does not fit is made smaller down to a limit, and then cut at
//     a character with … at its end.
//
// # Dots
//
// A Bitmap has one bit a dot. Text is drawn without grey: a dot is black where
// the letter covers at least half of it.
//
// # PNG
//
// One bit of grey a dot, with the pHYs chunk in dots per metre, so that the
// picture has its size on paper.
//
// # PDF
//
// The page is as large as its dots. Boxes, shapes and symbols are vector
// rectangles and paths in coordinates of whole dots; text is text, in embedded
// subsets of the fonts. The bytes depend on the pages, title and date alone.
package page
