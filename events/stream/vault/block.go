package vault

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// block is what a look at one block file found.
type block struct {
	index       int
	path        string
	size        int64
	first, last uint64 // sequences of the sound records from the beginning on; 0 if none
	good        int64  // bytes of those
	bad         error  // why the next record is not sound; nil if there is none
	beyond      uint64 // the first sound record behind the bad one; 0 if none
	seen        map[uint64]Trace
}

// Trace is what identifies a stored message in marks and copies.
type Trace struct {
	ID  string
	Sum uint32
}

// TraceOf makes the trace of a message; the sum is CRC-32C over its data.
func TraceOf(id string, data []byte) Trace {
	return Trace{ID: id, Sum: crc32.Checksum(data, castagnoli)}
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// blockIndex is the number in a block's file name; false for other files.
func blockIndex(name string) (int, bool) {
	digits, ok := strings.CutSuffix(name, ".blk")
	if !ok {
		return 0, false
	}
	i, err := strconv.Atoi(digits)
	return i, err == nil && i > 0 && strconv.Itoa(i) == digits
}

// blockIndexes lists the blocks in a folder in order; none if it is missing.
func blockIndexes(dir string) ([]int, error) {
	entries, err := os.ReadDir(dir)
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var indexes []int
	for _, e := range entries {
		if i, ok := blockIndex(e.Name()); ok {
			indexes = append(indexes, i)
		}
	}
	slices.Sort(indexes)
	return indexes, nil
}

func blockPath(dir string, index int) string {
	return filepath.Join(dir, strconv.Itoa(index)+".blk")
}

// look reads and verifies one block. It remembers the messages whose
// sequences are in want, and its last one. An error means that the file could
// not be read; damage is in the result. It reads into *buf.
func look(stream, dir string, index int, want []uint64, buf *[]byte) (block, error) {
	b := block{index: index, path: blockPath(dir, index), seen: map[uint64]Trace{}}
	if err := readFrom(b.path, 0, buf); err != nil {
		return b, err
	}
	b.size = int64(len(*buf))
	h := blockHash(stream, index)
	var last record
	for rest := *buf; len(rest) > 0; rest = rest[last.size:] {
		r, err := parse(rest, h)
		if err == nil && b.last > 0 && r.seq != b.last+1 {
			err = fmt.Errorf("event %d follows event %d", r.seq, b.last)
		}
		if err != nil {
			b.bad, b.beyond = err, resync(stream, index, rest, b.last)
			break
		}
		last = r
		if b.first == 0 {
			b.first = r.seq
		}
		b.last, b.good = r.seq, b.good+int64(r.size)
		if slices.Contains(want, r.seq) {
			b.seen[r.seq] = TraceOf(string(r.id), r.data)
		}
	}
	if b.last > 0 {
		b.seen[b.last] = TraceOf(string(last.id), last.data)
	}
	return b, nil
}

// resync looks for the first sound record after event last, wherever it may
// begin, and returns its sequence; 0 if there is none. That tells damage
// inside a block from a write that was cut short.
func resync(stream string, index int, rest []byte, last uint64) uint64 {
	h := blockHash(stream, index)
	for at := headSize; ; at++ {
		i := bytes.Index(rest[min(at, len(rest)):], subjectRoot)
		if i < 0 {
			return 0
		}
		at += i
		if r, err := parse(rest[at-headSize:], h); err == nil && r.seq > last {
			return r.seq
		}
	}
}

// subjectRoot begins the subject of every message.
var subjectRoot = []byte("countback.")
