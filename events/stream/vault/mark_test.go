package vault

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

func TestMarkIsKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mark")
	k, m, err := OpenMarker(path)
	require.NoError(t, err)
	require.Equal(t, Mark{}, m)
	for seq := uint64(1); seq <= 7; seq++ {
		require.NoError(t, k.Advance(seq, journal.ID("b2", uint32(seq)), []byte("{}")))
		want := Mark{Seq: seq, Trace: TraceOf(journal.ID("b2", uint32(seq)), []byte("{}"))}
		require.Eventually(t, func() bool {
			m, count, ok, err := readMark(path)
			return err == nil && ok && m == want && count == seq+1
		}, 5*time.Second, time.Millisecond)
	}
	require.NoError(t, k.Advance(3, "b2-3", nil), "behind: nothing happens")
	require.NoError(t, k.Close(true))
	require.NoError(t, k.Advance(9, "b2-9", nil), "too late: nothing happens")
	k, m, err = OpenMarker(path)
	require.NoError(t, err)
	require.EqualValues(t, 7, m.Seq)
	require.Equal(t, "b2-7", m.Trace.ID)
	require.NoError(t, k.Close(false))
}

func TestMarkText(t *testing.T) {
	m := Mark{Seq: 42, Trace: Trace{ID: "b2-42", Sum: 0xbeef}, Closed: true}
	b := appendSlot(nil, 7, m)
	require.Len(t, b, slotSize)
	require.True(t, strings.HasPrefix(string(b), "countback mark 1 count 7 seq 42 id b2-42 sum 0000beef state closed   "), string(b))
	got, count, err := parseSlot(b)
	require.NoError(t, err)
	require.EqualValues(t, 7, count)
	require.Equal(t, m, got)
	long := Mark{Seq: 1<<64 - 1, Trace: Trace{ID: strings.Repeat("x", journal.MaxName) + "-4294967295", Sum: 1<<32 - 1}}
	b = appendSlot(nil, 1<<64-1, long)
	require.Len(t, b, slotSize)
	got, _, err = parseSlot(b)
	require.NoError(t, err)
	require.Equal(t, long, got)
	for bit := range len(b) * 8 {
		b[bit/8] ^= 1 << (bit % 8)
		_, _, err := parseSlot(b)
		require.Error(t, err, "bit %d", bit)
		b[bit/8] ^= 1 << (bit % 8)
	}
}

// While one slot is written the other one is whole.
func TestMarkSurvivesTornWrite(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mark")
	k, _, err := OpenMarker(path)
	require.NoError(t, err)
	require.NoError(t, k.write(Mark{Seq: 1}, false))
	require.NoError(t, k.write(Mark{Seq: 2}, false))
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	newest := int(k.count%2) * slotSpace
	for _, cut := range []int{0, 1, 100, slotSize - 1} {
		torn := append([]byte(nil), b...)
		clear(torn[newest+cut : newest+slotSize])
		require.NoError(t, os.WriteFile(path, torn, 0o644))
		m, _, ok, err := readMark(path)
		require.NoError(t, err)
		require.True(t, ok)
		require.EqualValues(t, 1, m.Seq)
	}
	clear(b)
	require.NoError(t, os.WriteFile(path, b, 0o644))
	_, _, err = OpenMarker(path)
	var damaged *DamagedMark
	require.ErrorAs(t, err, &damaged)
	require.ErrorContains(t, err, "countback store check")
	require.NoError(t, k.Close(false))
}
