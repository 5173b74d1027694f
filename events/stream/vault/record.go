package vault

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash"
	"strconv"

	"github.com/minio/highwayhash"
)

// Numbers of the record format, see the package doc.
const (
	headSize   = 22       // length, sequence, time, subject length
	sumSize    = 8        // HighwayHash-64 at the end
	maxRecord  = 32 << 20 // bytes; the server takes nothing longer
	hasHeaders = 1 << 31  // flag in the length
	deleted    = 3 << 62  // flags in the sequence: erased record, deletion mark
)

var (
	headerLine = []byte("NATS/1.0\r\n")
	headerEnd  = []byte("\r\n\r\n")
	idHeader   = []byte("\r\nNats-Msg-Id: ")
)

// record is one message as it lies in a block. Its slices point into the
// block.
type record struct {
	seq     uint64
	subject []byte
	id      []byte // nil if the message has none
	data    []byte
	sum     []byte // the checksum as stored
	size    int    // bytes of the whole record
}

// blockHash is the checksum of the records of one block: HighwayHash-64,
// keyed with the SHA-256 of "<stream>-<index>".
func blockHash(stream string, index int) hash.Hash64 {
	key := sha256.Sum256([]byte(stream + "-" + strconv.Itoa(index)))
	return newHash(key)
}

// streamHash is the checksum of a stream's settings.
func streamHash(stream string) hash.Hash64 { return newHash(sha256.Sum256([]byte(stream))) }

func newHash(key [sha256.Size]byte) hash.Hash64 {
	h, err := highwayhash.New64(key[:])
	if err != nil {
		panic("unreachable: a key of 32 bytes: " + err.Error())
	}
	return h
}

// parse reads the record at the beginning of b and verifies all of it: the
// checksum does not cover the lengths, so those must fit the contents.
func parse(b []byte, h hash.Hash64) (record, error) {
	if len(b) < headSize {
		return record{}, fmt.Errorf("%d bytes, too few for a record", len(b))
	}
	length := binary.LittleEndian.Uint32(b)
	size, subjectLen := int(length&^hasHeaders), int(binary.LittleEndian.Uint16(b[20:]))
	fixed := headSize + subjectLen + sumSize
	if length&hasHeaders != 0 {
		fixed += 4
	}
	if size < fixed || size > maxRecord {
		return record{}, fmt.Errorf("record length %d", size)
	}
	if size > len(b) {
		return record{}, fmt.Errorf("record length %d, only %d bytes left", size, len(b))
	}
	r := record{
		seq:     binary.LittleEndian.Uint64(b[4:]),
		subject: b[headSize : headSize+subjectLen],
		data:    b[headSize+subjectLen : size-sumSize],
		sum:     b[size-sumSize : size],
		size:    size,
	}
	h.Reset()
	h.Write(b[4:20])
	h.Write(r.subject)
	if length&hasHeaders == 0 {
		h.Write(r.data)
	} else {
		h.Write(r.data[4:])
	}
	if h.Sum64() != binary.LittleEndian.Uint64(r.sum) {
		return record{}, fmt.Errorf("checksum does not match")
	}
	if r.seq&deleted != 0 {
		return record{}, fmt.Errorf("deletion of event %d", r.seq&^deleted)
	}
	if length&hasHeaders != 0 {
		return r.splitHeaders()
	}
	return r, nil
}

// splitHeaders takes the headers off the data and finds the id among them.
func (r record) splitHeaders() (record, error) {
	n := int64(binary.LittleEndian.Uint32(r.data))
	rest := r.data[4:]
	if n > int64(len(rest)) {
		return record{}, fmt.Errorf("headers of %d bytes in %d", n, len(rest))
	}
	headers := rest[:n]
	if !bytes.HasPrefix(headers, headerLine) || bytes.Index(headers, headerEnd) != len(headers)-len(headerEnd) {
		return record{}, fmt.Errorf("headers do not end after %d bytes", n)
	}
	r.data = rest[n:]
	if i := bytes.Index(headers, idHeader); i >= 0 {
		id := headers[i+len(idHeader):]
		r.id = id[:bytes.IndexByte(id, '\r')]
	}
	return r, nil
}
