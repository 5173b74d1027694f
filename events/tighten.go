package events

// StageRestarted says that a stage which was broken off is begun again: what
// had been turned in it is loose again, in its holes.
type StageRestarted struct {
	Joint Joint  `json:"joint"`
	Holes []Hole `json:"holes,omitempty"` // empty: wherever in the joint it was broken off
	Order string `json:"order,omitempty"`
	Stage int    `json:"stage"`
	Why   string `json:"why,omitempty"`
}

// StageAccepted says that a person answers for what is doubtful in a stage.
type StageAccepted struct {
	Joint Joint  `json:"joint"`
	Holes []Hole `json:"holes,omitempty"` // empty: wherever in the joint it is doubtful
	Order string `json:"order,omitempty"`
	Stage int    `json:"stage"`
	Why   string `json:"why,omitempty"`
}

// EditionChosen says by which edition of a tightening list the engine is put
// together, where the plan has two that disagree. Who chose signs.
type EditionChosen struct {
	Order   string `json:"order"`             // id of the tightening list
	Choice  int    `json:"choice"`            // from 1, in the plan's order
	Edition string `json:"edition,omitempty"` // its name in the plan
	Source  string `json:"source,omitempty"`
	Signed  Badge  `json:"signed"`
	Why     string `json:"why"`
}

// TorqueChosen says that a person chose a torque for holes for which the plan
// has none, on what friction, and by which method it was worked out. It is no
// word of the engine's maker.
type TorqueChosen struct {
	Joint     Joint   `json:"joint"`
	Holes     []Hole  `json:"holes,omitempty"` // empty: all of the joint
	Value     float64 `json:"value"`
	Unit      string  `json:"unit"` // N.m, lbf.ft, lbf.in
	Method    string  `json:"method,omitempty"`
	Lubricant string  `json:"lubricant"`
	Friction  string  `json:"friction,omitempty"` // the factor, in words
	Source    string  `json:"source,omitempty"`   // where the factor was taken from
	Signed    Badge   `json:"signed,omitempty"`
	Why       string  `json:"why,omitempty"`
}

func (StageRestarted) event() {}
func (StageAccepted) event()  {}
func (EditionChosen) event()  {}
func (TorqueChosen) event()   {}
