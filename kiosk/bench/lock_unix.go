//go:build unix

package bench

import (
	"os"
	"syscall"
)

// lockBox holds a file until it is closed.
func lockBox(f *os.File) error {
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		return ErrBoxInUse
	}
	return nil
}
