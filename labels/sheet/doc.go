// Package sheet knows paper: labels in a grid on A4 or Letter, and the sheets
// of a shop that are read and scanned from paper: the job sheet, wall cards,
// position cards, the slip to another shop, the hand-over. A plain value goes
// in, a document that was read back comes out. It knows no engine, no plan, no
// job and no printer.
//
// Sheets flow over as many pages as they need; each says which of how many it
// is. Text is fitted or cut visibly as on labels; codes are drawn in whole dots
// and read back.
package sheet
