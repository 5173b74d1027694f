package gauge

import (
	"strconv"
	"strings"
)

// Unit is a unit of length or of angle.
type Unit uint8

// The units. The numbers are not stored; the words are.
const (
	NoUnit     Unit = iota
	Millimetre      // mm
	Inch            // in, 25.4 mm exactly
	Micrometre      // um
	Thou            // thou, 0.001 in
	Degree          // deg
	units
)

// Dimension is what a unit measures.
type Dimension uint8

// The dimensions.
const (
	NoDimension Dimension = iota
	Length
	Angle
)

// unitRow is a unit's word, how many base parts it has, and up to how many
// decimals it is a whole number of them. A base part of lengths is a tenth of a
// nanometre, of angles a millionth of a degree.
type unitRow struct {
	word      string
	parts     int64
	decimals  uint8
	dimension Dimension
	other     []string
}

var unitRows = [units]unitRow{
	NoUnit:     {"", 0, 0, NoDimension, nil},
	Millimetre: {"mm", 10_000_000, 7, Length, []string{"millimetre", "millimetres", "millimeter", "millimeters"}},
	Inch:       {"in", 254_000_000, 6, Length, []string{"inch", "inches", "in.", `"`, "''", "″"}},
	Micrometre: {"um", 10_000, 4, Length, []string{"µm", "μm", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"}},
	Thou:       {"thou", 254_000, 3, Length, []string{"thous", "mil", "mils"}},
	Degree:     {"deg", 1_000_000, 6, Angle, []string{"°", "degree", "degrees", "º"}},
}

// ParseUnit reads a unit: its word, or another way to write it.
func ParseUnit(text string) (Unit, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for u := Millimetre; u < units; u++ {
		row := unitRows[u]
		if text == row.word {
			return u, true
		}
		for _, o := range row.other {
			if text == o {
				return u, true
			}
		}
	}
	return NoUnit, false
}

// String is the unit's word.
func (u Unit) String() string {
	if u < units {
		return unitRows[u].word
	}
	return "unit " + strconv.Itoa(int(u))
}

// Dimension is what the unit measures.
func (u Unit) Dimension() Dimension {
	if u < units {
		return unitRows[u].dimension
	}
	return NoDimension
}

// words are the words of all units.
func words() string {
	var list []string
	for u := Millimetre; u < units; u++ {
		list = append(list, u.String())
	}
	return strings.Join(list, ", ")
}
