package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCells(t *testing.T) {
	for _, x := range []struct {
		name, src string
		sep       byte
		want      [][]string
	}{
		{"plain", "a,b\nc,d\n", ',', [][]string{{"a", "b"}, {"c", "d"}}},
		{"no last line break", "a;b\nc;", ';', [][]string{{"a", "b"}, {"c", ""}}},
		{"empty rows count", "a\n\n\nb", ',', [][]string{{"a"}, {""}, {""}, {"b"}}},
		{"quoted", "\"a,b\",\"c \"\"d\"\"\"\n\"e\nf\",g", ',', [][]string{{"a,b", `c "d"`}, {"e\nf", "g"}}},
		{"a stray tail", "\"a\"x,b", ',', [][]string{{"ax", "b"}}},
		{"other letters behind a quote", "\"a\"ü,ö", ',', [][]string{{"aü", "ö"}}},
		{"tabs", "a\tb", '\t', [][]string{{"a", "b"}}},
	} {
		rows, open := cells(x.src, x.sep)
		require.Zero(t, open, x.name)
		require.Equal(t, x.want, rows, x.name)
	}
	_, open := cells("a,b\nc,\"d\ne", ',')
	require.Equal(t, 2, open)
}

func TestSeparator(t *testing.T) {
	for src, want := range map[string]byte{
		"a,b,c":                      ',',
		"a;b;c,d":                    ';',
		"\n;;\n\"x,y,z\";b;c\n1,2,3": ';',
		"a\tb\tc":                    '\t',
		"a":                          ',',
		"":                           ',',
	} {
		require.Equal(t, string(want), string(separator(src)), "%q", src)
	}
}

// TestQuantity: an inch is 25.4 mm exactly, a foot-pound 1.355818 N.m to the
// millionth.
func TestQuantity(t *testing.T) {
	for _, x := range []struct{ cell, unit, want string }{
		{"12", "mm", "12"}, {"12,5", "mm", "12.5"}, {"12.5", "mm", "12.5"}, {"0", "mm", "0"}, {"1.5", "cm", "15"},
		{"1", "in", "25.4"}, {"1-1/2", "in", "38.1"}, {"1 1/2", "in", "38.1"}, {"3/8", "in", "9.525"}, {"0,004", "in", "0.1016"},
		{"12 mm", "in", "12"}, {"3/8 in", "mm", "9.525"}, {`3/8"`, "mm", "9.525"},
		{"1", "lbf.ft", "1.355818"}, {"12", "lbf.in", "1.355818"}, {"1", "kgf.m", "9.80665"}, {"20 Nm", "lbf.ft", "20"}, {"20 ft-lb", "N.m", "27.116359"},
		{"90", "deg", "90"},
	} {
		u, ok := unitOf(x.unit)
		require.True(t, ok)
		got, ok := quantity(x.cell, u)
		require.True(t, ok, "%s %s", x.cell, x.unit)
		require.Equal(t, x.want, got, "%s %s", x.cell, x.unit)
	}
	mm, _ := unitOf("mm")
	for _, bad := range []string{"", "x", "1.234,5", "1,234,5", "1/0", "/2", "1-1-1/2", "1e3", "12 N.m", "12 furlong", "1..2", "9999999", "--1", "NaN", "0x10"} {
		got, ok := quantity(bad, mm)
		require.False(t, ok, "%q is %q", bad, got)
	}
	got, ok := between("20..25", mm)
	require.True(t, ok)
	require.Equal(t, "20..25", got)
	for _, bad := range []string{"20..", "..25", "20..25..30"} {
		_, ok := between(bad, mm)
		require.False(t, ok, bad)
	}
}

func TestUnitWords(t *testing.T) {
	for word, want := range map[string]string{
		"mm": "mm", "MM": "mm", "inch": "in", `"`: "in", "Nm": "N.m", "N·m": "N.m", "lbf·ft": "lbf.ft", "ft-lb": "lbf.ft",
		"in-lb": "lbf.in", "lbf in": "lbf.in", "kgf·m": "kgf.m", "°": "deg",
	} {
		u, ok := unitOf(word)
		require.True(t, ok, word)
		require.Equal(t, want, u.word, word)
	}
	_, ok := unitOf("ell")
	require.False(t, ok)
}

func TestConditions(t *testing.T) {
	for _, x := range []struct{ cell, want string }{
		{"pan-off", "[pan-off]"},
		{"pan-off; coils-off", "[pan-off, coils-off]"},
		{"step pan-off", "[{step: pan-off}]"},
		{"part chain is off", "[{part: chain, is: off}]"},
		{"part Oil pan off", "[{part: oil-pan, is: off}]"},
		{"seats drain are filled", "[{seats: {drain: all}, are: filled}]"},
		{"seats plugs:1,3+sensors:oil out", "[{seats: {plugs: [1, 3], sensors: [oil]}, are: out}]"},
		{"some access-plug empty", "[{seats: {access-plug: all}, some-are: empty}]"},
		{"mark two-turns stands", "[{mark: two-turns}]"},
		{"a or b and c", "[{any: [a, {all: [b, c]}]}]"},
		{"(a or b) and c; d", "[{all: [{any: [a, b]}, c]}, d]"},
		{"a OR (loan pin in AND loan hanger is in)", "[{any: [a, {all: [{loan: pin, is: in}, {loan: hanger, is: in}]}]}]"},
		{"never; always", "[{any: []}, {all: []}]"},
		{" ; ", "[]"},
	} {
		got, err := conditions(x.cell, false)
		require.NoError(t, err, x.cell)
		// The words of states are quoted where a YAML reader could mistake them.
		require.Equal(t, x.want, unquoted(got), x.cell)
	}
	got, err := conditions("turning; part crank off", true)
	require.NoError(t, err)
	require.Equal(t, `[turning, {part: crank, is: off}]`, unquoted(got))
	for cell, why := range map[string]string{
		"a or":        "a condition is missing",
		"(a":          "a bracket is not closed",
		"a)":          "nothing is wanted behind this: )",
		"and a":       "a condition is missing",
		"part off":    `"part off": which one, or what is asked of it, is missing`,
		"lone x in":   `"lone x in" is no condition: a step, or one of part, seats, some, loan, cavity, mark, step and what is asked of it`,
		"((((((((( a": "brackets more than 8 deep",
	} {
		_, err := conditions(cell, false)
		require.EqualError(t, err, why, cell)
	}
}

func unquoted(s string) string {
	out := ""
	for _, r := range s {
		if r != '"' {
			out += string(r)
		}
	}
	return out
}

func TestRanged(t *testing.T) {
	for _, x := range []struct {
		places []string
		want   string
	}{
		{nil, ""},
		{[]string{"1"}, "1"},
		{[]string{"1", "2"}, "1, 2"},
		{[]string{"1", "2", "3"}, "1..3"},
		{[]string{"1", "3", "5", "6", "7", "9", "10"}, "1, 3, 5..7, 9, 10"},
		{[]string{"I1", "I2", "I3", "E1"}, "I1..3, E1"},
		{[]string{"8", "9", "10", "11"}, "8..11"},
		{[]string{"01", "02", "03"}, "01, 02, 03"},
		{[]string{"1Ia", "1Ib"}, "1Ia, 1Ib"},
		{[]string{"0", "1", "2"}, "0..2"},
	} {
		require.Equal(t, x.want, ranged(x.places, ", "))
	}
}

func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 79: "CB"} {
		require.Equal(t, want, letter(i))
	}
}

func TestNames(t *testing.T) {
	for in, want := range map[string]string{
		"oil-pan": "oil-pan", "Oil pan": "oil-pan", "2Ia": "2Ia", "Rod cap, no. 1": "rod-cap-no.-1", "": "", "—": "—", " x  y ": "x-y",
	} {
		require.Equal(t, want, nameOf(in))
	}
}
