package vault

import (
	"fmt"
	"math"
)

// Backup copies a store, in use or not, into a folder, or brings an earlier
// backup there up to date; it copies only what is new. It refuses a store
// that is not sound, so that a good backup is not followed by a bad one, and
// returns the number of the last event in the backup.
func Backup(p Place, dest string) (uint64, error) {
	p, err := p.full()
	if err != nil {
		return 0, err
	}
	r, err := survey(p)
	if err == nil {
		err = r.Err()
	}
	if err == nil && r.Fresh {
		err = fmt.Errorf("%s holds no store", p.Dir)
	}
	if err != nil {
		return 0, fmt.Errorf("back up store: %w", err)
	}
	c := copied{dir: dest, shop: p.Shop}
	last, err := c.backup(p)
	if err != nil {
		return 0, fmt.Errorf("back up store to %s: %w", dest, err)
	}
	return last, nil
}

func (c copied) backup(p Place) (uint64, error) {
	if err := c.prepare(); err != nil {
		return 0, err
	}
	if err := c.trim(); err != nil {
		return 0, err
	}
	if err := c.settings(p.streamDir(p.ServerDir())); err != nil {
		return 0, err
	}
	if err := c.extend(p.blockDir(), math.MaxUint64); err != nil {
		return 0, err
	}
	blocks, err := lookAll(c.stream(), c.dir, nil)
	if err != nil {
		return 0, err
	}
	last := uint64(0)
	for _, b := range blocks {
		if b.bad != nil {
			return 0, fmt.Errorf("%s: %w at byte %d; move it away and back up again", b.path, b.bad, b.good)
		}
		if b.last > 0 && b.first != last+1 {
			return 0, fmt.Errorf("%s: begins with event %d, event %d is the next one; back up into an empty folder", b.path, b.first, last+1)
		}
		last = max(last, b.last)
	}
	return last, nil
}
