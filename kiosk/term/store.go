package term

import (
	"context"
	"errors"

	"countback/events/journal"
	"countback/kiosk/bench"
)

// watched is the road to the shop's journal with an eye on it: it remembers
// why a fact could not be stored.
type watched struct {
	journal.Journal
	apart bool // there is an outbox: being cut off is no failure
	why   error
}

// Append implements journal.Journal.
func (w *watched) Append(ctx context.Context, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	r, err := w.Journal.Append(ctx, d, e)
	stale, unclear := new(journal.Stale), new(journal.Unclear)
	switch {
	case err == nil, errors.As(err, &stale), errors.As(err, &unclear):
	case w.apart && errors.Is(err, journal.ErrOffline):
	default:
		w.why = err
	}
	return r, err
}

// failed is why a fact could not be stored since it was last asked; nil if
// none failed.
func (w *watched) failed() error {
	err := w.why
	w.why = nil
	return err
}

// health is why an append would fail now.
func (w *watched) health(ctx context.Context) error {
	err := w.Journal.Health(ctx)
	if w.apart && errors.Is(err, journal.ErrOffline) {
		return nil
	}
	return err
}

// watchedBox is an outbox with the same eye on it.
type watchedBox struct {
	bench.Outbox
	on *watched
}

// Keep implements bench.Outbox.
func (b *watchedBox) Keep(ctx context.Context, d journal.Draft) error {
	err := b.Outbox.Keep(ctx, d)
	if err != nil {
		b.on.why = err
	}
	return err
}

// watch puts the eye on a terminal's journal and outbox; undo takes it off.
func watch(t *bench.Terminal) (w *watched, undo func()) {
	home, box := t.Home, t.Outbox
	w = &watched{Journal: home, apart: box != nil}
	t.Home = w
	if box != nil {
		t.Outbox = &watchedBox{box, w}
	}
	return w, func() { t.Home, t.Outbox = home, box }
}
