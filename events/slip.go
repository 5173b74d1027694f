package events

// WorkAsked says what another shop is to do with what is on a slip, and how far
// it may go. What was asked last stands.
type WorkAsked struct {
	Slip   Code   `json:"slip"`
	Work   string `json:"work"`             // "pressure test, skim"
	Limits string `json:"limits,omitempty"` // "no more than 0.2 mm off; not the cam bore"
}

// LookedOver says that somebody looked at parts after they came back from
// another shop, and found nothing that keeps them from being used.
type LookedOver struct {
	Parts []Part `json:"parts"`
	Note  string `json:"note,omitempty"`
}

func (WorkAsked) event()  {}
func (LookedOver) event() {}
