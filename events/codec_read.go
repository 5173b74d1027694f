package events

import (
	"encoding/binary"
	"fmt"
	"math/bits"
)

// Decoder reads stored facts. It shares equal texts between the facts that it
// has read, so it is not for two goroutines at once. The zero Decoder is ready.
type Decoder struct {
	data  []byte
	pos   int
	last  Record   // its texts are likely to come again
	texts []string // a text seen before, by its hash
	buf   []byte
	long  longText // the last long text: many jobs are opened with one plan
	rooms []memory // for one event of each kind
	trays []memory // for the elements of one list of each type
}

// Decode reads one stored fact into r. Whatever it accepts, Append accepts,
// and what Append has written comes back equal (an empty list as none, a
// negative zero as zero). A kind that this program does not know, or knows
// with fewer members, is an Unknown and no error. After an error r is empty.
// Nothing keeps data.
func (d *Decoder) Decode(data []byte, r *Record) error {
	*r = Record{}
	if len(data) > MaxSize {
		return fmt.Errorf("event: %d bytes, more than %d", len(data), MaxSize)
	}
	if d.fast(data, r) {
		return nil
	}
	*r = Record{}
	if err := slowDecode(data, r); err != nil {
		*r = Record{}
		return err
	}
	return nil
}

// Texts up to this length are shared, in a table of this many places. A new
// text takes the place of an older one with the same hash.
const (
	sharedLen   = 64
	sharedBits  = 11
	sharedCount = 1 << sharedBits
)

// Share gives b as a string, the same one as before where it is remembered.
func (d *Decoder) share(b []byte) string {
	if len(b) > sharedLen {
		return string(b)
	}
	slot := &d.texts[hash(b)>>(64-sharedBits)]
	if *slot != string(b) {
		*slot = string(b)
	}
	return *slot
}

// longText is a long text as it was stored, with its closing quote, and as it
// was read.
type longText struct {
	stored []byte
	text   string
}

// remembered is how long a text is at least that is kept with its stored form.
const remembered = 1 << 10

// Hash mixes all of b; a poor mix would only cost memory.
func hash(b []byte) uint64 {
	const odd = 0x9e3779b97f4a7c15 // 2^64 by the golden ratio
	h := uint64(len(b))
	for len(b) >= 8 {
		h = bits.RotateLeft64((h^binary.LittleEndian.Uint64(b))*odd, 29)
		b = b[8:]
	}
	var rest uint64
	switch {
	case len(b) >= 4:
		rest = uint64(binary.LittleEndian.Uint32(b)) | uint64(binary.LittleEndian.Uint32(b[len(b)-4:]))<<32
	case len(b) > 0:
		rest = uint64(b[0]) | uint64(b[len(b)/2])<<8 | uint64(b[len(b)-1])<<16
	}
	h = (h ^ rest) * odd
	return h ^ h>>32*odd
}
