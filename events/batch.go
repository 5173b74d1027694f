package events

// BatchOpened says that parts went into one wash or one coat of paint together,
// with the plugs and masks that were put on for it, counted.
type BatchOpened struct {
	Batch string `json:"batch"`
	What  string `json:"what,omitempty"` // wash, paint
	Parts []Part `json:"parts,omitempty"`
	Masks []Line `json:"masks,omitempty"`
}

// BatchClosed says that it is done: the plugs and masks that came off, all of
// them counted, and for how long nothing may touch the parts.
type BatchClosed struct {
	Batch string `json:"batch"`
	Masks []Line `json:"masks,omitempty"`
	Cure  int    `json:"cure,omitempty"` // minutes from now; 0: none
}

func (BatchOpened) event() {}
func (BatchClosed) event() {}
