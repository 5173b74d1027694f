//go:build !unix

package spool

import (
	"errors"
	"os"
)

var errHeld = errors.New("another program has it open")

// lockFile opens a file; these systems lock nothing.
func lockFile(name string) (*os.File, error) { return os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600) }
