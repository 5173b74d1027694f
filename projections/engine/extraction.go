package engine

import (
	"countback/events"
	"countback/projections/fastener"
	"countback/projections/ledger"
)

// TryExtraction asks to make an attempt on a broken fastener, or records one
// that the rules allowed. Flame and weld are refused until every caution is
// confirmed (rule R23); after the stop rule nothing more is tried without a
// second person (rule R22), who lets it pass for "case <code>". An attempt that
// was made already is a Tell: it is stored, and the stop shows on the job.
type TryExtraction struct {
	Case       events.Code
	Method     string
	Minutes    int
	Moved      bool
	ToolBroken bool
}

func (c TryExtraction) decide(s *State) (events.Event, error) {
	m, ok := MethodOf(c.Method)
	switch {
	case !ok:
		return nil, refuse(Malformed, "scan a method card", "%q is no method", c.Method)
	case c.Minutes < 0 || c.Minutes > events.MaxQty:
		return nil, refuse(Malformed, "scan the minutes again", "%d minutes", c.Minutes)
	}
	k, ok := s.Case(c.Case)
	if !ok {
		return nil, refuse(Unknown, "scan a case of this job", "this job has no case %s", c.Case)
	}
	if !k.Open() {
		return nil, refuse(Conflict, "scan an open case", "case %s: the piece is out since %s", c.Case, s.day(k.Closed))
	}
	if m.Hot {
		if u, open := k.unconfirmed(); open {
			return nil, refuse(Conflict, "read the hot work card and confirm every line", "not confirmed: %s", u.Text)
		}
	}
	if why := s.stopped(k); why != "" && !s.overrideAfter(noun("case", c.Case), lastTry(k)) {
		return nil, refuse(NeedsTwo, "stop and ask: a second badge lets it pass, or hand it out", "%s: this shop's limit", why)
	}
	return events.ExtractionTried{Case: c.Case, Method: c.Method, Minutes: c.Minutes, Moved: c.Moved, ToolBroken: c.ToolBroken}, nil
}

func lastTry(c *Case) (f ledger.Fact) {
	if n := len(c.Tries); n > 0 {
		f = c.Tries[n-1].Fact
	}
	return f
}

// ExtractStud ends a case: the piece is out and the hole is what it is now. An
// insert or a bushing needs its depth and an oversize thread what it takes, since
// the length window goes by them (rule R31).
type ExtractStud struct {
	Case    events.Code
	Hole    events.HoleState
	DepthMm float64
	Takes   events.Kind
	Sealed  bool
}

func (c ExtractStud) decide(s *State) (events.Event, error) {
	switch c.Hole {
	case events.HoleOriginal, events.HoleChased, events.HoleInsert, events.HoleBushing, events.HoleOversize:
	default:
		return nil, refuse(Malformed, "scan what the hole is now: original, chased, insert, bushing or oversize", "%q is no state of a hole", c.Hole)
	}
	if !(c.DepthMm >= 0 && c.DepthMm <= 1000) {
		return nil, refuse(Malformed, "scan the depth again", "a depth of %g mm", c.DepthMm)
	}
	takes := c.Takes
	if takes != "" {
		sp, err := fastener.Parse(string(takes))
		if err != nil {
			return nil, refuse(Malformed, "scan thread and length again", "%q is no fastener", takes)
		}
		takes = events.Kind(sp.String())
	}
	k, ok := s.Case(c.Case)
	if !ok {
		return nil, refuse(Unknown, "scan a case of this job", "this job has no case %s", c.Case)
	}
	if !k.Open() {
		return nil, nil
	}
	switch {
	case (c.Hole == events.HoleInsert || c.Hole == events.HoleBushing) && c.DepthMm == 0:
		return nil, refuse(Conflict, "measure how deep its thread is, and scan the number", "an insert of unknown depth")
	case c.Hole == events.HoleOversize && takes == "":
		return nil, refuse(Conflict, "scan the fastener that it takes now", "an oversize thread of unknown size")
	}
	return events.StudExtracted{Case: c.Case, Hole: c.Hole, DepthMm: c.DepthMm, Takes: takes, Sealed: c.Sealed}, nil
}
