package sheet

import (
	"strconv"
	"strings"

	"countback/projections/fastener"
	"countback/projections/plan"
)

// Format says how Write writes. The zero value is millimetres, N.m, commas
// between the cells and decimal points.
type Format struct {
	Length       string // mm, cm or in; empty: mm
	Torque       string // N.m, lbf.ft, lbf.in or kgf.m; empty: N.m
	Separator    byte   // , ; or a tab; 0: a comma
	DecimalComma bool
}

// writer writes the sheets of one plan.
type writer struct {
	p              *plan.Plan
	length, torque *unit
	sep            byte
	comma          bool
}

func newWriter(p *plan.Plan, f Format) *writer {
	w := &writer{p: p, sep: ',', comma: f.DecimalComma}
	w.length, _ = unitOf("mm")
	w.torque, _ = unitOf("N.m")
	if u, ok := unitOf(f.Length); ok && u.sort == "length" {
		w.length = u
	}
	if u, ok := unitOf(f.Torque); ok && u.sort == "torque" {
		w.torque = u
	}
	if f.Separator == ';' || f.Separator == '\t' {
		w.sep = f.Separator
	}
	return w
}

// number writes a number of the plan's in a unit, with as many decimals as it
// takes to read the same again.
func (w *writer) number(v float64, u *unit) string {
	s := digits(v/u.size, 10)
	if short := digits(v/u.size, 6); plain(parsed(short)*u.size) == plain(v) {
		s = short
	}
	return w.spelled(s)
}

func (w *writer) spelled(number string) string {
	if w.comma {
		return strings.Replace(number, ".", ",", 1)
	}
	return number
}

func parsed(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// lengthCell is a length; what is unknown is left empty.
func (w *writer) lengthCell(l fastener.Length) string {
	mm, ok := l.Mm()
	if !ok {
		return ""
	}
	return w.number(mm, w.length)
}

// head is a column's head with its unit.
func (w *writer) head(c *column) string {
	switch c.kind.measures() {
	case "length":
		return c.head + " (" + w.length.word + ")"
	case "torque":
		return c.head + " (" + w.torque.word + ")"
	case "angle":
		return c.head + " (deg)"
	}
	return c.head
}

// csv is a sheet of rows, each by the heads of the columns. Columns in which
// nothing is are left out, unless every row needs them.
func (w *writer) csv(t *table, rows []map[string]string) []byte {
	var used []int
	for i, c := range t.columns {
		some := c.must
		for _, r := range rows {
			some = some || r[c.head] != ""
		}
		if some {
			used = append(used, i)
		}
	}
	var b strings.Builder
	for n, i := range used {
		w.cell(&b, n, w.head(&t.columns[i]))
	}
	b.WriteByte('\n')
	for _, r := range rows {
		for n, i := range used {
			w.cell(&b, n, r[t.columns[i].head])
		}
		b.WriteByte('\n')
	}
	return []byte(b.String())
}

func (w *writer) cell(b *strings.Builder, n int, s string) {
	if n > 0 {
		b.WriteByte(w.sep)
	}
	if strings.ContainsAny(s, ",;\t\"\n") {
		s = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	b.WriteString(s)
}

func yesIf(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// ranged joins places; three and more in a row are a range.
func ranged(places []string, sep string) string {
	var out []string
	for i := 0; i < len(places); {
		head, n, ok := numbered(places[i])
		j := i + 1
		for ok && j < len(places) && places[j] == head+strconv.Itoa(n+j-i) {
			j++
		}
		if j-i < 3 {
			out = append(out, places[i])
			i++
			continue
		}
		out = append(out, places[i]+".."+strconv.Itoa(n+j-i-1))
		i = j
	}
	return strings.Join(out, sep)
}

// numbered splits a place into a head without digits and a number.
func numbered(s string) (head string, n int, ok bool) {
	at := strings.IndexAny(s, "0123456789")
	if at < 0 || len(s)-at > 6 || (s[at] == '0' && len(s)-at > 1) {
		return "", 0, false
	}
	n, err := strconv.Atoi(s[at:])
	return s[:at], n, err == nil
}
