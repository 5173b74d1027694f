package events

// OwnerAnswered is the owner's yes or no to what a finding asked.
type OwnerAnswered struct {
	Finding string `json:"finding"`
	Yes     bool   `json:"yes,omitempty"`
	Why     string `json:"why,omitempty"`
}

// FindingDone says that the work which a decision added is done.
type FindingDone struct {
	Finding string `json:"finding"`
	Why     string `json:"why,omitempty"`
}

func (OwnerAnswered) event() {}
func (FindingDone) event()   {}
