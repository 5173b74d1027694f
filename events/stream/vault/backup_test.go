package vault

import (
	"encoding/hex"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// makeStore writes a whole store around blocks, as a server and an orderly
// close would have left it.
func makeStore(t *testing.T, last uint64, blocks ...[]byte) Place {
	p := testPlace(t, blocks...)
	dir := p.streamDir(p.ServerDir())
	settings := []byte(`{"created":"2024-01-01T00:00:00Z","name":"countback-sorrel"}`)
	h := streamHash(testStream)
	h.Write(settings)
	require.NoError(t, os.WriteFile(filepath.Join(dir, settingsFile), settings, 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, settingsSum), []byte(hex.EncodeToString(h.Sum(nil))), 0o644))
	require.NoError(t, os.WriteFile(p.formatPath(), formatText("store", p.Shop), 0o644))
	v, err := Open(p, "test")
	require.NoError(t, err)
	require.False(t, v.Fresh())
	require.Equal(t, last, v.Report().Events)
	require.NoError(t, v.Close(true))
	return p
}

func TestBackupGrows(t *testing.T) {
	p := makeStore(t, 8, sampleBlock(1, 1, 5), sampleBlock(2, 6, 8))
	dest := filepath.Join(t.TempDir(), "backup")
	last, err := Backup(p, dest)
	require.NoError(t, err)
	require.EqualValues(t, 8, last)
	first, err := os.Stat(blockPath(dest, 1))
	require.NoError(t, err)

	require.NoError(t, os.WriteFile(blockPath(p.blockDir(), 2), sampleBlock(2, 6, 12), 0o644))
	require.NoError(t, os.WriteFile(blockPath(p.blockDir(), 3), sampleBlock(3, 13, 15), 0o644))
	last, err = Backup(p, dest)
	require.NoError(t, err)
	require.EqualValues(t, 15, last)
	again, err := os.Stat(blockPath(dest, 1))
	require.NoError(t, err)
	require.Equal(t, first.ModTime(), again.ModTime(), "a sealed block is copied once")

	// A machine that has nothing but the backup.
	fresh := Place{Shop: "sorrel", Dir: filepath.Join(t.TempDir(), "store")}
	r, err := Restore(fresh, false, dest)
	require.NoError(t, err)
	require.Equal(t, Restored{Events: 15, LastID: "b1-15"}, r)
	report, err := Check(fresh)
	require.NoError(t, err)
	require.Empty(t, report.Faults)
	require.EqualValues(t, 15, report.Guarded)
	require.EqualValues(t, 15, report.Mark)
}

func TestBackupRefuses(t *testing.T) {
	p := makeStore(t, 5, sampleBlock(1, 1, 5))
	full := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(full, "letters.txt"), nil, 0o644))
	_, err := Backup(p, full)
	require.ErrorContains(t, err, "is not empty and is no copy of a store")
	_, err = Backup(Place{Shop: "sorrel", Dir: t.TempDir() + "/none"}, t.TempDir())
	require.ErrorContains(t, err, "holds no store")
	_, err = Restore(p, false, full)
	require.ErrorContains(t, err, "is no backup of a store")

	dest := filepath.Join(t.TempDir(), "backup")
	_, err = Backup(p, dest)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(blockPath(dest, 1), flipped(sampleBlock(1, 1, 5), 200), 0o644))
	_, err = Backup(p, dest)
	require.ErrorContains(t, err, "move it away and back up again")
	require.NoError(t, os.WriteFile(blockPath(p.blockDir(), 1), flipped(sampleBlock(1, 1, 5), 200), 0o644))
	_, err = Backup(p, filepath.Join(t.TempDir(), "other"))
	require.ErrorContains(t, err, "is damaged", "a bad store must not replace a good backup")
}

// The copy of a block that rotted where only a deep look finds it.
func TestCheckFindsRotInTheCopy(t *testing.T) {
	p := makeStore(t, 8, sampleBlock(1, 1, 5), sampleBlock(2, 6, 8))
	require.NoError(t, os.WriteFile(blockPath(p.Guard, 1), flipped(sampleBlock(1, 1, 5), 200), 0o644))
	r, err := Check(p)
	require.NoError(t, err)
	require.NoError(t, r.Err(), "nothing is lost")
	require.Len(t, r.Warnings, 1)
	require.Contains(t, r.String(), "protected copy: checksum does not match")
	require.Contains(t, r.String(), "countback store restore")
	restored, err := Restore(p, false)
	require.NoError(t, err)
	require.Len(t, restored.Aside, 1, "the block of the copy, and nothing of the store")
	r, err = Check(p)
	require.NoError(t, err)
	require.Empty(t, r.Warnings)
	require.Contains(t, r.String(), "nothing is wrong")
}

// Wherever a restore is cut short, the next one comes to the same end.
func TestRestoreCutShort(t *testing.T) {
	for name, cut := range map[string]func(t *testing.T, p Place){
		"while the new folder is made": func(t *testing.T, p Place) {
			require.NoError(t, os.MkdirAll(filepath.Join(p.Dir, stagingName, "jetstream"), 0o755))
		},
		"before the old one is moved": func(t *testing.T, p Place) {
			require.NoError(t, os.MkdirAll(filepath.Join(p.Dir, restoredName, "jetstream"), 0o755))
		},
		"before the new one is in its place": func(t *testing.T, p Place) {
			other := makeStore(t, 8, sampleBlock(1, 1, 5), sampleBlock(2, 6, 8))
			require.NoError(t, os.Rename(p.ServerDir(), p.ServerDir()+".damaged"))
			require.NoError(t, os.Rename(other.ServerDir(), filepath.Join(p.Dir, restoredName)))
			require.NoError(t, os.RemoveAll(p.Guard), "it has nothing else")
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := makeStore(t, 8, sampleBlock(1, 1, 5), sampleBlock(2, 6, 8))
			require.NoError(t, os.WriteFile(blockPath(p.blockDir(), 1), flipped(sampleBlock(1, 1, 5), 200), 0o644))
			cut(t, p)
			_, err := Open(p, "test")
			require.ErrorAs(t, err, new(*Damaged))
			r, err := Restore(p, false)
			require.NoError(t, err)
			require.EqualValues(t, 8, r.Events)
			report, err := Check(p)
			require.NoError(t, err)
			require.Empty(t, report.Faults)
			require.NoDirExists(t, filepath.Join(p.Dir, stagingName))
			require.NoDirExists(t, filepath.Join(p.Dir, restoredName))
		})
	}
}
