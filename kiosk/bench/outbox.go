package bench

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"countback/events/journal"
)

// Outbox keeps facts on the terminal's own disk while the shop's journal
// cannot be reached.
type Outbox interface {
	// Keep takes a fact; it is durable when Keep returns.
	Keep(ctx context.Context, d journal.Draft) error
	// Kept lists what is kept, in the order of n.
	Kept(ctx context.Context) ([]journal.Draft, error)
	// Sent says that all facts up to n are in the shop's journal.
	Sent(ctx context.Context, n uint32) error
}

// Tray is an outbox without a disk, for tests and for trying things out.
type Tray struct{ drafts []journal.Draft }

// Keep implements Outbox.
func (t *Tray) Keep(_ context.Context, d journal.Draft) error {
	d.Data = slices.Clone(d.Data)
	t.drafts = append(t.drafts, d)
	return nil
}

// Kept implements Outbox.
func (t *Tray) Kept(context.Context) ([]journal.Draft, error) { return slices.Clone(t.drafts), nil }

// Sent implements Outbox.
func (t *Tray) Sent(_ context.Context, n uint32) error {
	t.drafts = slices.DeleteFunc(t.drafts, func(d journal.Draft) bool { return d.N <= n })
	return nil
}

// flush sends what is kept, in order, as recorded facts. It stops quietly
// where the journal cannot be reached or gives no answer: the same facts are
// sent again later.
func (t *Terminal) flush(ctx context.Context) error {
	for len(t.kept) > 0 && t.unclear == nil {
		d := t.kept[0]
		r, err := t.Home.Append(ctx, d, journal.Recorded(t.ownSeq))
		unclear := new(journal.Unclear)
		switch {
		case errors.Is(err, journal.ErrOffline), errors.Is(err, journal.ErrFull), errors.As(err, &unclear):
			return nil
		case err != nil:
			return fmt.Errorf("terminal %s: fact %s from the outbox: %w", t.Name, d.ID(), err)
		}
		t.ownSeq = r.Seq
		if err := t.Outbox.Sent(ctx, d.N); err != nil {
			return fmt.Errorf("terminal %s: outbox: %w", t.Name, err)
		}
		t.kept = t.kept[1:]
	}
	return nil
}

// keep stores a fact in the outbox.
func (t *Terminal) keep(ctx context.Context, a *attempt) (bool, error) {
	if err := t.Outbox.Keep(ctx, a.draft); err != nil {
		return false, fmt.Errorf("outbox: %w", err)
	}
	t.kept = append(t.kept, a.draft)
	return true, nil
}

// readKept folds what is kept, after a restart.
func (t *Terminal) readKept(ctx context.Context) error {
	drafts, err := t.Outbox.Kept(ctx)
	if err != nil {
		return fmt.Errorf("outbox: %w", err)
	}
	t.kept = drafts
	t.knows = t.knows || len(drafts) > 0
	for _, d := range drafts {
		r, err := t.decode(d.Data)
		if err != nil {
			return fmt.Errorf("outbox: fact %s: %w", d.ID(), err)
		}
		t.take(&r)
	}
	return nil
}
