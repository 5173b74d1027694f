package events

// PartPressed says that a part was pressed in to a depth, and what was read of
// it, for one stage of its list.
type PartPressed struct {
	Part      Part    `json:"part"`
	Positions []Hole  `json:"positions,omitempty"` // empty: all that are in
	Order     string  `json:"order,omitempty"`     // id of the plan's list
	Stage     int     `json:"stage"`               // from 1
	What      string  `json:"what,omitempty"`      // "press-depth 0.5 to 1 mm"
	Value     float64 `json:"value,omitempty"`     // what was read, if Read
	Unit      string  `json:"unit,omitempty"`      // of Value: mm, in
	Read      bool    `json:"read,omitempty"`      // a value was read
	Tool      string  `json:"tool,omitempty"`      // it was read on
}

// DepthAccepted says that a person answers for what is doubtful of a part that
// was pressed in.
type DepthAccepted struct {
	Part      Part   `json:"part"`
	Positions []Hole `json:"positions,omitempty"` // empty: wherever it is doubtful
	Stage     int    `json:"stage"`
	Why       string `json:"why"`
}

func (PartPressed) event()   {}
func (DepthAccepted) event() {}
