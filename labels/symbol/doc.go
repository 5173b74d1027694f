// Package symbol knows how a code becomes a bar code: the bars of Code 128 and
// the cells of Data Matrix, how wide a module is in whole printer dots, which
// quiet zones and heights the standards ask for, and whether a picture of the
// symbol can be read again by a decoder that shares nothing with the encoder.
// It knows no label, no paper and no printer, and what a code stands for.
//
// # Whole dots
//
// A thermal print head burns dots or does not. A module that is not a whole
// number of dots wide comes out wide here and narrow there, and a scanner
// measures widths. So nothing is ever scaled: a module is Dots dots wide, bars
// are filled dot by dot, and the wanted module width (the X dimension) is
// rounded up to whole dots:
//
//	wanted mm   at 203 dpi   300 dpi     600 dpi
//	0.250       2 = 0.250    3 = 0.254   6 = 0.254
//	0.330       3 = 0.375    4 = 0.339   8 = 0.339
//	0.495       4 = 0.500    6 = 0.508   12 = 0.508
//	0.660       6 = 0.750    8 = 0.677   16 = 0.677
//
// A head sold as 203 dpi has 8 dots to the millimetre.
//
// # What the standards ask for
//
//	Code 128     quiet zone 10 modules on both sides   ISO/IEC 15417; GS1 General Specifications 5.4.4
//	             height at least 5 mm, and at least    ISO/IEC 15417, from memory
//	             15 % of the width
//	Data Matrix  quiet zone 1 module on four sides     ISO/IEC 16022; GS1 DataMatrix Guideline 2.5.1
//	             module 1.5 times that of the linear   GS1 General Specifications, "2D symbols printed at
//	             symbol beside it                      1.5 times the equivalent X"
//
// A code of eight characters is 123 modules of Code 128 at most, 143 with its
// quiet zones, and 14 x 14 modules of Data Matrix at most, 16 x 16 with them.
//
// The encoders are those of boombuler/barcode; Read uses the decoders of
// makiuchi-d/gozxing, a port of another code base.
package symbol
