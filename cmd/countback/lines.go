package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"os"
)

// splitScans ends a line at CR, LF or both: scanners send what they like. The
// empty lines that come of it mean nothing to a screen.
func splitScans(data []byte, atEOF bool) (advance int, token []byte, err error) {
	if i := bytes.IndexAny(data, "\r\n"); i >= 0 {
		return i + 1, data[:i], nil
	}
	if atEOF && len(data) > 0 {
		return len(data), data, nil
	}
	return 0, nil, nil
}

// maxScan bounds a line in bytes. What is longer is cut into pieces, none of
// which is a label or a name.
const maxScan = 64 << 10

// readScans hands out lines until the input ends. The channel of the error
// gets one value, nil at the end of the input. The reader stays behind in a
// read that never returns when the context ends; its program ends too then.
func readScans(ctx context.Context, in io.Reader) (<-chan string, <-chan error) {
	lines, done := make(chan string), make(chan error, 1)
	go func() {
		s := bufio.NewScanner(in)
		s.Buffer(make([]byte, 0, 4096), maxScan)
		s.Split(splitScans)
		for s.Scan() {
			select {
			case lines <- s.Text():
			case <-ctx.Done():
				done <- ctx.Err()
				return
			}
		}
		err := s.Err()
		if errors.Is(err, bufio.ErrTooLong) {
			err = &failure{statusUsage, errors.New("scan: a line of more than 64 KiB is no scan; is this the right file?")}
		}
		done <- err
	}()
	return lines, done
}

// live reports whether somebody sits at an input or output: a keyboard, a
// screen or a serial scanner, and no file or pipe.
func live(in any) bool {
	f, ok := in.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && f.Name() != os.DevNull
}
