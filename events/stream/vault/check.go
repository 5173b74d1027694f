package vault

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
)

// Fault is one thing that is wrong with a store.
type Fault struct {
	Path string // file or folder
	What string
}

func (f Fault) String() string { return f.Path + ": " + f.What }

// Report is what Check found. Nothing was changed.
type Report struct {
	Place   Place
	Fresh   bool   // there is no store yet, and nothing says that there was one
	InUse   bool   // a program has it open, so its end may be moving
	Events  uint64 // sound ones from the beginning on
	LastID  string // of the last of those
	Bytes   int64  // of all blocks
	Blocks  int
	Torn    int64  // bytes at the very end of a write that was cut short and never acknowledged
	Guarded uint64 // last event in the protected copy
	Mark    uint64 // last event that is known to have been acknowledged
	Faults  []Fault
	// Warnings concern only the protected copy: on opening, what is wrong
	// with it is moved aside and copied again.
	Warnings []Fault

	markCount uint64
	mark      Mark
	marked    bool
	lastTrace Trace // of event Events
}

// Err is nil for a sound store and *Damaged otherwise.
func (r Report) Err() error {
	if len(r.Faults) == 0 {
		return nil
	}
	return &Damaged{Report: r}
}

// Damaged says that a store lost something, or may have. It has not been
// touched.
type Damaged struct{ Report Report }

func (e *Damaged) Error() string {
	first, more := e.Report.Faults[0], ""
	if n := len(e.Report.Faults) - 1; n > 0 {
		more = fmt.Sprintf(" (and %d more)", n)
	}
	return fmt.Sprintf("store %s is damaged: %s%s; nothing was changed; see all of it with: countback store check, then run: countback store restore",
		e.Report.Place.Dir, first, more)
}

// String is the whole report in plain lines.
func (r Report) String() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("store           %s (shop %s)", r.Place.Dir, r.Place.Shop)
	if r.Fresh {
		line("                there is none yet")
		return b.String()
	}
	line("events          %d in %d blocks, %d bytes, last %s", r.Events, r.Blocks, r.Bytes, r.LastID)
	line("protected copy  up to event %d in %s", r.Guarded, r.Place.Guard)
	line("acknowledged    up to event %d in %s", r.Mark, r.Place.Mark)
	if r.InUse {
		line("                in use, so the end may have moved on")
	}
	if r.Torn > 0 {
		line("                %d bytes of an unfinished write at the end, never acknowledged: no loss", r.Torn)
	}
	for _, f := range r.Warnings {
		line("warning         %s", f)
	}
	for _, f := range r.Faults {
		line("WRONG           %s", f)
	}
	switch {
	case len(r.Faults) > 0:
		line("next            close the program that uses it, then: countback store restore")
	case len(r.Warnings) > 0:
		line("next            nothing is lost; to have a whole copy again: countback store restore")
	default:
		line("                nothing is wrong")
	}
	return b.String()
}

// Check looks at a store without changing anything, whether or not it is in
// use. It reads and verifies every block of it, and of its protected copy.
// An error means that it could not look; what is wrong is in the report.
func Check(p Place) (Report, error) {
	p, err := p.full()
	if err != nil {
		return Report{}, err
	}
	r, err := survey(p)
	if err != nil {
		return r, fmt.Errorf("check store: %w", err)
	}
	r.InUse = locked(p)
	if r.Fresh {
		return r, nil
	}
	blocks, err := lookAll(p.stream(), p.Guard, nil)
	if err != nil {
		r.warn(p.Guard, "protected copy: %v", err)
	}
	for i, b := range blocks {
		if b.bad != nil && i < len(blocks)-1 {
			r.warn(b.path, "protected copy: %v at byte %d", b.bad, b.good)
		}
	}
	return r, nil
}

func (r *Report) warn(path, format string, args ...any) {
	r.Warnings = append(r.Warnings, Fault{Path: path, What: fmt.Sprintf(format, args...)})
}

func (r *Report) fault(path, format string, args ...any) {
	r.Faults = append(r.Faults, Fault{Path: path, What: fmt.Sprintf(format, args...)})
}

// survey compares the store with its mark and its protected copy. Those are
// read first, so that a store that grows meanwhile is not behind them.
func survey(p Place) (Report, error) {
	r := Report{Place: p}
	if info, err := os.Stat(p.Dir); err == nil && !info.IsDir() {
		return r, fmt.Errorf("%s is a file; name a folder for the store", p.Dir)
	}
	known, err := checkFormat(p.formatPath(), "store", p.Shop)
	if err != nil {
		return r, err
	}
	if r.mark, r.markCount, r.marked, err = readMark(p.Mark); err != nil {
		if damaged := (*DamagedMark)(nil); !errors.As(err, &damaged) {
			return r, err
		}
		r.fault(p.Mark, "high-water mark cannot be read")
	}
	r.Mark = r.mark.Seq
	guard, err := r.surveyGuard()
	if err != nil {
		return r, err
	}
	blocks, err := lookAll(p.stream(), p.blockDir(), []uint64{r.mark.Seq, guard.last})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		r.fault(p.blockDir(), "%v", err)
	}
	for _, b := range blocks {
		r.Bytes += b.size
	}
	if !known && r.Mark == 0 && guard.last == 0 && r.Bytes == 0 && len(r.Faults) == 0 {
		r.Fresh = true
		return r, foreign(p)
	}
	if !known {
		r.fault(p.formatPath(), "is missing")
	}
	r.surveyFiles()
	r.surveyBlocks(blocks, guard)
	return r, nil
}

// foreign refuses to make a store in a folder that holds something else.
func foreign(p Place) error {
	entries, err := os.ReadDir(p.Dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, e := range entries {
		switch e.Name() {
		case "lock", "format.tmp", serverName: // left by a first start that was cut short
		default:
			return fmt.Errorf("folder %s holds %s and is no store; name an empty or new folder", p.Dir, e.Name())
		}
	}
	return err
}

func (r *Report) surveyGuard() (block, error) {
	c := copied{dir: r.Place.Guard, shop: r.Place.Shop}
	ok, err := c.exists()
	if err != nil || !ok {
		return block{}, err
	}
	guard, err := c.tail()
	if err != nil {
		r.warn(r.Place.Guard, "protected copy: %v", err)
	}
	if guard.beyond > 0 {
		r.warn(guard.path, "protected copy: %v at byte %d", guard.bad, guard.good)
	}
	r.Guarded = max(guard.last, guard.beyond)
	return guard, nil
}

func (r *Report) surveyFiles() {
	p := r.Place
	if err := readable(p.ServerDir()); err != nil {
		r.fault(p.ServerDir(), "%v", err)
	}
	if err := checkSettings(p.streamDir(p.ServerDir()), p.stream()); err != nil {
		r.fault(p.streamDir(p.ServerDir()), "settings of the stream: %v", err)
	}
}
