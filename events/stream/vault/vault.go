package vault

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// Vault is a store that this program has taken and found sound.
type Vault struct {
	place  Place
	report Report
	lock   *os.File
	marker *Marker
	guard  copied
}

// Open takes a store, looks at all of it and, if nothing is missing, brings
// the protected copy up to date, all before a server touches it. Holder names
// the caller for others who want the store. Errors: *InUse, *OtherVersion,
// *Damaged, or what the operating system says. A store that does not exist,
// and of which neither mark nor protected copy says that it ever did, is
// Fresh: let the server make it, then call Found.
func Open(p Place, holder string) (*Vault, error) {
	p, err := p.full()
	if err != nil {
		return nil, err
	}
	if info, err := os.Stat(p.Dir); err == nil && !info.IsDir() {
		return nil, fmt.Errorf("open store: %s is a file; name a folder for the store", p.Dir)
	}
	v, err := open(p, holder)
	if errors.Is(err, fs.ErrPermission) {
		return nil, fmt.Errorf("open store: %w; this user needs to read and write there", err)
	}
	if err != nil {
		return nil, fmt.Errorf("open store: %w", err)
	}
	return v, nil
}

func open(p Place, holder string) (*Vault, error) {
	if err := os.MkdirAll(p.Dir, 0o755); err != nil {
		return nil, err
	}
	lock, err := lock(p, holder)
	if err != nil {
		return nil, err
	}
	v := &Vault{place: p, lock: lock, guard: copied{dir: p.Guard, shop: p.Shop}}
	if v.report, err = survey(p); err == nil {
		err = v.report.Err()
	}
	if err == nil && !v.report.Fresh {
		err = v.secure()
	}
	if err != nil {
		return nil, errors.Join(err, lock.Close())
	}
	return v, nil
}

// secure makes the end of the store durable, since after a crash it may hold
// events that were stored and not acknowledged; brings the protected copy up
// to it, and the mark.
func (v *Vault) secure() error {
	r := v.report
	indexes, err := blockIndexes(v.place.blockDir())
	if err != nil {
		return err
	}
	if len(indexes) > 0 {
		if err := syncFile(blockPath(v.place.blockDir(), indexes[len(indexes)-1])); err != nil {
			return err
		}
	}
	if err := syncDir(v.place.blockDir()); err != nil {
		return err
	}
	err = errors.Join(v.guard.prepare(), v.guard.trim())
	if err == nil {
		_, err = v.guard.repair(v.place.blockDir(), false)
	}
	if err != nil {
		return fmt.Errorf("protected copy: %w", err)
	}
	if err := v.Protect(r.Events); err != nil {
		return err
	}
	mark := Mark{Seq: r.Events, Trace: r.lastTrace}
	v.marker, err = openMarker(v.place.Mark, mark, r.markCount)
	return err
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// Fresh reports whether there is no store yet.
func (v *Vault) Fresh() bool { return v.report.Fresh }

// Report is what was found on opening.
func (v *Vault) Report() Report { return v.report }

// Place is where the store is, with all defaults filled in.
func (v *Vault) Place() Place { return v.place }

// Found completes a fresh store after the server has made the stream: mark,
// protected copy, and last the file that says that this is a store. Nothing
// may have been acknowledged before.
func (v *Vault) Found() error {
	var err error
	if err = v.guard.prepare(); err != nil {
		return fmt.Errorf("found store: protected copy: %w", err)
	}
	if err = v.Protect(0); err != nil {
		return fmt.Errorf("found store: %w", err)
	}
	if v.marker, err = openMarker(v.place.Mark, Mark{}, v.report.markCount); err != nil {
		return fmt.Errorf("found store: %w", err)
	}
	if err = writeFile(v.place.formatPath(), formatText("store", v.place.Shop)); err != nil {
		return fmt.Errorf("found store: %w", err)
	}
	v.report.Fresh = false
	return nil
}

// Acknowledged notes that a message was acknowledged, without waiting for
// anything. An error concerns the mark only, and
// stays.
func (v *Vault) Acknowledged(seq uint64, id string, data []byte) error {
	return v.marker.Advance(seq, id, data)
}

// Mark is the number of the last message known to have been acknowledged, and
// the first error that noting one met.
func (v *Vault) Mark() (uint64, error) {
	m, err := v.marker.Current()
	return m.Seq, err
}

// Protect copies what was stored since the last time, up to and with event
// upTo, which must have been acknowledged.
func (v *Vault) Protect(upTo uint64) error {
	err := v.guard.settings(v.place.streamDir(v.place.ServerDir()))
	if err == nil {
		err = v.guard.extend(v.place.blockDir(), upTo)
	}
	if err != nil {
		return fmt.Errorf("protected copy: %w", err)
	}
	return nil
}

// Close lets go of the store. InOrder says that the server stopped properly
// and that the mark is exact, so that from then on not even half a record may
// be missing.
func (v *Vault) Close(inOrder bool) error {
	var err error
	if v.marker != nil {
		err = v.marker.Close(inOrder)
	}
	return errors.Join(err, v.lock.Close())
}
