package bench

// Kept is how many facts are in the outbox: durable here, and not yet in the
// shop's journal.
func (t *Terminal) Kept() int { return len(t.kept) }
