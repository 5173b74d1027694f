package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Batch is one wash or one coat of paint: the parts in it, and the plugs and
// masks that went on and came off.
type Batch struct {
	Name   string
	What   string // wash, paint
	Parts  []events.Part
	Masks  []events.Line // counted on
	Opened ledger.Fact
	Closed ledger.Fact // 0: it is open
	Cured  int64       // microseconds since 1970 UTC: nothing may touch the parts before; 0: no matter

	account ledger.AccountID
}

// RedBatch is the line of a batch that nobody closed by a count.
const RedBatch = "batch"

// BatchPlace is where the plugs and masks of a batch are by the book.
func BatchPlace(name string) events.Place { return events.Place("place/batch-" + name) }

func (s *State) batchOpened(e *events.BatchOpened) {
	b := &Batch{Name: e.Batch, What: e.What, Parts: slices.Clone(e.Parts), Masks: slices.Clone(e.Masks), Opened: s.fact,
		account: s.book.Account(BatchPlace(e.Batch))}
	s.batches = append(s.batches, b)
	drawer := s.book.Account("outside/drawer")
	for i := range e.Masks {
		s.book.Move(s.fact, s.match(&e.Masks[i]), int32(e.Masks[i].Qty), drawer, b.account)
	}
}

// batchClosed counts the plugs and masks off: what is missing is a short at the
// batch, and what came off goes back into the drawer.
func (s *State) batchClosed(e *events.BatchClosed) {
	a := s.book.Account(BatchPlace(e.Batch))
	rows := make([]ledger.Number, len(e.Masks))
	for i := range e.Masks {
		rows[i] = ledger.Number{Match: s.match(&e.Masks[i]), N: int32(e.Masks[i].Qty)}
	}
	s.book.CountAll(s.fact, s.known(), a, rows, true)
	s.move(a, s.book.Account("outside/drawer"), s.contents(a))
	for _, b := range s.batches {
		if b.Name != e.Batch || b.Closed != 0 {
			continue
		}
		b.Closed = s.fact
		if e.Cure > 0 {
			b.Cured = s.rec.At + int64(e.Cure)*60_000_000
		}
	}
}

// Batches lists the batches in the order in which they were opened.
func (s *State) Batches() []*Batch { return s.batches }

// Batch is the last batch of a name; false: there was none.
func (s *State) Batch(name string) (*Batch, bool) {
	for i := len(s.batches) - 1; i >= 0; i-- {
		if s.batches[i].Name == name {
			return s.batches[i], true
		}
	}
	return nil, false
}

// batchOf is the batch that the pieces of an account were masks of; nil: none.
func (s *State) batchOf(a ledger.AccountID) *Batch {
	for i := len(s.batches) - 1; i >= 0; i-- {
		if s.batches[i].account == a {
			return s.batches[i]
		}
	}
	return nil
}

// batchLooks lists where a plug or mask that did not come off may be: in each
// part of its batch, and where such things end up.
func (s *State) batchLooks(en *ledger.Entry) []string {
	b := s.batchOf(en.Place)
	if b == nil {
		return nil
	}
	var list []string
	for _, p := range b.Parts {
		list = append(list, "the holes and passages of "+s.partWords(string(p)))
	}
	if b.What == "paint" {
		return append(list, "the paint shop's floor and hooks")
	}
	return append(list, "the wash tank and its filter")
}

// batches keeps a part that is in a wash or whose paint cures from being
// fitted, until it is out or dry. Rule R65.
func (v *view) batches(step *plan.Step, list []Blocker) []Blocker {
	s := v.s
	if len(s.batches) == 0 || step.Section.Apart() {
		return list
	}
	now := s.job.moment()
	for _, b := range s.batches {
		for _, id := range b.Parts {
			if p, ok := s.lay.plan.Part(id); !ok || !s.worksOn(step, p) {
				continue
			}
			switch {
			case b.Closed == 0:
				list = append(list, Blocker{capital(s.partWords(string(id))) + " is in batch " + b.Name + " since " + s.clock(b.Opened),
					"count its plugs and masks off: " + say("batch "+b.Name, "CLOSE")})
			case b.Cured > now:
				list = append(list, Blocker{capital(s.partWords(string(id))) + ": what was put on in batch " + b.Name + " cures until " + s.moment(b.Cured),
					"wait until " + s.moment(b.Cured) + "; or " + override(noun("step", step.ID))})
			}
			break
		}
	}
	return list
}

// NotPainted lists fasteners that are on the parts of an open coat of paint:
// they are masked or come off first.
func (s *State) NotPainted(b *Batch) []events.Line {
	if b.What != "paint" || b.Closed != 0 {
		return nil
	}
	var list []events.Line
	for _, l := range s.Contents(b.Parts...) {
		if _, ok := specOf(l.Kind); ok {
			list = append(list, l)
		}
	}
	return list
}

func (r *redList) batches() {
	for _, b := range r.s.batches {
		if b.Closed == 0 {
			r.add(RedBatch, b.Opened, "Batch "+b.Name+" is open since "+r.s.day(b.Opened)+", "+r.s.linesWords(b.Masks)+" on it", "count them off: "+say("batch "+b.Name, "CLOSE"))
		}
	}
}

// batchWords tells what happened to a batch; empty for other facts.
func (s *State) batchWords(ev events.Event) string {
	switch e := ev.(type) {
	case events.BatchOpened:
		text := "Batch " + e.Batch
		if e.What != "" {
			text += ", " + e.What
		}
		if len(e.Parts) > 0 {
			text += ": " + s.partsWords(e.Parts)
		}
		if len(e.Masks) > 0 {
			text += "; " + s.linesWords(e.Masks) + " counted on"
		}
		return text
	case events.BatchClosed:
		text := "Batch " + e.Batch + " closed, " + s.linesWords(e.Masks) + " counted off"
		if e.Cure > 0 {
			text += "; it cures for " + plural(e.Cure/60, "hour")
			if e.Cure%60 != 0 {
				text += " " + itoa(e.Cure%60) + " min"
			}
		}
		return text
	}
	return ""
}
