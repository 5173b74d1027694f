package vault

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"syscall"
)

// readable reports the first file below dir that cannot be opened and read.
// The server takes an unreadable file for a broken stream and removes the
// stream, so it must not start then.
func readable(dir string) error {
	return filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		if _, err = f.Read(make([]byte, 1)); errors.Is(err, io.EOF) {
			return nil
		}
		return err
	})
}

// errNotDir: a file stands where a folder should be.
var errNotDir = syscall.ENOTDIR

// writeFile writes a small file so that after a crash either the old or the
// new content is there, durably.
func writeFile(path string, data []byte) error {
	tmp := path + ".tmp"
	f, err := os.OpenFile(tmp, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		os.Remove(tmp)
		return err
	}
	if err := os.Rename(tmp, path); err != nil {
		os.Remove(tmp)
		return err
	}
	return syncDir(filepath.Dir(path))
}

// syncDir makes the names in a folder durable.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	if errors.Is(err, syscall.EINVAL) { // a file system that cannot, and need not
		err = nil
	}
	return errors.Join(err, d.Close())
}

// freeName finds a name that does not exist yet: path, or path-2, path-3, …
func freeName(path string) string {
	name := path
	for i := 2; ; i++ {
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name
		}
		name = path + "-" + strconv.Itoa(i)
	}
}

// readFrom reads a file from an offset to its present end into *buf, which it
// lets grow as needed.
func readFrom(path string, offset int64, buf *[]byte) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.IsDir() {
		return &fs.PathError{Op: "read", Path: path, Err: syscall.EISDIR}
	}
	size := int(max(info.Size()-offset, 0))
	if cap(*buf) < size {
		*buf = make([]byte, size)
	}
	n, err := f.ReadAt((*buf)[:size], offset)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	*buf = (*buf)[:n]
	return err
}
