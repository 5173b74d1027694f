package events

import (
	"bytes"
	"encoding/binary"
	"math/bits"
	"unicode/utf8"
)

// Skip passes s if it comes next.
func (d *Decoder) skip(s string) bool {
	if len(d.data)-d.pos < len(s) || string(d.data[d.pos:d.pos+len(s)]) != s {
		return false
	}
	d.pos += len(s)
	return true
}

// Next passes c if it comes next.
func (d *Decoder) next(c byte) bool {
	if d.pos < len(d.data) && d.data[d.pos] == c {
		d.pos++
		return true
	}
	return false
}

// Until gives what comes before c, and stops there. Without c it gives
// nothing and stops at the end, where no skip succeeds.
func (d *Decoder) until(c byte) []byte {
	rest := d.data[d.pos:]
	for i, b := range rest {
		if b == c {
			d.pos += i
			return rest[:i]
		}
	}
	d.pos = len(d.data)
	return nil
}

// Word reads a shop, terminal or job and the byte c after it. It is most
// often the same as in the last fact.
func (d *Decoder) word(last string, c byte) (string, bool) {
	if end := d.pos + len(last); last != "" && end < len(d.data) && d.data[end] == c && d.skip(last) {
		d.pos++
		return last, true
	}
	b := d.until(c)
	if !d.next(c) || !isWord(b) {
		return "", false
	}
	return d.share(b), true
}

// Number reads digits without a leading zero, up to limit.
func (d *Decoder) number(limit int64) (int64, bool) {
	rest := d.data[d.pos:]
	if len(rest) > 18 {
		rest = rest[:18]
	}
	var v int64
	n := 0
	for len(rest)-n >= 8 {
		eight, ok := eightDigits(binary.LittleEndian.Uint64(rest[n:]))
		if !ok {
			break
		}
		v = v*1e8 + eight
		n += 8
	}
	for n < len(rest) {
		c := rest[n] - '0'
		if c > 9 {
			break
		}
		v = v*10 + int64(c)
		n++
	}
	d.pos += n
	return v, n > 0 && (n == 1 || rest[0] != '0') && v <= limit
}

// EightDigits gives the value of eight digits, the first in the lowest byte:
// neighbours are joined to pairs, pairs to fours, fours to the number.
func eightDigits(w uint64) (int64, bool) {
	const zeros, highs = 0x3030303030303030, 0xf0f0f0f0f0f0f0f0
	if w&highs != zeros || (w+0x0606060606060606)&highs != zeros {
		return 0, false
	}
	w -= zeros
	w = (w*10 + w>>8) & 0x00ff00ff00ff00ff
	w = (w*100 + w>>16) & 0x0000ffff0000ffff
	return int64((w*10000 + w>>32) & 0xffffffff), true
}

// Plain bytes stand in a text as they are.
var plain = func() (set [256]bool) {
	for c := ' '; c < 0x7f; c++ {
		set[c] = c != '"' && c != '\\'
	}
	return set
}()

// PlainRun counts the plain bytes at the start of b, eight at a time.
func plainRun(b []byte) int {
	const ones, highs = 0x0101010101010101, 0x8080808080808080
	n := 0
	for ; len(b)-n >= 8; n += 8 {
		w := binary.LittleEndian.Uint64(b[n:])
		quote, slash, del := w^ones*'"', w^ones*'\\', w^ones*0x7f
		// A subtraction borrows only above a byte that is found anyway.
		odd := w | (w-ones*0x20)&^w | (quote-ones)&^quote | (slash-ones)&^slash | (del-ones)&^del
		if odd &= highs; odd != 0 {
			return n + bits.TrailingZeros64(odd)/8
		}
	}
	for n < len(b) && plain[b[n]] {
		n++
	}
	return n
}

// Text reads a text up to and with its closing quote; the opening one is read.
func (d *Decoder) text(f form, last string) (string, bool) {
	end := d.pos + plainRun(d.data[d.pos:])
	if end == len(d.data) || end-d.pos > MaxName || d.data[end] != '"' {
		return d.oddText(f)
	}
	b := d.data[d.pos:end]
	d.pos = end + 1
	if f == asWord && len(b) > 0 && !isWord(b) {
		return "", false
	}
	if last == string(b) {
		return last, true
	}
	return d.share(b), true
}

// OddText reads a text with escapes, with more than ASCII, or of great length.
func (d *Decoder) oddText(f form) (string, bool) {
	limit, lines := MaxName, f == asLong
	if lines {
		limit = MaxText
		if n := len(d.long.stored); n > 0 && bytes.HasPrefix(d.data[d.pos:], d.long.stored) {
			d.pos += n
			return d.long.text, true
		}
	}
	start, out := d.pos, d.buf[:0]
	for i := d.pos; i < len(d.data) && len(out) <= limit; {
		c := d.data[i]
		switch {
		case plain[c]:
			out = append(out, c)
			i++
		case c == '"':
			d.pos = i + 1
			d.buf = out
			text := d.share(out)
			if lines && len(text) >= remembered {
				d.long = longText{append(d.long.stored[:0], d.data[start:d.pos]...), text}
			}
			return text, f != asWord
		case c == '\\':
			if c = unescape(d.data[i:], lines); c == 0 {
				return "", false
			}
			out = append(out, c)
			i += 2
		default:
			r, n := utf8.DecodeRune(d.data[i:])
			if r == utf8.RuneError && n == 1 || isControl(r) {
				return "", false
			}
			out = append(out, d.data[i:i+n]...)
			i += n
		}
	}
	return "", false
}

// Unescape gives the byte for an escape of the canonical form, 0 for any other.
func unescape(b []byte, lines bool) byte {
	if len(b) > 1 {
		switch c := b[1]; {
		case c == '"' || c == '\\':
			return c
		case c == 'n' && lines:
			return '\n'
		case c == 't' && lines:
			return '\t'
		}
	}
	return 0
}
