package bench

import (
	"context"
	"fmt"

	"countback/events"
	"countback/events/journal"
)

// Line is the road from one terminal to the shop's journal. While it is cut
// nothing goes in either direction, and every call says ErrOffline.
type Line struct {
	journal.Journal
	cut bool
}

// Cut cuts the line; Join mends it.
func (l *Line) Cut() { l.cut = true }

// Join mends the line.
func (l *Line) Join() { l.cut = false }

func (l *Line) off(what string) error {
	return fmt.Errorf("%s: the line is cut: %w", what, journal.ErrOffline)
}

// Append implements journal.Journal.
func (l *Line) Append(ctx context.Context, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	if l.cut {
		return journal.Receipt{}, l.off("event " + d.ID() + " not stored")
	}
	return l.Journal.Append(ctx, d, e)
}

// Settle implements journal.Journal.
func (l *Line) Settle(ctx context.Context, d journal.Draft) (journal.Receipt, bool, error) {
	if l.cut {
		return journal.Receipt{}, false, l.off("event " + d.ID())
	}
	return l.Journal.Settle(ctx, d)
}

// Read implements journal.Journal.
func (l *Line) Read(ctx context.Context, from journal.Seq, f journal.Filter, fn func(journal.Message) error) error {
	if l.cut {
		return l.off("reading")
	}
	return l.Journal.Read(ctx, from, f, fn)
}

// Last implements journal.Journal.
func (l *Line) Last(ctx context.Context, t events.Terminal) (journal.Message, bool, error) {
	if l.cut {
		return journal.Message{}, false, l.off("terminal " + string(t))
	}
	return l.Journal.Last(ctx, t)
}
