package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// FindingNow is how one finding stands and what its decision adds.
type FindingNow struct {
	*Finding
	State string        // not decided, waits for the owner, to be done, done, used as it is
	Next  string        // the next action; empty: none
	Work  string        // what its decision added and is not done: "Oil pan hole 3 is to be repaired since 12 May, thread pulled"; empty: nothing
	Holds []events.Step // steps that it holds up now
	Buy   []events.Line // what has to come from outside
	Send  []events.Part // what a slip would take
}

// FindingsNow lists the findings of the job, each with what it holds and what
// its decision adds: work, pieces to buy, parts for a slip.
func (j *Job) FindingsNow() []FindingNow {
	s := j.State()
	list := make([]FindingNow, 0, len(s.findings))
	for _, f := range s.findings {
		n := FindingNow{Finding: f, State: "done"}
		switch {
		case f.Waits():
			n.State = "waits for the owner"
		case f.Open():
			n.State = "not decided"
		case f.Decision == decideUse:
			n.State = "used as it is"
		case f.Decision == decideReplace && s.owes(f) && s.hereNew(f):
			n.State = "to be replaced, and the new one is here"
		case s.owes(f):
			n.State = "to be " + worked[f.Decision]
		}
		if f.Open() || s.owes(f) {
			b := s.findingBlocks(f)
			if n.Next = b.Clear; !f.Open() {
				n.Work = b.Text
			}
			if n.Send = s.findingSends(f); !s.hereNew(f) || len(f.Lines) > 0 {
				n.Buy = s.findingBuys(f)
			}
			for i := range s.lay.plan.Steps {
				if ix := plan.StepIndex(i); !s.now.IsDone(ix) && s.concerns(ix, f.On) && (f.Open() || s.lay.plan.Steps[i].Section == plan.On && s.holdsUp(f)) && !s.lay.plan.Steps[i].Section.Apart() {
					n.Holds = append(n.Holds, s.lay.plan.Steps[i].ID)
				}
			}
		}
		list = append(list, n)
	}
	return list
}

// FindingWork lists the findings whose decision added work that is not done, in
// the order in which they were raised: each is to be done as a step is, though
// no plan has it (rule R56).
func (j *Job) FindingWork() []FindingNow {
	var list []FindingNow
	for _, n := range j.FindingsNow() {
		if n.Work != "" {
			list = append(list, n)
		}
	}
	return list
}

// findingBuys is what a decision needs from outside: what was said, or the part
// that is to be replaced.
func (s *State) findingBuys(f *Finding) []events.Line {
	if f.Open() || len(f.Lines) > 0 {
		return f.Lines
	}
	if p := s.replaceable(f); f.Decision == decideReplace && p != plan.None {
		pt := &s.lay.plan.Parts[p]
		return []events.Line{{Kind: events.Kind(pt.ID), Qty: pt.Count, Cond: events.New}}
	}
	return nil
}

func (s *State) findingSends(f *Finding) []events.Part {
	if p := s.replaceable(f); f.Decision == decideSend && p != plan.None {
		return []events.Part{s.lay.plan.Parts[p].ID}
	}
	return nil
}
