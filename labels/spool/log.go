package spool

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"countback/labels/printer"
)

// record is one line of the log.
type record struct {
	N       uint64         `json:"n"`
	State   State          `json:"state"`
	Time    time.Time      `json:"time"`
	Key     string         `json:"key,omitempty"`
	Reprint int            `json:"reprint,omitempty"`
	Printer string         `json:"printer,omitempty"`
	Title   string         `json:"title,omitempty"`
	Format  printer.Format `json:"format,omitempty"`
	Width   float64        `json:"width,omitempty"`
	Height  float64        `json:"height,omitempty"`
	Sum     string         `json:"sum,omitempty"`
	Why     string         `json:"why,omitempty"`
}

// whole is the record that says all of an entry.
func (e *entry) whole() record {
	r := record{e.N, e.State, e.Time, e.Key, e.Reprint, e.Printer, e.Title, e.format, e.width, e.height, e.sum, e.Why}
	if e.State.over() {
		r.Width, r.Height, r.Sum = 0, 0, "" // its document is gone
	}
	return r
}

// readLog reads the orders of a log in their order. A last line without a line
// feed was never finished.
func readLog(file string) ([]*entry, error) {
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var list []*entry
	known := map[uint64]*entry{}
	for number := 1; ; number++ {
		line, rest, ok := bytes.Cut(data, []byte("\n"))
		if !ok {
			return list, nil
		}
		data = rest
		var r record
		if err := json.Unmarshal(line, &r); err != nil {
			return nil, fmt.Errorf("%s:%d: %w; the line is damaged: repair it, or move the folder away and print what is missing again", file, number, err)
		}
		e := known[r.N]
		if e == nil {
			if r.Key == "" {
				return nil, fmt.Errorf("%s:%d: order %d begins without a key; a line before it is missing", file, number, r.N)
			}
			e = &entry{Entry: Entry{N: r.N, Key: r.Key, Reprint: r.Reprint, Title: r.Title}, format: r.Format, width: r.Width, height: r.Height, sum: r.Sum}
			known[r.N] = e
			list = append(list, e)
		}
		if err := e.apply(r); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", file, number, err)
		}
	}
}

// apply changes an entry as a record says.
func (e *entry) apply(r record) error {
	switch r.State {
	case Waiting, Sending, Printed, Unclear, Dropped:
	default:
		return fmt.Errorf("order %d: state %q is none", r.N, r.State)
	}
	e.State, e.Time, e.Why = r.State, r.Time, r.Why
	if r.Printer != "" {
		e.Printer = r.Printer
	}
	return nil
}

// write adds a record to the log and syncs it. After a failure nothing more is
// written: what is on the disk is no longer known.
func (s *Spool) write(r record) error {
	if s.broken != nil {
		return s.broken
	}
	line, err := json.Marshal(r)
	if err == nil {
		_, err = s.log.Write(append(line, '\n'))
	}
	if err == nil {
		err = s.log.Sync()
	}
	if err != nil {
		s.broken = fmt.Errorf("print queue %s: %w; nothing more is printed: make room and start again", s.dir, err)
		s.signal()
		return s.broken
	}
	return nil
}

// rewrite makes a log with one line an order and opens it for adding.
func (s *Spool) rewrite() error {
	var buf bytes.Buffer
	for _, e := range s.entries {
		line, err := json.Marshal(e.whole())
		if err != nil {
			return err
		}
		buf.Write(append(line, '\n'))
	}
	file := filepath.Join(s.dir, "log")
	if err := writeWhole(file, buf.Bytes()); err != nil {
		return err
	}
	log, err := os.OpenFile(file, os.O_WRONLY|os.O_APPEND, 0o600)
	s.log = log
	return err
}

// writeWhole writes a file so that it is there whole or as it was before.
func writeWhole(file string, data []byte) error {
	tmp, err := os.CreateTemp(filepath.Dir(file), ".new-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // nothing is left of it after the rename
	_, err = tmp.Write(data)
	if err == nil {
		err = tmp.Sync()
	}
	if closed := tmp.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(tmp.Name(), file)
	}
	if err != nil {
		return err
	}
	return printer.SyncDir(filepath.Dir(file))
}
