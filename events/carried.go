package events

// Carried says where a tray or a bag is now, with all that is in it: on a
// bench, on a shelf, in another tray, or in a person's hands.
type Carried struct {
	What Place `json:"what"`         // "place/tray-7", "bag/B2KCZ6EE"
	To   Place `json:"to,omitempty"` // empty: With has it
	With Badge `json:"with,omitempty"`
}

// TrayIssued says how many pieces a tray takes.
type TrayIssued struct {
	Tray  Place `json:"tray"`
	Holds int   `json:"holds"` // pieces; 0: no limit is known
}

func (Carried) event()    {}
func (TrayIssued) event() {}
