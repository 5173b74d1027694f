package symbol

import (
	"fmt"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/makiuchi-d/gozxing/oned"
)

// Picture is what a decoder looks at.
type Picture interface {
	Size() (width, height int)
	// Row fills the row y with greys from 0, black, to 255, white; row is as long
	// as the picture is wide.
	Row(y int, row []byte)
}

var pure = map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true}

// Read decodes the one symbol of a kind in a picture that shows it upright
// with its quiet zones.
func Read(k Kind, p Picture) (string, error) {
	bitmap, err := gozxing.NewBinaryBitmap(gozxing.NewGlobalHistgramBinarizer(newSource(p)))
	if err != nil {
		return "", fmt.Errorf("%s: %w", k, err)
	}
	var reader gozxing.Reader
	switch k {
	case Linear:
		reader = oned.NewCode128Reader()
	case Matrix:
		reader = datamatrix.NewDataMatrixReader()
	default:
		return "", fmt.Errorf("%s: want Code 128 or Data Matrix", k)
	}
	result, err := reader.Decode(bitmap, nil)
	if err != nil && k == Matrix {
		// The decoder looks for the corners from the middle outwards, and one
		// symbol in 600, or every other one of two dots a module, has a white
		// ring inside that it takes for the outside. Its second road measures
		// the modules from the edges of the picture's black.
		var again error
		if result, again = reader.Decode(bitmap, pure); again == nil {
			err = nil
		}
	}
	if err != nil {
		return "", fmt.Errorf("%s: not readable: %w", k, err)
	}
	return result.GetText(), nil
}

// source shows a Picture to the decoder.
type source struct {
	gozxing.LuminanceSourceBase
	picture Picture
}

func newSource(p Picture) *source {
	w, h := p.Size()
	return &source{gozxing.LuminanceSourceBase{Width: w, Height: h}, p}
}

// GetRow is one row, black as 0 and white as 255.
func (s *source) GetRow(y int, row []byte) ([]byte, error) {
	if y < 0 || y >= s.Height {
		return nil, fmt.Errorf("row %d of %d", y, s.Height)
	}
	if len(row) < s.Width {
		row = make([]byte, s.Width)
	}
	s.picture.Row(y, row[:s.Width])
	return row, nil
}

// GetMatrix is all rows.
func (s *source) GetMatrix() []byte {
	all := make([]byte, s.Width*s.Height)
	for y := range s.Height {
		s.picture.Row(y, all[y*s.Width:(y+1)*s.Width])
	}
	return all
}

// Invert is the negative.
func (s *source) Invert() gozxing.LuminanceSource { return gozxing.LuminanceSourceInvert(s) }

// String draws the picture in characters.
func (s *source) String() string { return gozxing.LuminanceSourceString(s) }
