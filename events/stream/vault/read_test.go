package vault

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

// testPlace is a store with blocks and nothing else.
func testPlace(t *testing.T, blocks ...[]byte) Place {
	p, err := Place{Shop: "sorrel", Dir: filepath.Join(t.TempDir(), "store")}.full()
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(p.blockDir(), 0o755))
	for i, b := range blocks {
		require.NoError(t, os.WriteFile(blockPath(p.blockDir(), i+1), b, 0o644))
	}
	return p
}

func TestReadFromEverywhere(t *testing.T) {
	p := testPlace(t, sampleBlock(1, 1, 5), sampleBlock(2, 6, 11), sampleBlock(3, 12, 12), nil)
	for from := journal.Seq(0); from <= 13; from++ {
		for to := journal.Seq(0); to <= 12; to++ {
			next := max(from, 1)
			require.NoError(t, p.Read(t.Context(), from, to, func(m journal.Message) error {
				require.Equal(t, next, m.Seq)
				require.Equal(t, journal.Message{Seq: next, Terminal: "b1", N: uint32(next), Job: "J1", Data: []byte(`{"a":"fact"}`)}, m)
				next++
				return nil
			}))
			require.Equal(t, max(from, to+1, 1), next, "from %d to %d", from, to)
		}
	}
}

func TestReadFindsGaps(t *testing.T) {
	ignore := func(journal.Message) error { return nil }
	var gap *journal.Gap
	p := testPlace(t, sampleBlock(1, 1, 5), sampleBlock(2, 8, 11))
	require.ErrorAs(t, p.Read(t.Context(), 1, 11, ignore), &gap)
	require.Equal(t, journal.Gap{After: 5, Next: 8, Lost: 2}, *gap)
	require.NoError(t, p.Read(t.Context(), 8, 11, ignore))
	require.ErrorAs(t, p.Read(t.Context(), 8, 20, ignore), &gap)
	require.Equal(t, journal.Gap{After: 11, Lost: 9}, *gap)
	require.ErrorAs(t, testPlace(t).Read(t.Context(), 1, 2, ignore), &gap)
	require.EqualError(t, gap, "journal is damaged: 2 messages missing after 0; stop working and run: countback store check")
	p = testPlace(t, flipped(sampleBlock(1, 1, 5), 300))
	require.ErrorContains(t, p.Read(t.Context(), 1, 5, ignore), "block 1: event 3: checksum does not match; stop working and run: countback store check")
}

// The next block is read while one is handed out. What is wrong with it is said
// after all that lies before it, and a reader that stops earlier never hears it.
func TestReadAheadKeepsOrder(t *testing.T) {
	p := testPlace(t, sampleBlock(1, 1, 5), flipped(sampleBlock(2, 6, 9), 300), sampleBlock(3, 10, 12))
	last := journal.Seq(0)
	err := p.Read(t.Context(), 1, 12, func(m journal.Message) error { last = m.Seq; return nil })
	require.ErrorContains(t, err, "block 2: event 8: checksum does not match; stop working and run: countback store check")
	require.Equal(t, journal.Seq(7), last)
	enough := errors.New("enough")
	require.Equal(t, enough, p.Read(t.Context(), 1, 12, func(m journal.Message) error {
		if m.Seq == 5 {
			return enough
		}
		return nil
	}))
	require.NoError(t, p.Read(t.Context(), 1, 7, func(journal.Message) error { return nil }))
}

func TestReadStops(t *testing.T) {
	p := testPlace(t, sampleBlock(1, 1, 5))
	enough := errors.New("enough")
	require.Equal(t, enough, p.Read(t.Context(), 1, 5, func(m journal.Message) error {
		if m.Seq == 3 {
			return enough
		}
		return nil
	}))
	ctx, cancel := context.WithCancelCause(t.Context())
	n := 0
	require.Equal(t, enough, p.Read(ctx, 1, 5, func(journal.Message) error { n++; cancel(enough); return nil }))
	require.Equal(t, 1, n)
}

// Who wrote a message is taken from its id only if it fits its subject.
func TestReadOfForeignMessages(t *testing.T) {
	var b []byte
	for i, row := range [][2]string{
		{"countback.sorrel.b1.J1", "b1-1"},
		{"countback.sorrel.b1.J1", ""},
		{"countback.sorrel.b1.J1", "b2-1"},
		{"countback.sorrel.b1.J1", "b1-01"},
		{"countback.sorrel.b1.J1", "b1"},
		{"countback.bay.b1.J1", "b1-1"},
		{"other", "b1-1"},
	} {
		b = appendRecord(b, testStream, 1, uint64(i+1), row[0], row[1], []byte("x"))
	}
	p, n := testPlace(t, b), 0
	require.NoError(t, p.Read(t.Context(), 1, 7, func(m journal.Message) error {
		n++
		require.Equal(t, m.Seq == 1, m.N == 1, "%+v", m)
		return nil
	}))
	require.Equal(t, 7, n)
}
