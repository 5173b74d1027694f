package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"countback/events"
	"countback/events/journal"
	"countback/projections"
	"countback/projections/engine"
	"countback/projections/tool"
)

// books are the jobs of a shop, folded from its facts.
type books struct {
	projections.Runner
	training bool // of a training store: no job in it is real
	tools    tool.Register
}

// readBooks folds every job. now is for what depends on how long ago something
// was.
func readBooks(ctx context.Context, s settings, now time.Time) (*books, error) {
	var records []events.Record
	var last journal.Seq
	var d events.Decoder
	err := readFacts(ctx, s, journal.Filter{}, func(m journal.Message) error {
		var r events.Record
		if err := d.Decode(m.Data, &r); err != nil {
			return storeError(fmt.Errorf("message %d (%s): %w; stop working and run: countback store check", m.Seq, m.ID(), err))
		}
		records, last = append(records, r), m.Seq
		return nil
	})
	if err != nil {
		return nil, err
	}
	b := &books{training: isTraining(s)}
	b.Load(records, projections.Cursor(last))
	for i := range records {
		b.tools.Apply(&records[i])
	}
	for _, id := range b.Jobs() {
		if j, ok := b.Job(id); ok {
			j.Clock(now.UnixMicro())
			if s.Limits != nil {
				j.Use(*s.Limits)
			}
			j.Tools(b.tools.Away(id, j.State().PlanTools(), events.DayOf(now.UnixMicro())))
		}
	}
	return b, nil
}

// find is the job that a person names: by its id, or by the code on its card or
// on any of its labels.
func (b *books) find(name string) (events.Job, *engine.Job, error) {
	jobs := b.Jobs()
	for _, id := range jobs {
		if strings.EqualFold(string(id), name) {
			j, _ := b.Job(id)
			return id, j, nil
		}
	}
	if owner, ok := b.Owner(events.Code(strings.ToUpper(name))); ok && owner.Job != events.ShopJob {
		if j, ok := b.Job(owner.Job); ok {
			return owner.Job, j, nil
		}
	}
	if len(jobs) == 0 {
		return "", nil, unknown("there is no job %s, nor any other; open one with: countback job open", name)
	}
	return "", nil, unknown("there is no job %s%s; there are: %s", name, nearest(strings.ToUpper(name), texts(jobs)), joined(jobs))
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
