package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"countback/events"
	"countback/events/journal"
	"countback/projections/engine"
)

// books are the jobs of a shop, folded from its facts.
type books struct {
	jobs  map[events.Job]*engine.Job
	order []events.Job // in the order of their first fact; the shop's own is not among them
	last  journal.Seq
	label map[events.Code]events.Job // which job a label belongs to
}

// readBooks folds every job, or with a job only that one and what belongs to
// the shop. now is for what depends on how long ago something was.
func readBooks(ctx context.Context, s settings, now time.Time) (*books, error) {
	b := &books{jobs: map[events.Job]*engine.Job{}, label: map[events.Code]events.Job{}}
	records := map[events.Job][]events.Record{}
	var d events.Decoder
	err := readFacts(ctx, s, journal.Filter{}, func(m journal.Message) error {
		var r events.Record
		if err := d.Decode(m.Data, &r); err != nil {
			return storeError(fmt.Errorf("message %d (%s): %w; stop working and run: countback store check", m.Seq, m.ID(), err))
		}
		if _, ok := records[r.Job]; !ok && r.Job != events.ShopJob {
			b.order = append(b.order, r.Job)
		}
		records[r.Job] = append(records[r.Job], r)
		b.last = m.Seq
		return nil
	})
	if err != nil {
		return nil, err
	}
	for job, list := range records {
		j := &engine.Job{}
		j.Clock(now.UnixMicro())
		j.Load(list)
		b.jobs[job] = j
		for i := range list {
			if tags, ok := list[i].Event.(events.TagsIssued); ok {
				for _, t := range tags.Tags {
					b.label[t.Code] = job
				}
			}
		}
	}
	return b, nil
}

// find is the job that a person names: by its id, by the code on its card or
// on any of its labels, or, where there is only one, by nothing at all.
func (b *books) find(name string) (events.Job, *engine.Job, error) {
	if j, ok := b.jobs[events.Job(name)]; ok && name != string(events.ShopJob) {
		return events.Job(name), j, nil
	}
	for id := range b.jobs {
		if strings.EqualFold(string(id), name) && id != events.ShopJob {
			return id, b.jobs[id], nil
		}
	}
	if id, ok := b.label[events.Code(strings.ToUpper(name))]; ok && id != events.ShopJob {
		return id, b.jobs[id], nil
	}
	if len(b.order) == 0 {
		return "", nil, unknown("there is no job %s, nor any other; open one with: countback job open", name)
	}
	names := make([]string, len(b.order))
	for i, id := range b.order {
		names[i] = string(id)
	}
	slices.Sort(names)
	return "", nil, unknown("there is no job %s; there are: %s", name, strings.Join(names, ", "))
}

// now is the time of this machine.
func now() time.Time { return time.Now() }

// title is a job in one line: its id and what stands on the stand.
func title(id events.Job, j *engine.Job) string {
	opened := j.State().Opened
	text := "Job " + string(id) + ", " + opened.Engine
	if opened.Family != "" && !strings.Contains(opened.Engine, opened.Family) {
		text += " (" + opened.Family + ")"
	}
	return text
}

// when writes a time of the store for people, in the zone of the machine.
func when(micro int64) string {
	if micro == 0 {
		return ""
	}
	return time.UnixMicro(micro).Format("2 Jan 2006 15:04")
}

// stamp writes a time of the store for programs: RFC 3339 in UTC, empty for 0.
func stamp(micro int64) string {
	if micro == 0 {
		return ""
	}
	return time.UnixMicro(micro).UTC().Format("2006-01-02T15:04:05.000000Z")
}
