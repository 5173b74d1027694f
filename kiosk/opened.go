package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// opened puts another job on the screen.
func (t *turn) opened(m Opened) {
	changed := m.ID != t.id
	t.id, t.job, t.dir, t.nextN = m.ID, m.Job, m.Dir, m.NextN
	if t.fresh {
		t.fresh = false
		t.issueTags()
		return
	}
	if !changed {
		return
	}
	t.clear()
	t.question, t.mend = nil, nil
	if m.ID == "" {
		return
	}
	t.show(Plain, append([]string{"Job " + string(m.ID) + ", " + t.engineName() + ". " + t.stands()}, t.redLines(3)...)...)
	t.view.Ask = "Scan a joint, a bag, a part; or WHAT NOW"
	t.beep(Heard)
}

// stands says how far the job is.
func (s *Screen) stands() string {
	done := 0
	now := s.job.WhatNow()
	for _, st := range now {
		if st.State == engine.Done {
			done++
		}
	}
	if e := s.job.State().Ended; e != nil {
		return "It ended: " + string(e.How)
	}
	if len(now) == 0 {
		return "It has no plan"
	}
	return itoa(done) + " of " + itoa(len(now)) + " steps are done"
}

// redLines are the first lines that are not as they should be.
func (s *Screen) redLines(n int) []string {
	var list []string
	for _, d := range s.job.Differences() {
		list = append(list, "Open: "+d.Text)
	}
	for _, u := range s.job.State().Uncounted() {
		list = append(list, "Never counted: "+namesOf(s.job.State()).about(u))
	}
	return list[:min(n, len(list))]
}

func (n names) about(u engine.Uncounted) string {
	if u.Joint != "" {
		return n.joint(u.Joint)
	}
	return n.part(u.Part)
}

// issueTags gives every noun of a new job its tag.
func (t *turn) issueTags() {
	tags := t.dir.Untagged()
	if len(tags) == 0 {
		return
	}
	row := scan.Find([]scan.Noun{{Type: scan.JobNoun, ID: string(t.id)}}, scan.Tags, false, false)
	said := &scan.Said{Job: t.job, Dir: t.dir, Here: t.here, Who: t.badge, NextN: t.nextN}
	t.send(engine.Tell{Event: events.TagsIssued{Tags: tags}}, &flight{row: row, said: said, undo: -1, redo: -1, opening: true})
}
