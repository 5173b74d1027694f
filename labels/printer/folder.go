package printer

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"io/fs"
	"os"
	"path/filepath"
)

// Folder is a printer that is a folder: each file appears in it whole.
type Folder struct{ name, dir string }

// NewFolder is a folder that must exist.
func NewFolder(name, dir string) (*Folder, error) {
	if err := checkName(name); err != nil {
		return nil, err
	}
	info, err := os.Stat(dir)
	if err != nil {
		return nil, fmt.Errorf("printer %s: %w", name, err)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("printer %s: %s is no folder", name, dir)
	}
	return &Folder{name, dir}, nil
}

// Name is the printer's name.
func (p *Folder) Name() string { return p.name }

// Print writes the file under its title and a number made from its name. A
// file that is there already with the same bytes is taken as printed, so that
// a second try after a power cut writes nothing twice; with other bytes it is
// held.
func (p *Folder) Print(_ context.Context, f File) error {
	file := filepath.Join(p.dir, FileName(f))
	held := func(err error) error { return &Held{p.name, err.Error()} }
	if old, err := os.ReadFile(file); err == nil {
		if bytes.Equal(old, f.Data) {
			return nil
		}
		return held(fmt.Errorf("%s is there already with other contents; move it away", file))
	} else if !errors.Is(err, fs.ErrNotExist) {
		return held(err)
	}
	if err := writeWhole(p.dir, file, f.Data); err != nil {
		return held(err)
	}
	return nil
}

// FileName is the name of the file that a folder gets: the title in plain
// letters, a number made from the file's name, the format.
func FileName(f File) string {
	h := fnv.New32a()
	h.Write([]byte(f.Name))
	title := plainName(f.Title)
	if title == "" {
		title = "label"
	}
	return fmt.Sprintf("%s-%08x.%s", title, h.Sum32(), f.Format)
}

// writeWhole writes a file so that it is either there whole or not at all,
// also after a power cut.
func writeWhole(dir, file string, data []byte) error {
	tmp, err := os.CreateTemp(dir, ".label-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // nothing is left of it after the rename
	_, err = tmp.Write(data)
	if err == nil {
		err = tmp.Chmod(0o644)
	}
	if err == nil {
		err = tmp.Sync()
	}
	if closed := tmp.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	if err := os.Rename(tmp.Name(), file); err != nil {
		return err
	}
	return SyncDir(dir)
}

// SyncDir makes a rename in a folder durable. Systems that cannot sync a folder
// need not. An error is that of opening or syncing it.
func SyncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) {
		return err
	}
	return nil
}
