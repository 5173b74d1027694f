package vault

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
)

// Restored says what Restore did.
type Restored struct {
	Events uint64 // in the store now
	LastID string
	Lost   uint64   // acknowledged ones that no source had; not 0 only if that was accepted
	Aside  []string // where what was there before is now
}

// Incomplete says that no source has certain events.
type Incomplete struct {
	Have   uint64 // the last event up to which all are there
	Next   uint64 // the next event that any source has; 0 if there is none
	Wanted uint64 // the last event that is known to have existed
}

func (e *Incomplete) Error() string {
	last := e.Wanted
	if e.Next > 0 {
		last = e.Next - 1
	}
	return fmt.Sprintf("events %d to %d are in none of the sources; name another backup: countback store restore --from FOLDER; or give up all events from %d to %d: countback store restore --accept-loss",
		e.Have+1, last, e.Have+1, e.Wanted)
}

// Restore makes a damaged store whole again, out of what is left of it, its
// protected copy, and the backups in from. It takes each event from the first
// of them that has it unharmed. Nothing is deleted: what was in the store is
// moved aside, in the same folder. In a sound store only the protected copy is
// made good.
//
// If anything is missing the error is *Incomplete and nothing is changed.
// With acceptLoss the store then ends before the first event that is missing,
// since a journal cannot have holes. Terminals that remember more than that
// will be refused (*journal.Skipped) until they send it again.
func Restore(p Place, acceptLoss bool, from ...string) (Restored, error) {
	p, err := p.full()
	if err != nil {
		return Restored{}, err
	}
	if err := os.MkdirAll(p.Dir, 0o755); err != nil {
		return Restored{}, fmt.Errorf("restore store: %w", err)
	}
	lock, err := lock(p, "countback store restore")
	if err != nil {
		return Restored{}, fmt.Errorf("restore store: %w", err)
	}
	r, err := restore(p, acceptLoss, from)
	if err = errors.Join(err, lock.Close()); err != nil {
		return Restored{}, fmt.Errorf("restore store: %w", err)
	}
	return r, nil
}

func restore(p Place, acceptLoss bool, from []string) (Restored, error) {
	if err := resume(p); err != nil {
		return Restored{}, err
	}
	sources, err := findSources(p, from)
	if err != nil {
		return Restored{}, err
	}
	if r, err := survey(p); err == nil && r.Err() == nil && !r.Fresh {
		aside, err := renew(p)
		return Restored{Events: r.Events, LastID: r.LastID, Aside: aside}, err
	}
	mark, count, _, err := readMark(p.Mark)
	if damaged := (*DamagedMark)(nil); err != nil && !errors.As(err, &damaged) {
		return Restored{}, err
	}
	staging := filepath.Join(p.Dir, stagingName)
	w := weld{stream: p.stream(), to: filepath.Join(p.streamDir(staging), "msgs")}
	if err := w.all(sources); err != nil {
		return Restored{}, err
	}
	wanted := max(mark.Seq, w.highest)
	if w.last < wanted && !acceptLoss {
		return Restored{}, errors.Join(&Incomplete{Have: w.last, Next: w.after, Wanted: wanted}, os.RemoveAll(staging))
	}
	if err := copySettings(sources, p.streamDir(staging), p.stream()); err != nil {
		return Restored{}, err
	}
	r := Restored{Events: w.last, LastID: w.trace.ID, Lost: wanted - w.last}
	if r.Aside, err = swap(p, staging); err != nil {
		return r, err
	}
	aside, err := renew(p)
	if r.Aside = append(r.Aside, aside...); err != nil {
		return r, fmt.Errorf("protected copy: %w", err)
	}
	m, err := openMarker(p.Mark, Mark{Seq: w.last, Trace: w.trace}, count)
	if err != nil {
		return r, err
	}
	return r, errors.Join(m.Close(true), writeFile(p.formatPath(), formatText("store", p.Shop)))
}

// source is a folder of blocks, and the one that holds its settings.
type source struct{ blocks, settings string }

// findSources lists the store itself first, then its protected copy, then the
// backups.
func findSources(p Place, from []string) ([]source, error) {
	if _, err := checkFormat(p.formatPath(), "store", p.Shop); err != nil {
		return nil, err
	}
	stream := p.streamDir(p.ServerDir())
	sources := []source{{filepath.Join(stream, "msgs"), stream}}
	for i, dir := range append([]string{p.Guard}, from...) {
		ok, err := copied{dir: dir, shop: p.Shop}.exists()
		if err != nil {
			return nil, err
		}
		if !ok && i > 0 {
			return nil, fmt.Errorf("%s is no backup of a store", dir)
		}
		if ok {
			sources = append(sources, source{dir, dir})
		}
	}
	return sources, nil
}

// weld puts blocks together record by record. Blocks of one number are the
// same in every source except for damage and for where they end, so a record
// lies at the same place in all that have it.
type weld struct {
	stream, to string
	last       uint64 // last event written
	trace      Trace
	highest    uint64 // of all events in any source
	after      uint64 // first event behind a hole
}

func (w *weld) all(sources []source) error {
	if err := os.MkdirAll(w.to, 0o755); err != nil {
		return err
	}
	var indexes []int
	for _, s := range sources {
		found, err := blockIndexes(s.blocks)
		if err != nil && !errors.Is(err, errNotDir) {
			return err
		}
		indexes = append(indexes, found...)
	}
	slices.Sort(indexes)
	for _, index := range slices.Compact(indexes) {
		if err := w.block(index, sources); err != nil {
			return err
		}
	}
	return syncDir(w.to)
}

func (w *weld) block(index int, sources []source) error {
	bufs := make([][]byte, 0, len(sources))
	for _, s := range sources {
		var buf []byte
		if err := readFrom(blockPath(s.blocks, index), 0, &buf); err == nil {
			bufs = append(bufs, buf) // one that cannot be read has nothing to give
		}
	}
	h := blockHash(w.stream, index)
	var out []byte
	for w.after == 0 {
		r, ok := record{}, false
		for _, buf := range bufs {
			got, err := parse(buf[min(len(out), len(buf)):], h)
			if ok = err == nil && got.seq == w.last+1; ok {
				r = got
				out = append(out, buf[len(out):len(out)+r.size]...)
				break
			}
		}
		if !ok {
			break
		}
		w.last, w.trace = r.seq, TraceOf(string(r.id), r.data)
	}
	w.highest = max(w.highest, w.last)
	for _, buf := range bufs {
		if seq := resync(w.stream, index, buf[min(len(out), len(buf)):], w.last); seq > 0 {
			w.highest = max(w.highest, seq)
			if w.after == 0 || seq < w.after {
				w.after = seq
			}
		}
	}
	if len(out) == 0 {
		return nil
	}
	path := blockPath(w.to, index)
	if err := os.WriteFile(path, out, 0o644); err != nil {
		return err
	}
	return syncFile(path)
}

// copySettings takes the settings from the first source that has them whole.
func copySettings(sources []source, to, stream string) error {
	var errs []error
	for _, s := range sources {
		err := checkSettings(s.settings, stream)
		if err == nil {
			return errors.Join(copied{dir: to}.settings(s.settings), syncDir(to))
		}
		errs = append(errs, err)
	}
	return fmt.Errorf("settings of the stream are in none of the sources: %w", errors.Join(errs...))
}

// Names of a new server's folder while it is made, and when it is complete
// but the old one is still in its place.
const (
	stagingName  = serverName + ".new"
	restoredName = serverName + ".restored"
)

// resume tidies up after a restore that was cut short. The complete new
// folder counts only if the old one has already been moved aside.
func resume(p Place) error {
	restored := filepath.Join(p.Dir, restoredName)
	if _, err := os.Lstat(p.ServerDir()); errors.Is(err, fs.ErrNotExist) {
		if err := os.Rename(restored, p.ServerDir()); !errors.Is(err, fs.ErrNotExist) {
			return errors.Join(err, syncDir(p.Dir))
		}
	}
	return errors.Join(os.RemoveAll(restored), os.RemoveAll(filepath.Join(p.Dir, stagingName)))
}

// swap moves the server's folder aside and the new one into its place.
func swap(p Place, staging string) (aside []string, err error) {
	restored := filepath.Join(p.Dir, restoredName)
	if err := errors.Join(os.Rename(staging, restored), syncDir(p.Dir)); err != nil {
		return nil, err
	}
	if _, err := os.Lstat(p.ServerDir()); !errors.Is(err, fs.ErrNotExist) {
		name := freeName(p.ServerDir() + ".damaged")
		if err := errors.Join(os.Rename(p.ServerDir(), name), syncDir(p.Dir)); err != nil {
			return nil, err
		}
		aside = append(aside, name)
	}
	return aside, errors.Join(os.Rename(restored, p.ServerDir()), syncDir(p.Dir))
}

// renew makes the protected copy one of the restored store.
func renew(p Place) ([]string, error) {
	c := copied{dir: p.Guard, shop: p.Shop}
	if err := c.prepare(); err != nil {
		return nil, err
	}
	aside, err := c.repair(p.blockDir(), true)
	if err == nil {
		err = errors.Join(c.settings(p.streamDir(p.ServerDir())), c.extend(p.blockDir(), math.MaxUint64))
	}
	return aside, err
}
