package engine

import (
	"slices"

	"countback/events"
	"countback/projections/plan"
)

// SlipLine is what travels of one kind: the parts of the slip, and all that was
// on them.
type SlipLine struct {
	Kind    events.Kind
	Name    string
	Part    bool // of the slip itself, not on one
	Went    int
	Came    int
	Away    int // still on what is away
	Missing int // Went less Came less Away; below zero: more came than went
}

// SlipStep is a step that waits for a slip.
type SlipStep struct {
	Step   events.Step
	Name   string
	Direct bool // it works on what is away; else it waits for one that does
}

// SlipReading is one measurement of what travelled: the last reading before it
// went, and the last one since it was back.
type SlipReading struct {
	Measurement string
	At          events.Hole
	Before      *Reading // nil: none
	After       *Reading // nil: none
}

// SlipView is how one slip stands.
type SlipView struct {
	*Slip
	Promised  events.Day // back, by the last word given; none: nobody said
	Words     int        // how often a day was given
	Sent      int64      // microseconds since 1970
	Returned  int64      // when the last of it came back; 0: not yet
	DaysAway  int        // so far, or until it was back
	Overdue   int        // days past the promised one and not back; 0: not overdue
	Lines     []SlipLine
	Partial   bool // some is back and some is not
	Unlooked  []events.Part
	Blocks    []SlipStep
	NeededBy  events.Day // the planned start of the first step that it blocks; none: not planned
	SlackDays int        // from the promised day, or today if it is past, to NeededBy
	SlackWork SlipSlack  // what can be done meanwhile
	Readings  []SlipReading
}

// SlipSlack is the work that can be done before all waits for a slip: where it
// is none the slip is on the critical path.
type SlipSlack struct {
	Steps   int
	Minutes int // of the steps that say how long they take
}

// Slips is how every slip stands, in the order in which they went out. Rule R44.
func (j *Job) Slips() []SlipView {
	s := j.State()
	var list []SlipView
	for _, sl := range s.slips {
		list = append(list, j.slipView(sl))
	}
	return list
}

// SlipNow is how one slip stands; false if the job has none of that label.
func (j *Job) SlipNow(c events.Code) (SlipView, bool) {
	if sl := j.State().slip(c); sl != nil {
		return j.slipView(sl), true
	}
	return SlipView{}, false
}

func (j *Job) slipView(sl *Slip) SlipView {
	s := j.State()
	v := SlipView{Slip: sl, Lines: s.slipLines(sl), Readings: s.slipReadings(sl), Unlooked: slices.Clone(sl.Unlooked),
		Partial: len(sl.Out) > 0 && len(sl.Out) < len(sl.Parts)}
	v.Promised, v.Words = s.slipPromise(sl)
	today, until := events.DayOf(j.moment()), j.moment()
	if r := s.Fact(sl.Since); r != nil {
		v.Sent = r.At
	}
	if r := s.Fact(sl.Back); r != nil {
		v.Returned, until = r.At, r.At
	}
	v.DaysAway = max(0, events.DayOf(v.Sent).Until(events.DayOf(until)))
	if len(sl.Out) == 0 {
		return v
	}
	if v.Promised != "" {
		v.Overdue = max(0, v.Promised.Until(today))
	}
	v.Blocks, v.SlackWork = s.slipBlocks(sl)
	for _, b := range v.Blocks {
		v.NeededBy = v.NeededBy.Earlier(j.PlannedStart(b.Step))
	}
	if v.NeededBy.Valid() {
		v.SlackDays = today.Later(v.Promised).Until(v.NeededBy)
	}
	return v
}

// slipLines compares what went with what came, kind by kind: the parts first.
func (s *State) slipLines(sl *Slip) []SlipLine {
	var list []SlipLine
	at := func(k events.Kind) *SlipLine {
		for i := range list {
			if list[i].Kind == k {
				return &list[i]
			}
		}
		list = append(list, SlipLine{Kind: k, Name: s.kindWords(k), Part: contains(sl.Parts, events.Part(k))})
		return &list[len(list)-1]
	}
	for _, l := range sl.Went {
		at(l.Kind).Went += l.Qty
	}
	for _, l := range sl.Came {
		at(l.Kind).Came += l.Qty
	}
	for _, l := range s.travels(sl.Out) {
		at(l.Kind).Away += l.Qty
	}
	for i := range list {
		list[i].Missing = list[i].Went - list[i].Came - list[i].Away
	}
	return list
}

// travels is parts and all that is on them, as lines, the parts first.
func (s *State) travels(parts []events.Part) []events.Line {
	var list []events.Line
	for _, id := range parts {
		if p, ok := s.lay.plan.Part(id); ok {
			list = append(list, events.Line{Kind: events.Kind(id), Qty: s.lay.plan.Parts[p].Count})
		}
	}
	if len(list) == 0 {
		return nil
	}
	return append(list, s.Contents(parts...)...)
}

// slipBlocks lists the steps together that wait for a slip, and what else can be
// done meanwhile, if every other slip is back in time: both by doing in mind all
// that can be done, once without what is away and once with it.
func (s *State) slipBlocks(sl *Slip) ([]SlipStep, SlipSlack) {
	without, slack := s.asFarAs(sl, s.backFrom(sl))
	with, _ := s.asFarAs(nil, s.backFrom(nil))
	var list []SlipStep
	for i := range s.lay.plan.Steps {
		if with[i] && !without[i] {
			step := &s.lay.plan.Steps[i]
			list = append(list, SlipStep{step.ID, step.Name, s.slipStep(sl, plan.StepIndex(i)) != ""})
		}
	}
	return list, slack
}

// backFrom is the engine with all back that is away, but for one slip.
func (s *State) backFrom(but *Slip) *plan.Present {
	now := s.now.Clone()
	for _, sl := range s.slips {
		for _, id := range sl.Out {
			if p, ok := s.lay.plan.Part(id); ok && sl != but && now.Part(p) == plan.PartAway {
				now.SetPart(p, plan.PartOff)
			}
		}
	}
	return now
}

// asFarAs does in mind every step together that can be done, each once, but for
// those that take a slip's parts back.
func (s *State) asFarAs(sl *Slip, now *plan.Present) (did []bool, all SlipSlack) {
	p := s.lay.plan
	did = make([]bool, len(p.Steps))
	for again := true; again; {
		again = false
		for i := range p.Steps {
			ix, step := plan.StepIndex(i), &p.Steps[i]
			if did[i] || step.Section.Apart() || step.Optional || sl != nil && s.takesSlipBack(sl, step) || now.IsDone(ix) || !now.Can(ix) {
				continue
			}
			now.Do(ix)
			did[i], again = true, true
			all.Steps++
			all.Minutes += step.Minutes
		}
	}
	return did, all
}

func (s *State) takesSlipBack(sl *Slip, step *plan.Step) bool {
	for _, p := range step.TakesBack {
		if contains(sl.Out, s.lay.plan.Parts[p].ID) {
			return true
		}
	}
	return false
}

// slipReadings pairs the measurements of what travelled with the last reading
// before it went and the last one since it was back.
func (s *State) slipReadings(sl *Slip) []SlipReading {
	ids := s.measuredOn(sl.Parts)
	var list []SlipReading
	for i := range s.measured {
		r := &s.measured[i]
		if !contains(ids, r.Measurement) {
			continue
		}
		at := slices.IndexFunc(list, func(o SlipReading) bool { return o.Measurement == r.Measurement && o.At == r.At })
		if at < 0 {
			list = append(list, SlipReading{Measurement: r.Measurement, At: r.At})
			at = len(list) - 1
		}
		switch {
		case r.Fact < sl.Since:
			list[at].Before = r
		case sl.first != 0 && r.Fact > sl.first:
			list[at].After = r
		}
	}
	return slices.DeleteFunc(list, func(r SlipReading) bool { return r.Before == nil && r.After == nil })
}

// measuredOn lists the measurements of parts and of what belongs on them.
func (s *State) measuredOn(parts []events.Part) []string {
	p := s.lay.plan
	var ids []string
	for i := range p.Parts {
		for at := plan.PartIndex(i); at != plan.None; at = p.Parts[at].In {
			if contains(parts, p.Parts[at].ID) {
				for _, m := range p.Parts[i].Measures {
					ids = append(ids, p.Measurements[m].ID)
				}
				break
			}
		}
	}
	return ids
}

// workAsked writes on a slip what is to be done.
func (s *State) workAsked(e *events.WorkAsked) {
	sl := s.slip(e.Slip)
	if sl == nil {
		s.note(NoSuch, noun("slip", e.Slip), e.Work)
		return
	}
	sl.Scope, sl.Limits = e.Work, e.Limits
}

// lookedOver clears parts that came back.
func (s *State) lookedOver(parts []events.Part) {
	for _, sl := range s.slips {
		for _, id := range parts {
			sl.Unlooked = remove(sl.Unlooked, id)
		}
	}
}

// unlookedOn is the slip with which a part came back that nobody has looked at
// since; nil: there is none.
func (s *State) unlookedOn(id events.Part) *Slip {
	for _, sl := range s.slips {
		if contains(sl.Unlooked, id) {
			return sl
		}
	}
	return nil
}

// unlooked holds a step that works on a part which came back and which nobody
// has looked over.
func (v *view) unlooked(ix plan.StepIndex, list []Blocker) []Blocker {
	s, step := v.s, &v.s.lay.plan.Steps[ix]
	if step.Section.Apart() {
		return list
	}
	for _, sl := range s.slips {
		for _, id := range sl.Unlooked {
			if p, ok := s.lay.plan.Part(id); ok && s.worksOn(step, p) {
				list = append(list, Blocker{s.unlookedText(sl, id), lookOver(id)})
			}
		}
	}
	return list
}

func (s *State) unlookedText(sl *Slip, id events.Part) string {
	return s.partWords(string(id)) + " came back" + from(sl.Shop) + " and nobody has looked it over"
}

func lookOver(id events.Part) string {
	return "look at its faces, bores and threads; then " + orSay(say(noun("part", id), "LOOKED"), say(noun("part", id), "FINDING"))
}

func from(shop string) string {
	if shop == "" {
		return ""
	}
	return " from " + shop
}

// RedUnlooked is a part that came back from another shop and that nobody has
// looked over.
const RedUnlooked = "not-looked-over"
