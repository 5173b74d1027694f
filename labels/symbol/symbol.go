package symbol

import (
	"fmt"
	"image/color"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/code128"
	"github.com/boombuler/barcode/datamatrix"

	"countback/labels/code"
)

// Kind is a symbology.
type Kind uint8

// The symbologies.
const (
	Linear Kind = iota + 1 // Code 128, for scanners with one line
	Matrix                 // Data Matrix ECC 200, which survives a stain
)

// String is the symbology's name.
func (k Kind) String() string {
	switch k {
	case Linear:
		return "Code 128"
	case Matrix:
		return "Data Matrix"
	}
	return fmt.Sprintf("symbology %d", uint8(k))
}

// Quiet is the quiet zone in modules: on both sides of a Linear, on four sides
// of a Matrix.
func (k Kind) Quiet() int {
	if k == Linear {
		return 10
	}
	return 1
}

// The most modules that a code needs, without quiet zones.
const (
	MaxLinearColumns = 11*(1+code.Length+1) + 13 // start, characters, check, stop
	MaxMatrixColumns = 14
)

// Symbol is the modules of one code, without quiet zones. A Linear has one
// row. The zero value has none.
type Symbol struct {
	Kind    Kind
	Code    code.Code
	Columns int
	Rows    int
	dark    []bool
}

// Dark reports whether a module is dark; outside of the symbol none is.
func (s Symbol) Dark(column, row int) bool {
	return column >= 0 && column < s.Columns && row >= 0 && row < s.Rows && s.dark[row*s.Columns+column]
}

// New is the symbol of a code in a symbology. The code must be one that
// code.Parse accepts as it stands.
func New(k Kind, c code.Code) (Symbol, error) {
	if parsed, err := code.Parse(string(c)); err != nil {
		return Symbol{}, fmt.Errorf("symbol: %w", err)
	} else if parsed != c {
		return Symbol{}, fmt.Errorf("symbol: code %q: not in its own form %q", c, parsed)
	}
	var b barcode.Barcode
	var err error
	switch k {
	case Linear:
		b, err = code128.Encode(string(c))
	case Matrix:
		b, err = datamatrix.Encode(string(c))
	default:
		return Symbol{}, fmt.Errorf("symbol of %s: %s: want Code 128 or Data Matrix", c, k)
	}
	if err != nil {
		return Symbol{}, fmt.Errorf("%s of %s: %w", k, c, err)
	}
	return modules(k, c, b), nil
}

// modules copies what the encoder drew, one picture element a module: the
// encoder's own scaling is never asked for.
func modules(k Kind, c code.Code, b barcode.Barcode) Symbol {
	size := b.Bounds().Size()
	s := Symbol{Kind: k, Code: c, Columns: size.X, Rows: size.Y}
	if k == Linear {
		s.Rows = 1
	}
	s.dark = make([]bool, s.Columns*s.Rows)
	for y := range s.Rows {
		for x := range s.Columns {
			g := color.Gray16Model.Convert(b.At(b.Bounds().Min.X+x, b.Bounds().Min.Y+y)).(color.Gray16)
			s.dark[y*s.Columns+x] = g.Y < 1<<15
		}
	}
	return s
}

// Run is dark modules side by side in one row.
type Run struct{ Row, From, To int } // columns From to To-1

// Runs lists the dark runs row by row.
func (s Symbol) Runs() []Run {
	var list []Run
	for y := range s.Rows {
		for x := 0; x < s.Columns; x++ {
			from := x
			for s.Dark(x, y) {
				x++
			}
			if x > from {
				list = append(list, Run{y, from, x})
			}
		}
	}
	return list
}
