//go:build unix

package vault

import (
	"errors"
	"os"
	"syscall"
)

// tryLock takes an exclusive lock on an open file without waiting; false if
// somebody else has it. The operating system lets go of it when the program
// ends, however it ends.
func tryLock(f *os.File) (bool, error) {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}
