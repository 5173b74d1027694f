package vault

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events/journal"
)

// appendRecord writes a record as the server does; with headers if there is
// an id.
func appendRecord(b []byte, stream string, index int, seq uint64, subject, id string, data []byte) []byte {
	var headers []byte
	if id != "" {
		headers = []byte("NATS/1.0\r\nNats-Expected-Last-Subject-Sequence: 7\r\nNats-Msg-Id: " + id + "\r\n\r\n")
	}
	size := headSize + len(subject) + len(data) + sumSize
	length := uint32(size)
	if id != "" {
		size += 4 + len(headers)
		length = uint32(size) | hasHeaders
	}
	start := len(b)
	b = binary.LittleEndian.AppendUint32(b, length)
	b = binary.LittleEndian.AppendUint64(b, seq)
	b = binary.LittleEndian.AppendUint64(b, 1_700_000_000_000_000_000+seq)
	b = binary.LittleEndian.AppendUint16(b, uint16(len(subject)))
	h := blockHash(stream, index)
	h.Write(b[start+4 : start+20])
	b = append(b, subject...)
	h.Write([]byte(subject))
	if id != "" {
		b = binary.LittleEndian.AppendUint32(b, uint32(len(headers)))
		b = append(b, headers...)
		h.Write(headers)
	}
	b = append(b, data...)
	h.Write(data)
	return binary.LittleEndian.AppendUint64(b, h.Sum64())
}

const testStream = "countback-sorrel"

func sampleBlock(index int, first, last uint64) []byte {
	var b []byte
	for seq := first; seq <= last; seq++ {
		b = appendRecord(b, testStream, index, seq, "countback.sorrel.b1.J1", journal.ID("b1", uint32(seq)), []byte(`{"a":"fact"}`))
	}
	return b
}

func TestParseRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seq := rapid.Uint64Range(1, 1<<61).Draw(t, "seq")
		subject := rapid.StringMatching(`countback\.[a-z]{1,9}\.[a-z0-9]{1,9}\.[A-Z0-9]{1,9}`).Draw(t, "subject")
		id := rapid.StringMatching(`|[a-z0-9]{1,9}-[0-9]{6}`).Draw(t, "id")
		data := rapid.SliceOf(rapid.Byte()).Draw(t, "data")
		b := appendRecord(nil, testStream, 3, seq, subject, id, data)
		r, err := parse(append(b, "and more"...), blockHash(testStream, 3))
		require.NoError(t, err)
		require.Equal(t, seq, r.seq)
		require.Equal(t, subject, string(r.subject))
		require.Equal(t, id, string(r.id))
		require.True(t, bytes.Equal(data, r.data))
		require.Equal(t, len(b), r.size)
		_, err = parse(b, blockHash(testStream, 4))
		require.Error(t, err, "in another block")
	})
}

// Whichever bit is flipped, the record is not taken for sound; only where a
// record without headers, which no terminal writes, divides subject from data
// is protected by nothing.
func TestParseFindsEveryFlippedBit(t *testing.T) {
	for _, id := range []string{"b1-7", ""} {
		b := appendRecord(nil, testStream, 1, 7, "countback.sorrel.b1.J1", id, []byte("{\"text\":\"a\\r\\n\\r\\n\"}\r\n\r\nmore"))
		for bit := range len(b) * 8 {
			if at := bit / 8; id == "" && (at == 20 || at == 21) {
				continue
			}
			b[bit/8] ^= 1 << (bit % 8)
			_, err := parse(b, blockHash(testStream, 1))
			require.Error(t, err, "byte %d bit %d", bit/8, bit%8)
			b[bit/8] ^= 1 << (bit % 8)
		}
		for n := range b {
			_, err := parse(b[:n], blockHash(testStream, 1))
			require.Error(t, err, "%d bytes", n)
		}
	}
}

func TestParseRefusesDeletions(t *testing.T) {
	for _, flag := range []uint64{1 << 63, 1 << 62} {
		b := appendRecord(nil, testStream, 1, 7|flag, "", "", nil)
		_, err := parse(b, blockHash(testStream, 1))
		require.EqualError(t, err, "deletion of event 7")
	}
}

func FuzzParse(f *testing.F) {
	f.Add(sampleBlock(1, 1, 2))
	f.Add(appendRecord(nil, testStream, 1, 7, "countback.sorrel.b1.J1", "", []byte("x")))
	f.Add(make([]byte, 64))
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := parse(b, blockHash(testStream, 1))
		if err != nil {
			return
		}
		if r.size > len(b) || r.size < headSize+sumSize {
			t.Fatalf("size %d of %d", r.size, len(b))
		}
		resync(testStream, 1, b, 0)
	})
}

// look must find exactly what is wrong, wherever it is.
func TestLook(t *testing.T) {
	dir := t.TempDir()
	good := sampleBlock(1, 1, 9)
	one := len(good) / 9
	for _, row := range []struct {
		name        string
		block       []byte
		first, last uint64
		bad         string
		beyond      uint64
	}{
		{"sound", good, 1, 9, "", 0},
		{"empty", nil, 0, 0, "", 0},
		{"from the middle on", sampleBlock(1, 5, 9), 5, 9, "", 0},
		{"half a record more", append(bytes.Clone(good), good[:one/2]...), 1, 9, "only", 0},
		{"a few bytes more", append(bytes.Clone(good), 1, 2, 3), 1, 9, "3 bytes, too few for a record", 0},
		{"zeros more", append(bytes.Clone(good), make([]byte, 999)...), 1, 9, "record length 0", 0},
		{"a record missing", append(bytes.Clone(good[:3*one]), good[4*one:]...), 1, 3, "event 5 follows event 3", 5},
		{"a record twice", append(bytes.Clone(good[:3*one]), good[2*one:]...), 1, 3, "event 3 follows event 3", 4},
		{"a flipped bit", flipped(good, 4*one+40), 1, 4, "checksum does not match", 6},
		{"a flipped bit in a length", flipped(good, 4*one), 1, 4, "", 6},
		{"a flipped bit at the beginning", flipped(good, 10), 0, 0, "checksum does not match", 2},
		{"a flipped bit at the end", flipped(good, len(good)-1), 1, 8, "checksum does not match", 0},
		{"junk in between", append(append(bytes.Clone(good[:2*one]), "junk countback.junk"...), good[2*one:]...), 1, 2, "", 3},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.NoError(t, os.WriteFile(blockPath(dir, 1), row.block, 0o644))
			b, err := look(testStream, dir, 1, []uint64{2}, new([]byte))
			require.NoError(t, err)
			require.Equal(t, row.first, b.first)
			require.Equal(t, row.last, b.last)
			require.Equal(t, row.beyond, b.beyond)
			require.EqualValues(t, len(row.block), b.size)
			if b.bad == nil {
				require.EqualValues(t, len(row.block), b.good)
			} else {
				require.ErrorContains(t, b.bad, row.bad)
				require.EqualValues(t, int(row.last)*one, b.good)
			}
			if row.last > 1 && row.first == 1 {
				require.Equal(t, TraceOf("b1-2", []byte(`{"a":"fact"}`)), b.seen[2])
				require.Equal(t, journal.ID("b1", uint32(row.last)), b.seen[row.last].ID)
			}
		})
	}
	_, err := look(testStream, dir, 2, nil, new([]byte))
	require.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, os.Mkdir(filepath.Join(dir, "3.blk"), 0o755))
	_, err = look(testStream, dir, 3, nil, new([]byte))
	require.ErrorContains(t, err, "is a directory")
}

func flipped(b []byte, at int) []byte {
	b = bytes.Clone(b)
	b[at] ^= 4
	return b
}

func TestBlockIndexes(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"10.blk", "9.blk", "1.blk", "index.db", "2.blk.tmp", "02.blk", "0.blk", "-1.blk", "x.blk", "3.blk.damaged"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o644))
	}
	got, err := blockIndexes(dir)
	require.NoError(t, err)
	require.Equal(t, []int{1, 9, 10}, got)
	got, err = blockIndexes(filepath.Join(dir, "none"))
	require.NoError(t, err)
	require.Empty(t, got)
}
