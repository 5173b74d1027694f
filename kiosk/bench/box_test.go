package bench

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events/journal"
)

func draft(n uint32, data string) journal.Draft {
	return journal.Draft{Terminal: "b2", N: n, Job: "J1", Data: []byte(data)}
}

func openBox(t require.TestingT, path string) *Box {
	b, err := OpenBox(path)
	require.NoError(t, err)
	return b
}

// A box that is opened again after any number of acts holds what a tray would.
func TestBoxKeepsWhatATrayKeeps(t *testing.T) {
	dir := t.TempDir()
	runs := 0
	rapid.Check(t, func(t *rapid.T) {
		runs++
		path := filepath.Join(dir, "box", string(rune('a'+runs%26)), "outbox")
		require.NoError(t, os.RemoveAll(filepath.Dir(path)))
		b, tray := openBox(t, path), &Tray{}
		n := uint32(0)
		for range rapid.IntRange(0, 20).Draw(t, "acts") {
			switch rapid.IntRange(0, 3).Draw(t, "act") {
			case 0, 1:
				n++
				d := draft(n, rapid.String().Draw(t, "data"))
				require.NoError(t, b.Keep(t.Context(), d))
				require.NoError(t, tray.Keep(t.Context(), d))
			case 2:
				up := rapid.Uint32Range(1, n+1).Draw(t, "sent")
				require.NoError(t, b.Sent(t.Context(), up))
				require.NoError(t, tray.Sent(t.Context(), up))
			case 3:
				require.NoError(t, b.Close())
				b = openBox(t, path)
			}
			want, _ := tray.Kept(nil)
			got, _ := b.Kept(nil)
			require.Equal(t, len(want), len(got))
			for i := range want {
				require.Equal(t, want[i].N, got[i].N)
				require.Equal(t, string(want[i].Data), string(got[i].Data))
			}
		}
		require.NoError(t, b.Close())
	})
}

// A line that the power cut in two was never kept; a line that changed is said,
// and nothing behind it is lost in silence.
func TestBoxThatIsDamaged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "outbox")
	b := openBox(t, path)
	for n := uint32(1); n <= 3; n++ {
		require.NoError(t, b.Keep(t.Context(), draft(n, `{"n":1}`)))
	}
	require.NoError(t, b.Close())
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	for cut := len(whole) - 1; cut > len(whole)*2/3+2; cut-- {
		require.NoError(t, os.WriteFile(path, whole[:cut], 0o600))
		b = openBox(t, path)
		kept, _ := b.Kept(nil)
		require.Len(t, kept, 2, "cut at %d of %d", cut, len(whole))
		require.NoError(t, b.Keep(t.Context(), draft(3, "again")))
		require.NoError(t, b.Close())
		b = openBox(t, path)
		kept, _ = b.Kept(nil)
		require.Len(t, kept, 3)
		require.NoError(t, b.Close())
	}
	for at := range len(whole) / 3 {
		bad := append([]byte(nil), whole...)
		bad[at] ^= 0x04
		require.NoError(t, os.WriteFile(path, bad, 0o600))
		_, err := OpenBox(path)
		require.ErrorContains(t, err, "outbox: ", "byte %d", at)
		require.ErrorContains(t, err, ":1: ")
	}
}

func TestBoxIsOpenOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "outbox")
	b := openBox(t, path)
	_, err := OpenBox(path)
	require.ErrorIs(t, err, ErrBoxInUse)
	require.NoError(t, b.Close())
	require.NoError(t, openBox(t, path).Close())
}
