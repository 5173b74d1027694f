package bench

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"countback/events"
	"countback/events/journal"
)

// Box is an outbox in one file. Each line is a CRC-32 (IEEE) of the rest in
// eight hexadecimal digits, a blank, and a JSON object: a fact that is kept,
//
//	{"terminal":"b2","n":42,"job":"J4K7","data":"..."}    data in base64
//
// or {"sent":42}: all facts up to that number are in the shop's journal. A last
// line without its end was never kept. The file is emptied once everything in it
// was sent. One program at a time has a box open.
type Box struct {
	file *os.File
	kept []journal.Draft
}

type boxLine struct {
	Terminal events.Terminal `json:"terminal,omitempty"`
	N        uint32          `json:"n,omitempty"`
	Job      events.Job      `json:"job,omitempty"`
	Data     []byte          `json:"data,omitempty"`
	Sent     uint32          `json:"sent,omitempty"`
}

// ErrBoxInUse says that another program has the outbox open.
var ErrBoxInUse = errors.New("another program has the outbox open; close that one, or give this terminal another name")

// OpenBox opens the outbox of a terminal, and makes it if there is none. A line
// that is damaged is an error that says which: what is kept behind it must not
// be lost in silence.
func OpenBox(path string) (*Box, error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	b := &Box{file: f}
	err = lockBox(f)
	if err == nil {
		err = b.read(path)
	}
	if err == nil {
		err = syncFolder(filepath.Dir(path))
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("outbox: %w", err), f.Close())
	}
	return b, nil
}

// read takes what is kept, and cuts off a last line that was never finished.
func (b *Box) read(path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	end := 0
	for number := 1; ; number++ {
		line, _, ok := bytes.Cut(data[end:], []byte("\n"))
		if !ok {
			break
		}
		end += len(line) + 1
		l, err := parseBoxLine(line)
		if err != nil {
			return fmt.Errorf("%s:%d: %w; move the file away, and tell what was told while the line was cut once more", path, number, err)
		}
		if l.Sent > 0 {
			b.drop(l.Sent)
			continue
		}
		b.kept = append(b.kept, journal.Draft{Terminal: l.Terminal, N: l.N, Job: l.Job, Data: l.Data})
	}
	if err := b.file.Truncate(int64(end)); err != nil {
		return err
	}
	_, err = b.file.Seek(int64(end), 0)
	return err
}

func parseBoxLine(line []byte) (l boxLine, err error) {
	sum, rest, ok := bytes.Cut(line, []byte(" "))
	want, err := strconv.ParseUint(string(sum), 16, 32)
	if !ok || err != nil || len(sum) != 8 || crc32.ChecksumIEEE(rest) != uint32(want) {
		return l, errors.New("the line is damaged")
	}
	return l, json.Unmarshal(rest, &l)
}

// write adds a line; it is on the disk when write returns.
func (b *Box) write(l boxLine) error {
	data, err := json.Marshal(l)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(b.file, "%08x %s\n", crc32.ChecksumIEEE(data), data); err != nil {
		return err
	}
	return b.file.Sync()
}

// Keep implements Outbox.
func (b *Box) Keep(_ context.Context, d journal.Draft) error {
	if err := b.write(boxLine{Terminal: d.Terminal, N: d.N, Job: d.Job, Data: d.Data}); err != nil {
		return err
	}
	d.Data = slices.Clone(d.Data)
	b.kept = append(b.kept, d)
	return nil
}

// Kept implements Outbox.
func (b *Box) Kept(context.Context) ([]journal.Draft, error) { return slices.Clone(b.kept), nil }

// Sent implements Outbox.
func (b *Box) Sent(_ context.Context, n uint32) error {
	if err := b.write(boxLine{Sent: n}); err != nil {
		return err
	}
	b.drop(n)
	if len(b.kept) > 0 {
		return nil
	}
	if err := b.file.Truncate(0); err != nil {
		return err
	}
	_, err := b.file.Seek(0, 0)
	return err
}

func (b *Box) drop(n uint32) {
	b.kept = slices.DeleteFunc(b.kept, func(d journal.Draft) bool { return d.N <= n })
}

// Close lets go of the file.
func (b *Box) Close() error { return b.file.Close() }

// syncFolder makes a new file's name durable. Systems that cannot sync a folder
// need not.
func syncFolder(dir string) error {
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
