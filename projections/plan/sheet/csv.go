package sheet

import (
	"strings"
	"unicode/utf8"
)

// Limits of a sheet: an order of magnitude above what an engine needs.
const (
	maxBytes   = 4 << 20
	maxRows    = 6000
	maxColumns = 80
	maxCell    = 2000
	maxFaults  = 500
)

// cells is the rows of a CSV text, empty ones among them, so that rows keep
// the numbers that a spreadsheet shows. Quoted cells may hold separators and
// line breaks. open is the row of a quoted cell that never ends, or 0.
func cells(src string, sep byte) (rows [][]string, open int) {
	var row []string
	for i := 0; i < len(src); {
		var cell string
		if src[i] == '"' {
			text, end, closed := quoted(src[i+1:])
			i += 1 + end
			if !closed {
				open = len(rows) + 1
			}
			cell = text
			for i < len(src) && src[i] != sep && src[i] != '\n' { // a stray tail belongs to the cell
				cell += src[i : i+1]
				i++
			}
			cell = strings.TrimSuffix(cell, "\r")
		} else {
			end := strings.IndexAny(src[i:], string(sep)+"\n")
			if end < 0 {
				end = len(src) - i
			}
			cell = strings.TrimSuffix(src[i:i+end], "\r")
			i += end
		}
		row = append(row, cell)
		switch {
		case i >= len(src):
		case src[i] == '\n':
			rows, row = append(rows, row), nil
			i++
		default:
			i++
			if i == len(src) {
				row = append(row, "")
			}
		}
	}
	if row != nil {
		rows = append(rows, row)
	}
	return rows, open
}

// quoted reads a quoted cell from behind its opening mark.
func quoted(src string) (cell string, end int, closed bool) {
	var b strings.Builder
	for i := 0; i < len(src); i++ {
		if src[i] != '"' {
			b.WriteByte(src[i])
			continue
		}
		if i+1 < len(src) && src[i+1] == '"' {
			b.WriteByte('"')
			i++
			continue
		}
		return b.String(), i + 1, true
	}
	return b.String(), len(src), false
}

// separator is the sign that the first line with text has most of, outside
// quotation marks: a comma, a semicolon or a tab.
func separator(src string) byte {
	line := src
	for {
		next, rest, more := strings.Cut(line, "\n")
		if strings.Trim(next, " \t\r,;\"") != "" || !more {
			line = next
			break
		}
		line = rest
	}
	var count [256]int
	inside := false
	for i := range len(line) {
		if line[i] == '"' {
			inside = !inside
		} else if !inside {
			count[line[i]]++
		}
	}
	best := byte(',')
	for _, c := range []byte{';', '\t'} {
		if count[c] > count[best] {
			best = c
		}
	}
	return best
}

// clean is the text of a file less its byte order mark, and whether it is
// text at all.
func clean(src []byte) (string, bool) {
	s := strings.TrimPrefix(string(src), "\ufeff")
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.ReplaceAll(s, "\r", "\n"), utf8.ValidString(s)
}
