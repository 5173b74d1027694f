package vault

import (
	"errors"
	"fmt"
	"os"
	"strings"
)

// InUse says that another program has the store open.
type InUse struct {
	Dir    string
	Holder string // what the other one wrote into the lock
}

func (e *InUse) Error() string {
	return fmt.Sprintf("store %s is in use by %s; close it there, or connect to it instead of opening its store", e.Dir, e.Holder)
}

// lock takes the store for this program.
func lock(p Place, holder string) (*os.File, error) {
	f, err := os.OpenFile(p.lockPath(), os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, err
	}
	got, err := tryLock(f)
	switch {
	case err != nil:
		err = fmt.Errorf("lock %s: %w", f.Name(), err)
	case !got:
		who, _ := os.ReadFile(p.lockPath())
		err = &InUse{Dir: p.Dir, Holder: orUnknown(strings.TrimSpace(string(who)))}
	default:
		err = errors.Join(f.Truncate(0), writeAt(f, []byte(holderLine(holder))))
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

func writeAt(f *os.File, b []byte) error {
	_, err := f.WriteAt(b, 0)
	return err
}

// holderLine names this program: who, process, machine.
func holderLine(who string) string {
	host, err := os.Hostname()
	if err != nil {
		host = "this machine"
	}
	if who == "" {
		who = "countback"
	}
	return fmt.Sprintf("%s (process %d on %s)\n", who, os.Getpid(), host)
}

func orUnknown(s string) string {
	if s == "" {
		return "another program"
	}
	return s
}

// locked reports whether somebody has the store open.
func locked(p Place) bool {
	f, err := os.Open(p.lockPath())
	if err != nil {
		return false
	}
	defer f.Close()
	got, err := tryLock(f)
	return err == nil && !got
}
