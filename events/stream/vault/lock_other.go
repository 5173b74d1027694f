//go:build !unix

package vault

import (
	"errors"
	"os"
)

func tryLock(*os.File) (bool, error) {
	return false, errors.New("a store needs a system with advisory file locks")
}
