package spool

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

const cursorHead = "countback print cursor 1\n"

// readCursor reads the cursor; known is false if there is none yet.
func readCursor(file string) (at uint64, known bool, err error) {
	b, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, false, nil
	}
	if err != nil {
		return 0, false, err
	}
	number, ok := strings.CutPrefix(string(b), cursorHead)
	if ok {
		at, err = strconv.ParseUint(strings.TrimSuffix(number, "\n"), 10, 64)
	}
	if !ok || err != nil {
		return 0, false, fmt.Errorf("%s: %.60q is no cursor; write %q and the number of the last event that was read", file, b, cursorHead)
	}
	return at, true, nil
}

// Cursor is how far the caller has read: everything up to here was added. known
// is false in a new folder: then begin behind the end of the journal, not at
// its beginning, or every label that was ever printed is printed again.
func (s *Spool) Cursor() (at uint64, known bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.at, s.atKnown
}

// Advance says that everything up to a place was added. It is on disk when it
// returns. Going back does nothing.
func (s *Spool) Advance(at uint64) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.atKnown && at <= s.at {
		return nil
	}
	if s.closed {
		return errClosed
	}
	if err := writeWhole(filepath.Join(s.dir, "cursor"), []byte(cursorHead+strconv.FormatUint(at, 10)+"\n")); err != nil {
		return fmt.Errorf("print cursor: %w", err)
	}
	s.at, s.atKnown = at, true
	return nil
}
