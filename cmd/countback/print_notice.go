package main

import (
	"errors"
	"io/fs"
	"os"
	"time"
)

// isTraining reports whether a store was made for training.
func isTraining(s settings) bool {
	_, err := os.Stat(trainingMark(s))
	return err == nil || !errors.Is(err, fs.ErrNotExist)
}

// silentFor is how long a program that works the queue says nothing before it
// is taken to be gone: it writes its report every second, and one that was
// killed left a report that it works.
const silentFor = 20 * time.Second

// printNotices tells a kiosk what of the print queue needs a person. It is
// asked at every frame, so the report is read again only when it changed.
func printNotices(s settings, now func() time.Time) func() []string {
	var read os.FileInfo
	var last queueReport
	return func() []string {
		info, err := os.Stat(statusFile(s))
		if err != nil {
			return nil
		}
		// each report is a new file: two of one moment have the same time
		if read == nil || !os.SameFile(read, info) || !info.ModTime().Equal(read.ModTime()) {
			read, last = info, queueReport{}
			if r, err := savedStatus(s); err == nil {
				last = r
			}
		}
		r := last
		r.Working = r.Working && now().Sub(info.ModTime()) < silentFor
		return r.notices()
	}
}

// notices are the needs of a queue in a few words each.
func (r queueReport) notices() []string {
	var list []string
	for _, p := range r.Printers {
		if len(p.Open) == 0 || r.Working && (p.State == "printing" || p.State == "idle") {
			continue
		}
		state := p.State
		if state == "idle" || state == "printing" {
			state = "nobody prints"
		}
		list = append(list, "Printer "+p.Name+" "+state+", "+many(len(p.Open), "label", "labels"))
	}
	if len(r.Trouble) > 0 {
		list = append(list, many(len(r.Trouble), "label", "labels")+" not drawn")
	}
	return list
}
