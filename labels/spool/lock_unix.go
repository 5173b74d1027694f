//go:build unix

package spool

import (
	"errors"
	"os"
	"syscall"
)

var errHeld = errors.New("another program has it open")

// lockFile holds a file until it is closed.
func lockFile(name string) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, errHeld
	}
	return f, nil
}
