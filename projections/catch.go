package projections

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// catcher says of the losses of one job where and by which count they were
// caught.
type catcher struct {
	j       *engine.Job
	audited ledger.Fact // the first signed audit, 0 none
	started ledger.Fact // the first cranking, 0 none
}

func (c *catcher) milestones() {
	for i, f := range c.j.Facts() {
		ev, ok := c.j.Standing(f.ID())
		if !ok {
			continue
		}
		switch e := ev.(type) {
		case events.AuditSigned:
			if c.audited == 0 {
				c.audited = ledger.Fact(i + 1)
			}
		case events.ActDone:
			if c.started == 0 && e.Act == events.Cranking {
				c.started = ledger.Fact(i + 1)
			}
		}
	}
}

func (c *catcher) loss(en *ledger.Entry) Loss {
	s := c.j.State()
	b := s.Book()
	l := Loss{Short: s.ShortID(en.No), Kind: b.ItemName(en.Item).Kind, Qty: int(en.Qty), Open: int(en.Open), Ending: en.Ending, Place: b.Path(en.Place)}
	shown, ev := s.Fact(en.Shown), events.Event(nil)
	if shown != nil {
		ev, _ = c.j.Standing(shown.ID())
		from, to := s.LostBetween(en.No)
		l.Shown = to
		if from == 0 {
			_, from = s.Happened(s.Started)
		}
		if from != 0 {
			l.Hours = float64(to-from) / 3.6e9
		}
		if f := s.Fact(en.Closed); f != nil && en.Open == 0 {
			l.Days = float64(f.At-l.Shown) / (24 * 3.6e9)
		}
	}
	l.Where = stageOf(b.Class(en.Place), l.Place, ev)
	l.Caught = c.caught(en.Shown, ev)
	l.At = s.PlaceWords(l.Place)
	l.Position = positionOf(s, l.Place)
	return l
}

// stageOf is where pieces were at the last good count.
func stageOf(c ledger.Class, p events.Place, by events.Event) Stage {
	switch c {
	case ledger.Bag:
		return InBag
	case ledger.Rack:
		return InRack
	case ledger.Bench:
		return OnBench
	case ledger.Slip:
		return AtSublet
	case ledger.Stock:
		return InStock
	case ledger.Fitted, ledger.Stub, ledger.Parked:
		switch by.(type) {
		case events.PiecesOut, events.PartRemoved:
			return AtRemoval
		case events.Returned:
			return AtSublet
		}
		return AtRefit
	}
	if strings.Contains(string(p), "wash") {
		return InWash
	}
	return InPlace
}

func (c *catcher) caught(f ledger.Fact, by events.Event) Catch {
	switch {
	case c.started != 0 && f > c.started:
		return CaughtAtStart
	case c.audited != 0 && f > c.audited:
		return CaughtAtAudit
	}
	switch by.(type) {
	case events.PiecesOut, events.PartRemoved:
		return CaughtAtRemoval
	case events.BagClosed:
		return CaughtAtClose
	case events.Returned:
		return CaughtAtReturn
	}
	return CaughtByCount
}

// positionOf is the joint or part that a place belongs to; empty for a place of
// many.
func positionOf(s *engine.State, p events.Place) string {
	word, rest, _ := strings.Cut(string(p), "/")
	switch word {
	case "fitted", "stub", "bench":
		_, name, _ := strings.Cut(rest, "/")
		return strings.TrimPrefix(name, "part ")
	case "bag":
		if b, ok := s.Bag(events.Code(rest)); ok {
			if b.Joint != "" {
				return string(b.Joint)
			}
			return string(b.Part)
		}
	}
	return ""
}
