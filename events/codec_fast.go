package events

import (
	"encoding/binary"
	"strconv"
)

// Got tells how the reading of a value went.
type got uint8

const (
	surprise got = iota
	empty        // the zero value
	full
)

func either(isFull, ok bool) got {
	switch {
	case !ok:
		return surprise
	case isFull:
		return full
	}
	return empty
}

// Event reads the data of one kind into e.
func (d *Decoder) event(s *species, e *Event) bool {
	p := d.rooms[s.room]
	if p == nil {
		p = s.shelf.fresh()
		d.rooms[s.room] = p
	}
	ok := d.group(s.shape, p, 0) != surprise
	if ok {
		*e = s.shelf.take(p)
	}
	s.shelf.wipe(p)
	return ok
}

func (d *Decoder) group(s *shape, p memory, depth int) got {
	if !d.next('{') {
		return surprise
	}
	all, comma := empty, false
	for i := range s.fields {
		f := &s.fields[i]
		if !d.member(f, comma) {
			if f.omit {
				continue
			}
			return surprise
		}
		comma = true
		g := d.value(f.shape, at(p, f.offset), depth)
		if g == surprise || g == empty && f.omit {
			return surprise
		}
		all = max(all, g)
	}
	if !d.next('}') {
		return surprise
	}
	return all
}

// Member passes the lead of f, and the comma before it, if they come next.
func (d *Decoder) member(f *field, comma bool) bool {
	i := d.pos
	if comma {
		if i >= len(d.data) || d.data[i] != ',' {
			return false
		}
		i++
	}
	if len(d.data)-i < 8 || binary.LittleEndian.Uint64(d.data[i:])&f.mask != f.word {
		return false // so short a rest is left to the slow road
	}
	end := i + len(f.lead)
	if len(f.lead) > 8 && (end > len(d.data) || string(d.data[i+8:end]) != f.lead[8:]) {
		return false
	}
	d.pos = end
	return true
}

// Value reads what comes after the lead of a member; a text in a list has no
// lead, so list passes its quote.
func (d *Decoder) value(s *shape, p memory, depth int) got {
	switch s.form {
	case asText, asWord, asLong:
		v, ok := d.text(s.form, "")
		setText(p, v)
		return either(v != "", ok)
	case asFlag:
		if d.skip(`true`) {
			setFlag(p)
			return full
		}
		return either(false, d.skip(`false`))
	case asCount:
		v, ok := d.number(MaxQty)
		setInt(p, int(v))
		return either(v != 0, ok)
	case asStamp:
		v, ok := d.number(MaxTime)
		setInt64(p, v)
		return either(v != 0, ok)
	case asTurn:
		v, ok := d.number(MaxN)
		setUint(p, uint32(v))
		return either(v != 0, ok)
	case asReal:
		return d.real(p)
	case asGroup:
		return d.group(s, p, depth)
	case asList:
		return d.list(s, p, depth)
	case asEvent:
		return d.nested(s, p, depth+1)
	}
	panic("unreachable: value without a stored form")
}

// Real reads a number that is written in the one way in which it is stored.
func (d *Decoder) real(p memory) got {
	start := d.pos
	for d.pos < len(d.data) && realByte[d.data[d.pos]] {
		d.pos++
	}
	digits := d.data[start:d.pos]
	v, err := strconv.ParseFloat(string(digits), 64)
	if err != nil {
		return surprise
	}
	if d.buf, err = appendReal(d.buf[:0], v); err != nil || string(d.buf) != string(digits) {
		return surprise
	}
	setReal(p, v)
	return either(v != 0, true)
}

var realByte = byteSet("0123456789+-.e")

// List reads a list by way of a tray, since its length is not known before.
func (d *Decoder) list(s *shape, p memory, depth int) got {
	start := d.pos
	if !d.next('[') {
		return surprise
	}
	if d.next(']') {
		return empty
	}
	tray := d.trays[s.number]
	if tray == nil {
		tray = s.tray.fresh()
		d.trays[s.number] = tray
	}
	n, g := d.fill(s, tray, depth)
	if g == full {
		s.tray.keep(p, tray, n)
	}
	s.tray.wipe(tray, n)
	if g == empty {
		d.pos = start
		return d.longList(s, p, depth)
	}
	return g
}

// Fill puts the elements of a list on a tray and tells how many it touched:
// full if that is all of them, empty if the tray was too small.
func (d *Decoder) fill(s *shape, tray memory, depth int) (int, got) {
	for n := 1; n <= shortList; n++ {
		if d.element(s.elem, at(tray, uintptr(n-1)*s.size), depth) == surprise {
			return n, surprise
		}
		if d.next(']') {
			return n, full
		}
		if !d.next(',') {
			return n, surprise
		}
	}
	return shortList, empty
}

func (d *Decoder) element(s *shape, p memory, depth int) got {
	if s.form <= asLong && !d.next('"') {
		return surprise
	}
	return d.value(s, p, depth)
}

// LongList counts the elements first.
func (d *Decoder) longList(s *shape, p memory, depth int) got {
	n := d.count()
	if !d.next('[') || n > MaxList {
		return surprise
	}
	elem := s.tray.list(p, n)
	for i := range n {
		if i > 0 && !d.next(',') || d.element(s.elem, at(elem, uintptr(i)*s.size), depth) == surprise {
			return surprise
		}
	}
	return either(true, d.next(']'))
}

// Count counts the elements of the list that starts here; it has some.
func (d *Decoder) count() int {
	n, depth := 0, 0
	for i := d.pos + 1; i < len(d.data); i++ {
		switch c := d.data[i]; c {
		case '"':
			for i++; i < len(d.data) && d.data[i] != '"'; i++ {
				if d.data[i] == '\\' {
					i++
				}
			}
		case '{', '[':
			depth++
		case '}', ']':
			if depth == 0 {
				return n + 1
			}
			depth--
		case ',':
			if depth == 0 {
				n++
			}
		}
	}
	return 0
}

// Nested reads an event within an event: the value of the kind, then the data.
func (d *Decoder) nested(s *shape, p memory, depth int) got {
	if depth > MaxNest {
		return surprise
	}
	inner := byName[string(d.until('"'))]
	if inner == nil || !d.skip(s.nested) {
		return surprise
	}
	room := inner.shelf.fresh()
	if d.group(inner.shape, room, depth) == surprise {
		return surprise
	}
	setEvent(p, inner.shelf.take(room))
	return full
}
