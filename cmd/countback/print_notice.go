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

// printNotices tells a kiosk what of the print queue needs a person. It is
// asked at every frame, so the report is read again only when it changed.
func printNotices(s settings) func() []string {
	var read time.Time
	var needs []string
	return func() []string {
		info, err := os.Stat(statusFile(s))
		if err != nil {
			return nil
		}
		if at := info.ModTime(); !at.Equal(read) {
			read, needs = at, nil
			if r, err := savedStatus(s); err == nil {
				needs = r.notices()
			}
		}
		return needs
	}
}

// notices are the needs of a queue in a few words each.
func (r queueReport) notices() []string {
	var list []string
	for _, p := range r.Printers {
		if len(p.Open) == 0 || p.State == "printing" || r.Working && p.State == "idle" {
			continue
		}
		state := p.State
		if state == "idle" {
			state = "nobody prints"
		}
		list = append(list, "Printer "+p.Name+" "+state+", "+many(len(p.Open), "label", "labels"))
	}
	if len(r.Trouble) > 0 {
		list = append(list, many(len(r.Trouble), "label", "labels")+" not drawn")
	}
	return list
}
