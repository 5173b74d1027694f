package bench

import (
	"context"
	"errors"
	"fmt"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk"
	"countback/projections/engine"
)

// tries is how often an ask is decided again when others wrote to the job in
// the meantime.
const tries = 20

// failed says what keeps a fact from being stored, for the person at the bench.
func failed(err error) kiosk.Failed {
	switch {
	case errors.Is(err, journal.ErrFull):
		return kiosk.Failed{Why: "the shop's journal has no room left", Next: "Make room on its disk, then say it again"}
	case errors.Is(err, journal.ErrOffline):
		return kiosk.Failed{Why: "the shop's journal cannot be reached, and this bench has no disk of its own", Next: "Get the line back, then say it again"}
	case errors.Is(err, journal.ErrClosed):
		return kiosk.Failed{Why: "this program is ending", Next: "Start it again, then say it again"}
	}
	return kiosk.Failed{Why: err.Error(), Next: "Show this to whoever keeps the shop's store"}
}

// attempt is one fact on its way into the journal. Its number and its place in
// the order are given once, before the first try.
type attempt struct {
	draft  journal.Draft
	record events.Record
	expect journal.Expect
}

// store asks the rules and stores their answer. A checked fact that finds the
// job changed is decided again on what changed; a recorded one is stored
// whatever else happened.
func (t *Terminal) store(ctx context.Context, s kiosk.Store) (kiosk.Msg, error) {
	if err := t.flush(ctx); err != nil {
		return nil, err
	}
	if !t.knows {
		return kiosk.Failed{Why: "this bench was started while the shop's journal could not be reached, and does not know its own last number",
			Next: "Get the line to the shop's journal back, then say it again"}, nil
	}
	for range tries {
		job, err := t.open(ctx, s.Job)
		if err != nil {
			return nil, err
		}
		ev, err := job.Decide(s.Command)
		if refusal := new(engine.Refusal); errors.As(err, &refusal) {
			return kiosk.Refused{Refusal: refusal}, nil
		} else if err != nil {
			return nil, fmt.Errorf("terminal %s: job %s: %w", t.Name, s.Job, err)
		}
		if ev == nil {
			return kiosk.Already{}, nil
		}
		a, err := t.attempt(job, s, ev)
		if err != nil {
			return failed(err), nil
		}
		if len(t.kept) > 0 {
			return t.keepOrFail(ctx, a)
		}
		receipt, err := t.Home.Append(ctx, a.draft, a.expect)
		if stale := new(journal.Stale); errors.As(err, &stale) && stale.Scope == journal.OfJob {
			news, err := t.catchUp(ctx)
			if err != nil {
				return failed(err), nil
			}
			t.late = append(t.late, news...)
			continue
		}
		return t.answered(ctx, a, receipt, err)
	}
	return kiosk.Failed{Why: "others write to this job all the time"}, nil
}

func (t *Terminal) attempt(job *engine.Job, s kiosk.Store, ev events.Event) (*attempt, error) {
	now := t.Clock()
	a := &attempt{record: events.Record{Shop: t.Shop, Job: s.Job, Terminal: t.Name, N: t.n + 1, Time: now, Operator: s.Who,
		At: max(now+t.Offset, t.high+1), Seen: job.Seen(), Known: s.Known, Event: ev}}
	t.happened(job, s, &a.record)
	data, err := events.Append(nil, &a.record)
	if err != nil {
		return nil, err
	}
	a.draft = journal.Draft{Terminal: t.Name, N: a.record.N, Job: s.Job, Data: data}
	a.expect = journal.Recorded(t.ownSeq)
	if s.Checked {
		a.expect = journal.Checked(t.jobSeq[s.Job])
	}
	return a, nil
}

// happened says when a fact happened that is told late. Whoever catches up
// without saying it says: since the last fact of the job.
func (t *Terminal) happened(job *engine.Job, s kiosk.Store, r *events.Record) {
	if s.Till != 0 {
		r.From, r.To = min(s.Since+t.Offset, r.At), min(s.Till+t.Offset, r.At)
	} else if e, ok := r.Event.(events.CaughtUp); ok && !e.Arrived {
		r.From, r.To = job.LatestAt(), r.At
	}
}

// answered acts on what the journal said.
func (t *Terminal) answered(ctx context.Context, a *attempt, r journal.Receipt, err error) (kiosk.Msg, error) {
	unclear := new(journal.Unclear)
	switch {
	case err == nil:
		return t.durable(ctx, a, r)
	case errors.As(err, &unclear):
		t.unclear = a
		return kiosk.Unclear{}, nil
	case errors.Is(err, journal.ErrOffline) && t.Outbox != nil:
		return t.keepOrFail(ctx, a)
	}
	return failed(err), nil
}

// durable folds a fact that the journal has, and what others stored before it.
func (t *Terminal) durable(ctx context.Context, a *attempt, r journal.Receipt) (kiosk.Msg, error) {
	t.ownSeq = r.Seq
	m := t.fold(a, false)
	if !r.Repeated && r.Seq == t.read+1 { // nobody wrote in between
		t.read, t.jobSeq[a.draft.Job] = r.Seq, r.Seq
		return m, nil
	}
	news, err := t.catchUp(ctx)
	if err != nil && !errors.Is(err, journal.ErrOffline) {
		return nil, fmt.Errorf("terminal %s: %w", t.Name, err)
	}
	t.late = append(t.late, news...)
	return m, nil
}

func (t *Terminal) keepOrFail(ctx context.Context, a *attempt) (kiosk.Msg, error) {
	if _, err := t.keep(ctx, a); err != nil {
		return failed(err), nil
	}
	return t.fold(a, true), nil
}

// fold takes a fact that is durable now.
func (t *Terminal) fold(a *attempt, apart bool) kiosk.Msg {
	change, _ := t.take(&a.record)
	t.stored = append(t.stored, a.record)
	return kiosk.Stored{Record: a.record, Change: change, Apart: apart, NextN: t.n + 1}
}

// settle finds out whether the fact without an answer is stored. If it is not,
// the same fact is appended again, under the same number.
func (t *Terminal) settle(ctx context.Context) error {
	a := t.unclear
	if a == nil {
		return nil
	}
	receipt, stored, err := t.Home.Settle(ctx, a.draft)
	unclear := new(journal.Unclear)
	switch {
	case errors.As(err, &unclear) || errors.Is(err, journal.ErrOffline):
		return nil
	case err != nil:
		return fmt.Errorf("terminal %s: %w", t.Name, err)
	case !stored:
		if receipt, err = t.Home.Append(ctx, a.draft, a.expect); err != nil {
			return t.unsettled(ctx, a, err)
		}
	}
	t.unclear = nil
	msg, err := t.durable(ctx, a, receipt)
	if err != nil {
		return err
	}
	return t.handle(ctx, msg)
}

// unsettled is a second try that failed: without an answer again, or for
// certain.
func (t *Terminal) unsettled(ctx context.Context, a *attempt, err error) error {
	if unclear := new(journal.Unclear); errors.As(err, &unclear) {
		return nil
	}
	t.unclear = nil
	if stale := new(journal.Stale); errors.As(err, &stale) && stale.Scope == journal.OfJob {
		news, err := t.catchUp(ctx)
		if err != nil {
			return err
		}
		t.late = append(t.late, news...)
		return t.handle(ctx, kiosk.Failed{Why: "others told something of this job meanwhile"})
	}
	msg, err := t.answered(ctx, a, journal.Receipt{}, err)
	if err != nil {
		return err
	}
	return t.handle(ctx, msg)
}
