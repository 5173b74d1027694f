package events

// Preserved says that a part, or everything in a place, was kept from rust:
// oiled, waxed, bagged with desiccant.
type Preserved struct {
	Part  Part   `json:"part,omitempty"`
	Place Place  `json:"place,omitempty"`
	With  string `json:"with"`
}

// LotDated says until which day a lot of sealant, thread lock or the like is
// good, as its label has it.
type LotDated struct {
	Lot     Lot `json:"lot"`
	Expires Day `json:"expires"` // the last day on which it is good
}

func (Preserved) event() {}
func (LotDated) event()  {}
