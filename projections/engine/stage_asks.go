package engine

import (
	"math"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/fastener/torque"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// malformedStage finds what no tool and no list can give.
func malformedStage(e *events.StageRecorded) error {
	switch {
	case e.Stage < 1:
		return refuse(Malformed, "say which stage was done", "stage %d: stages begin with 1", e.Stage)
	case !e.Read:
		return nil
	case math.IsNaN(e.Value) || e.Value < 0 || e.Value > 1e6:
		return refuse(Malformed, "read it again", "%v %s cannot be read off", e.Value, e.Unit)
	case e.Unit == "deg" && e.Value > stage.WholeTurn:
		return refuse(Malformed, "read it again; what was turned further is told stage by stage", "an angle of %s deg is more than a whole turn", numberWords(e.Value))
	}
	return nil
}

// NextStage is what a stage card means for some holes of a joint now.
type NextStage struct {
	Order   string
	Stage   int // from 1
	Stages  int
	What    string
	Kind    stage.Kind // empty: no list
	Unit    string     // of a value that is read
	Known   bool       // its value is known
	Value   string     // the value alone: "40 N.m"
	Edition string
	Due     string        // it falls due later: when
	Holes   []events.Hole // nil: all of the joint
	Wrong   string        // why it is not in order now; empty: it is

	least, most float64
}

// Range is what the value may be, in the unit of the kind; false where it is
// not known.
func (n *NextStage) Range() (least, most float64, ok bool) { return n.least, n.most, n.Known }

// NextStage finds the next stage of some holes of a joint, or of all: the first
// one that one of them lacks, and the holes that lack it. false: everything that
// is due now and later is recorded, or the plan does not have the joint.
func (j *Job) NextStage(joint events.Joint, holes []events.Hole) (NextStage, bool) {
	return j.State().nextStage(joint, holes, 0)
}

// StageOf is a stage by its number at some holes of a joint, whatever their
// turn. false: none of them has it.
func (j *Job) StageOf(joint events.Joint, holes []events.Hole, number int) (NextStage, bool) {
	return j.State().nextStage(joint, holes, number)
}

func (s *State) nextStage(joint events.Joint, holes []events.Hole, number int) (NextStage, bool) {
	ix, ok := s.lay.plan.Joint(joint)
	if !ok {
		return NextStage{}, false
	}
	var list []candidate
	named := 0
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		hole := s.lay.plan.Seats[seat].Hole
		if len(holes) > 0 && !contains(holes, hole) || len(s.lay.seats[seat].members) == 0 || s.now.Seat(seat) == plan.SeatAbsent {
			continue
		}
		named++
		li, spot := s.listAt(seat)
		n := 0
		if li >= 0 {
			n = s.lacks(li, spot, seat, number)
		} else if !s.holdsMain(seat) || number > 1 || s.seats[seat].stages > 0 {
			continue
		}
		if li < 0 || n > 0 {
			list = s.candidate(list, li, spot, n, hole)
		}
	}
	best := -1
	for i := range list {
		if best < 0 || list[i].before(&list[best]) {
			best = i
		}
	}
	if best < 0 {
		return NextStage{}, false
	}
	x := list[best].NextStage
	if len(x.Holes) == named && len(holes) == 0 && x.Due == "" {
		x.Holes = nil
	}
	return x, true
}

// candidate is a stage that some holes lack.
type candidate struct {
	NextStage
	list int32
}

// before reports whether a stage is offered before another: one that nothing
// holds up, of a list before none, the lower number.
func (c *candidate) before(o *candidate) bool {
	switch {
	case (c.Wrong == "") != (o.Wrong == ""):
		return c.Wrong == ""
	case (c.Kind == "") != (o.Kind == ""):
		return o.Kind == ""
	}
	return c.Stage < o.Stage
}

// candidate adds a hole to the stage that it lacks. A hole without a list is
// tightened once, by what a person says.
func (s *State) candidate(list []candidate, li int32, spot, n int, hole events.Hole) []candidate {
	x := candidate{NextStage{Stage: 1, Stages: 1, What: "torque that the plan does not give", Unit: "N.m"}, li}
	if li >= 0 {
		x.NextStage = s.stageAt(li, spot, n)
	}
	for i := range list {
		if list[i].list == li && list[i].Stage == x.Stage && list[i].What == x.What {
			list[i].Holes = append(list[i].Holes, hole)
			return list
		}
	}
	if li >= 0 {
		x.Wrong = s.wrong(li, spot, n)
	}
	x.Holes = []events.Hole{hole}
	return append(list, x)
}

// stageAt is a stage of a list at a position.
func (s *State) stageAt(li int32, spot, n int) NextStage {
	l, ed := s.listOf(li), s.edition(li)
	st := &ed.List.Stages[n-1]
	x := NextStage{Order: l.ID, Stage: ed.Number(n), Stages: ed.Now(spot), What: st.String(), Kind: st.Kind, Unit: st.Kind.Unit(), Known: st.Known,
		Value: valueWords(*st), Due: st.Due, Edition: editionOf(l, ed), least: st.Min, most: st.Max}
	if st.Due != "" {
		x.Stages, x.What = x.Stage, st.String()+" "+st.Due
	}
	return x
}

// lacks is the first stage that a position lacks, or the one with a number; 0:
// none.
func (s *State) lacks(li int32, spot int, seat plan.SeatIndex, number int) int {
	ed, hard := s.edition(li), s.tight.lists[li].hard
	if number > 0 {
		return ed.Stage(spot, number)
	}
	for k := 1; k <= ed.All(spot); k++ {
		n := ed.Stage(spot, k)
		if n > 0 && (!hard && int(s.seats[seat].stages) < k || hard && s.cellLacks(li, spot, n)) {
			return n
		}
	}
	return 0
}

// editionOf is the name of the edition that a stage is told by; empty where the
// plan has only one.
func editionOf(l *tightening.List, ed *tightening.Edition) string {
	if len(l.Editions) < 2 {
		return ""
	}
	return ed.Label()
}

// cellLacks reports whether a cell is to be done: open, part done, or doubtful so
// that doing it again clears it.
func (s *State) cellLacks(li int32, spot, n int) bool {
	l, ed := s.listOf(li), s.edition(li)
	c, _ := s.matrix(li).Cell(l.Names[spot], n)
	return c.State == stage.Open || c.State == stage.Part || c.State == stage.Doubtful && ed.List.Stages[n-1].Kind != stage.Angle
}

// wrong is why a stage is not in order at a position now; what a person that is
// not known yet may break is not in it.
func (s *State) wrong(li int32, spot, n int) string {
	l, ed := s.listOf(li), s.edition(li)
	m := s.matrix(li).Clone()
	for i := range ed.List.Stages {
		for _, mark := range ed.List.Stages[i].Needs {
			m.Mark(mark, ed.Needs[i].Eval(s.now), "", m.At())
		}
		if d := ed.List.Stages[i].Due; d != "" {
			m.FallDue(d, "", m.At())
		}
	}
	if err := m.May(stage.Act{Position: l.Names[spot], Stage: n}); err != nil {
		return err.Error()
	}
	return ""
}

// Doubt is a stage in which something is doubtful or too far, and what clears it.
type Doubt struct {
	Order string
	Stage int // as told
	What  string
	Holes []events.Hole
	Why   string
	Over  bool // some of it is beyond its most: only loosening clears that
}

// Doubts lists the stages of a joint in which something is not as it should be,
// in the order of its lists. Holes, where given, narrow it.
func (j *Job) Doubts(joint events.Joint, holes []events.Hole) []Doubt {
	var out []Doubt
	for _, t := range j.Tightened(joint) {
		for _, row := range t.Rows {
			d := Doubt{Order: t.Order, Stage: row.Number}
			for i, c := range row.Cells {
				if c.State != stage.Doubtful && c.State != stage.Over || t.Spots[i].Joint != joint && len(t.Joints) == 1 {
					continue
				}
				if len(holes) > 0 && !contains(holes, t.Spots[i].Hole) {
					continue
				}
				d.Holes, d.Over, d.What = append(d.Holes, t.Spots[i].Hole), d.Over || c.State == stage.Over, c.What
				if d.Why == "" || c.State == stage.Over {
					d.Why = c.Why
				}
			}
			if len(d.Holes) > 0 {
				out = append(out, d)
			}
		}
	}
	return out
}

// AcceptStage is a person's word for what is doubtful in a stage (rule R49).
type AcceptStage struct {
	Joint events.Joint
	Holes []events.Hole
	Why   string
}

func (c AcceptStage) decide(s *State) (events.Event, error) {
	if c.Why == "" {
		return nil, refuse(Malformed, "say why it is good", "nothing was accepted: no reason")
	}
	d := s.job.Doubts(c.Joint, c.Holes)
	switch {
	case len(d) == 0:
		return nil, refuse(Conflict, "scan STAGE when the next one is done", "nothing is doubtful in %s", s.jointWords(string(c.Joint)))
	case d[0].Over:
		return nil, refuse(Conflict, "loosen it, scan LOOSE, and begin again", "%s: %s", s.holesWords(c.Joint, d[0].Holes), d[0].Why)
	}
	return events.StageAccepted{Joint: c.Joint, Holes: c.Holes, Order: d[0].Order, Stage: d[0].Stage, Why: c.Why}, nil
}

// RestartStage begins a stage anew that was broken off, or the angle stage that
// was begun last.
type RestartStage struct {
	Joint events.Joint
	Holes []events.Hole
	Why   string
}

func (c RestartStage) decide(s *State) (events.Event, error) {
	if d := s.job.Doubts(c.Joint, c.Holes); len(d) > 0 {
		return events.StageRestarted{Joint: c.Joint, Holes: c.Holes, Order: d[0].Order, Stage: d[0].Stage, Why: c.Why}, nil
	}
	for _, t := range s.job.Tightened(c.Joint) {
		for n := len(t.Rows) - 1; n >= 0; n-- {
			for i, cell := range t.Rows[n].Cells {
				if cell.Is && cell.State != stage.Open && !cell.Presumed && (len(c.Holes) == 0 || contains(c.Holes, t.Spots[i].Hole)) {
					return events.StageRestarted{Joint: c.Joint, Holes: c.Holes, Order: t.Order, Stage: t.Rows[n].Number, Why: c.Why}, nil
				}
			}
		}
	}
	return nil, refuse(Conflict, "scan STAGE when the first one is done", "no stage of %s was begun here", s.jointWords(string(c.Joint)))
}

// ChooseEdition decides by which of two editions that disagree a list is
// tightened (rule R52). The one who chooses signs.
type ChooseEdition struct {
	Joint  events.Joint
	Choice int // from 1
	Signed events.Badge
	Why    string
}

func (c ChooseEdition) decide(s *State) (events.Event, error) {
	switch {
	case c.Why == "":
		return nil, refuse(Malformed, "say why that one", "no edition was chosen: no reason")
	case c.Signed == "":
		return nil, refuse(Malformed, "scan the badge of who chooses", "no edition was chosen: nobody signs")
	}
	for _, t := range s.job.Tightened(c.Joint) {
		if len(t.Editions) < 2 {
			continue
		}
		if c.Choice < 1 || c.Choice > len(t.Editions) {
			return nil, refuse(Malformed, "say a number from 1 to "+itoa(len(t.Editions)), "%s has no edition %d", s.jointWords(string(c.Joint)), c.Choice)
		}
		if t.Chosen != 0 && t.Edition == c.Choice {
			return nil, nil
		}
		ed := &s.listOf(t.li).Editions[c.Choice-1]
		return events.EditionChosen{Order: t.Order, Choice: c.Choice, Edition: ed.Name, Source: ed.Source, Signed: c.Signed, Why: c.Why}, nil
	}
	return nil, refuse(Conflict, "tighten by it, and scan STAGE", "the plan has one edition of the stages of %s", s.jointWords(string(c.Joint)))
}

// ChooseTorque takes a torque that was worked out for holes for which the plan
// has none (rule R53).
type ChooseTorque struct{ events.TorqueChosen }

func (c ChooseTorque) decide(s *State) (events.Event, error) {
	e := c.TorqueChosen
	nm, ok := inUnit(e.Value, e.Unit, stage.Torque)
	switch {
	case !ok || !(nm > 0 && nm < 1e6):
		return nil, refuse(Malformed, "say a torque with its unit", "%s %s is no torque", numberWords(e.Value), e.Unit)
	case e.Lubricant == "":
		return nil, refuse(Malformed, "say what is on the threads: dry, oil, anti-seize", "no torque was chosen: the lubricant is not said")
	}
	ix, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		return nil, refuse(Unknown, "scan a joint of this job", "this job has no joint %s", e.Joint)
	}
	free := false
	for _, seat := range s.scope(ix, e.Joint, e.Holes) {
		if s.lay.seats[seat].full == 0 || s.planTorque(seat) {
			continue
		}
		free = true
		if why := s.strains(seat, nm); why != "" {
			return nil, refuse(Conflict, "work it out again", "%s", why)
		}
	}
	if !free {
		return nil, refuse(Conflict, "tighten by the plan, or amend it", "the plan says how %s is tightened", s.holesWords(e.Joint, e.Holes))
	}
	return e, nil
}

// anyFriction is everything from anti-seize to dry.
var anyFriction = torque.NutFactor{Of: "anti-seize to dry", Min: 0.12, Max: 0.25,
	Source: "mechconcepts.tech, citing Shigley and Machinery's Handbook"}

// strains says that a torque in N.m passes what the fastener of a hole bears at
// any friction; empty where it does not, or its strength is not known.
func (s *State) strains(seat plan.SeatIndex, nm float64) string {
	m, ok := s.lay.plan.Seats[seat].Turned()
	if !ok {
		return ""
	}
	spec, ok := specOf(s.wantedKind(seat, turnedMember(&s.lay.plan.Seats[seat])))
	if !ok {
		spec = m.Spec
	}
	v, err := torque.Of(math.Round(nm*1e4)/1e4, torque.NewtonMetre)
	if err != nil {
		return ""
	}
	load, err := torque.Check(spec, v, anyFriction)
	if err != nil || load.ProofN == 0 || load.LeastN <= load.ProofN {
		return ""
	}
	return load.String()
}

// Strains says that a torque passes what the fasteners of some holes of a joint
// bear at any friction; empty where it does not.
func (j *Job) Strains(joint events.Joint, holes []events.Hole, value float64, unit string) string {
	s := j.State()
	nm, ok := inUnit(value, unit, stage.Torque)
	ix, known := s.lay.plan.Joint(joint)
	if !ok || !known {
		return ""
	}
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		if len(holes) > 0 && !contains(holes, s.lay.plan.Seats[seat].Hole) {
			continue
		}
		if why := s.strains(seat, nm); why != "" {
			return why
		}
	}
	return ""
}

func (s *State) tellsTightening(ev events.Event) string {
	switch e := ev.(type) {
	case events.StageRestarted:
		return s.holesWords(e.Joint, e.Holes) + ": stage " + itoa(e.Stage) + " begun anew, what was turned in it is loose" + because(e.Why)
	case events.StageAccepted:
		return s.holesWords(e.Joint, e.Holes) + ": stage " + itoa(e.Stage) + " accepted" + because(e.Why)
	case events.EditionChosen:
		text := "Tightening " + e.Order + ": edition " + itoa(e.Choice)
		if e.Source != "" {
			text += " (" + e.Source + ")"
		}
		return text + " counts, chosen by " + string(e.Signed) + because(e.Why)
	case events.TorqueChosen:
		text := s.holesWords(e.Joint, e.Holes) + ": " + numberWords(e.Value) + " " + e.Unit + " chosen, " + e.Lubricant
		if e.Friction != "" {
			text += ", " + e.Friction
		}
		return text + ": guidance, not the maker's" + because(e.Why)
	}
	return ""
}
