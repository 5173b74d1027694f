package vault

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"countback/events"
)

// A copy holds the blocks and the settings of a stream, and nothing that
// only the server needs. The guard is one, and so is a backup.
type copied struct {
	dir  string
	shop events.Shop
}

func (c copied) formatPath() string { return filepath.Join(c.dir, "copy") }
func (c copied) stream() string     { return StreamName(c.shop) }

// prepare makes the folder of the copy, or checks that it is one.
func (c copied) prepare() error {
	if err := os.MkdirAll(c.dir, 0o755); err != nil {
		return err
	}
	ok, err := checkFormat(c.formatPath(), "copy", c.shop)
	if ok || err != nil {
		return err
	}
	if entries, err := os.ReadDir(c.dir); err != nil || len(entries) > 0 {
		return errors.Join(err, fmt.Errorf("folder %s is not empty and is no copy of a store; name an empty or new folder", c.dir))
	}
	return writeFile(c.formatPath(), formatText("copy", c.shop))
}

// exists reports whether there is a copy here.
func (c copied) exists() (bool, error) { return checkFormat(c.formatPath(), "copy", c.shop) }

// settings copies the stream's settings, unless they are here already.
func (c copied) settings(streamDir string) error {
	for _, name := range settingsFiles {
		b, err := os.ReadFile(filepath.Join(streamDir, name))
		if err != nil {
			return err
		}
		path := filepath.Join(c.dir, name)
		if old, err := os.ReadFile(path); err == nil && string(old) == string(b) {
			continue
		}
		if err := writeFile(path, b); err != nil {
			return err
		}
	}
	return nil
}

// extend copies what the blocks in blockDir have beyond this copy, up to and
// with event upTo, and makes it durable. A block of the copy that is longer
// than the store's is left alone and reported.
func (c copied) extend(blockDir string, upTo uint64) error {
	indexes, err := blockIndexes(blockDir)
	if err != nil {
		return err
	}
	for i, index := range indexes {
		from, to := blockPath(blockDir, index), blockPath(c.dir, index)
		src, err := os.Stat(from)
		if err != nil {
			return err
		}
		have := int64(0)
		if dst, err := os.Stat(to); err == nil {
			have = dst.Size()
		}
		sealed := i < len(indexes)-1
		switch {
		case have > src.Size():
			return fmt.Errorf("%s has %d bytes, more than %s with %d", to, have, from, src.Size())
		case have == src.Size() && (sealed || have > 0):
			continue
		}
		done, err := c.extendBlock(from, index, have, upTo)
		if done && sealed && err == nil {
			err = c.whole(from, index)
		}
		if err != nil || done {
			return err
		}
	}
	return nil
}

// extendBlock copies whole records of one block from an offset on; done says
// that upTo was reached.
func (c copied) extendBlock(from string, index int, offset int64, upTo uint64) (done bool, err error) {
	var b []byte
	if err := readFrom(from, offset, &b); err != nil {
		return false, err
	}
	n, h := 0, blockHash(c.stream(), index)
	for n < len(b) {
		r, err := parse(b[n:], h)
		if err != nil || r.seq > upTo {
			done = true // a write under way, or not acknowledged yet
			break
		}
		n += r.size
	}
	if n == 0 {
		return done, nil
	}
	return done, c.write(index, offset, b[:n])
}

// whole reports a block that cannot be read to its end although another
// follows it.
func (c copied) whole(from string, index int) error {
	b, err := look(c.stream(), filepath.Dir(from), index, nil, new([]byte))
	if err != nil {
		return err
	}
	if b.bad != nil {
		return fmt.Errorf("%s: event %d cannot be read: %w at byte %d", from, b.last+1, b.bad, b.good)
	}
	return nil
}

func (c copied) write(index int, offset int64, b []byte) error {
	f, err := os.OpenFile(blockPath(c.dir, index), os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	if _, err = f.WriteAt(b, offset); err == nil {
		err = f.Sync()
	}
	if err != nil { // half a record would stand in the way of the next try
		return errors.Join(err, f.Truncate(offset), f.Close())
	}
	if err := f.Close(); err != nil {
		return err
	}
	if offset == 0 {
		return syncDir(c.dir)
	}
	return nil
}

// tail looks at the last block of the copy that holds something.
func (c copied) tail() (block, error) {
	indexes, err := blockIndexes(c.dir)
	if err != nil {
		return block{}, err
	}
	for i := len(indexes) - 1; i >= 0; i-- {
		b, err := look(c.stream(), c.dir, indexes[i], nil, new([]byte))
		if err != nil || b.last > 0 || b.bad != nil && b.beyond > 0 {
			return b, err
		}
	}
	return block{}, nil
}

// trim cuts off an unfinished write, which a crash while copying may have
// left behind the last sound record.
func (c copied) trim() error {
	indexes, err := blockIndexes(c.dir)
	if err != nil || len(indexes) == 0 {
		return err
	}
	b, err := look(c.stream(), c.dir, indexes[len(indexes)-1], nil, new([]byte))
	if err != nil || b.bad == nil || b.beyond > 0 {
		return err
	}
	return os.Truncate(b.path, b.good)
}

// repair moves blocks of the copy aside that are not the beginning of the
// store's, so that they are copied again, and says where they are now. Deep
// compares every byte, otherwise only the lengths and the last block are
// looked at.
func (c copied) repair(blockDir string, deep bool) (aside []string, err error) {
	indexes, err := blockIndexes(c.dir)
	if err != nil {
		return nil, err
	}
	for i, index := range indexes {
		if c.sound(blockDir, index, i == len(indexes)-1, deep) {
			continue
		}
		path := blockPath(c.dir, index)
		name := freeName(path + ".damaged")
		if err := os.Rename(path, name); err != nil {
			return aside, err
		}
		aside = append(aside, name)
	}
	return aside, syncDir(c.dir)
}

// sound reports whether a block of the copy is the beginning of the store's.
func (c copied) sound(blockDir string, index int, last, deep bool) bool {
	var mine, theirs []byte
	if deep || last {
		err := errors.Join(readFrom(blockPath(c.dir, index), 0, &mine), readFrom(blockPath(blockDir, index), 0, &theirs))
		return err == nil && bytes.HasPrefix(theirs, mine) && (last || len(mine) == len(theirs))
	}
	a, errA := os.Stat(blockPath(c.dir, index))
	b, errB := os.Stat(blockPath(blockDir, index))
	return errA == nil && errB == nil && !a.IsDir() && a.Size() == b.Size()
}
