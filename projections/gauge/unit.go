package gauge

import (
	"strconv"
	"strings"
)

// Unit is a unit of something that a shop measures.
type Unit uint8

// The units. The numbers are not stored; the words are.
const (
	NoUnit      Unit = iota
	Millimetre       // mm
	Inch             // in, 25.4 mm exactly
	Micrometre       // um
	Thou             // thou, 0.001 in
	Degree           // deg
	Bar              // bar
	Kilopascal       // kPa
	PSI              // psi, 6894.757 Pa
	NewtonMetre      // N.m
	PoundFoot        // lbf.ft, 1.355818 N.m
	PoundInch        // lbf.in, 0.1129848 N.m
	Newton           // N
	Pound            // lbf, 4.4482216 N
	Gram             // g
	Celsius          // C
	Second           // s
	Minute           // min
	Millilitre       // ml
	Volt             // V
	Percent          // %
	Kilowatt         // kW
	Horsepower       // hp, 33 000 ft.lbf a minute: 0.7456999 kW
	MetricHorse      // PS, 75 kgf.m a second: 0.7354988 kW
	Plain            // a number without a unit
	units
)

// Dimension is what a unit measures.
type Dimension uint8

// The dimensions.
const (
	NoDimension Dimension = iota
	Length
	Angle
	Pressure
	Torque
	Force
	Mass
	Temperature
	Time
	Volume
	Voltage
	Ratio
	Power
	Count
)

// unitRow is a unit's word, how many base parts it has, and up to how many
// decimals it is a whole number of them. A base part of lengths is a tenth of a
// nanometre, of angles a millionth of a degree. Units that are no whole number of
// the parts of their like (psi, lbf, lbf.ft, lbf.in) are those of NIST SP 811
// Appendix B to seven figures and more.
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

	Bar:         {"bar", 100_000_000_000, 6, Pressure, nil},
	Kilopascal:  {"kPa", 1_000_000_000, 6, Pressure, nil},
	PSI:         {"psi", 6_894_757_000, 3, Pressure, []string{"lbf/in2"}},
	NewtonMetre: {"N.m", 10_000_000_000, 6, Torque, []string{"nm", "n·m"}},
	PoundFoot:   {"lbf.ft", 13_558_179_000, 3, Torque, []string{"lbf·ft", "ft.lb", "ft-lb", "lb-ft", "ft lb"}},
	PoundInch:   {"lbf.in", 1_129_848_000, 3, Torque, []string{"lbf·in", "in.lb", "in-lb", "lb-in", "in lb"}},
	Newton:      {"N", 10_000_000_000, 6, Force, nil},
	Pound:       {"lbf", 44_482_216_000, 3, Force, []string{"lb", "lbs"}},
	Gram:        {"g", 1_000_000, 6, Mass, nil},
	Celsius:     {"C", 1_000_000, 6, Temperature, []string{"°c", "celsius", "deg c"}},
	Second:      {"s", 1_000_000, 6, Time, []string{"sec", "second", "seconds"}},
	Minute:      {"min", 60_000_000, 6, Time, []string{"minute", "minutes"}},
	Millilitre:  {"ml", 1_000_000, 6, Volume, []string{"cc", "cm3"}},
	Volt:        {"V", 1_000_000, 6, Voltage, []string{"volt", "volts"}},
	Percent:     {"%", 1_000_000, 6, Ratio, []string{"percent"}},
	Kilowatt:    {"kW", 10_000_000_000, 6, Power, nil},
	Horsepower:  {"hp", 7_456_999_000, 3, Power, []string{"bhp"}},
	MetricHorse: {"PS", 7_354_988_000, 3, Power, nil},
	Plain:       {"", 1_000_000, 6, Count, nil},
}

// WordsLike lists the units of the dimension of one of them, each by its word;
// all that are read, where that one is not known.
func WordsLike(unit string) []string {
	like, known := ParseUnit(unit)
	var list []string
	for u := Millimetre; u < Plain; u++ {
		if !known || u.Dimension() == like.Dimension() {
			list = append(list, unitRows[u].word)
		}
	}
	return list
}

// ParseUnit reads a unit: its word, or another way to write it.
func ParseUnit(text string) (Unit, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for u := Millimetre; u < Plain; u++ {
		row := unitRows[u]
		if text == strings.ToLower(row.word) {
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
	for u := Millimetre; u < Plain; u++ {
		list = append(list, u.String())
	}
	return strings.Join(list, ", ")
}
