package events

// OwnerBrought says what the owner brought besides the engine: new parts to be
// fitted, or old ones.
type OwnerBrought struct {
	To     Place  `json:"to"`
	Lines  []Line `json:"lines"`
	Sealed Seal   `json:"sealed,omitempty"`
}

// Seal says whether what the owner brought was in its maker's sealed packing.
type Seal string

// The states of a packing; empty: nobody said.
const (
	SealWhole Seal = "sealed"
	SealOpen  Seal = "opened"
)

// OwnerAsked says what the owner wants of an old part that is replaced.
type OwnerAsked struct {
	Part Part      `json:"part"`
	Wish OwnerWish `json:"wish"`
}

// OwnerWish is what an owner wants of an old part.
type OwnerWish string

// The wishes; empty: nothing any more.
const (
	WishShown OwnerWish = "show"
	WishBack  OwnerWish = "give-back"
)

// OwnerShown says that the owner has seen an old part.
type OwnerShown struct {
	Part Part   `json:"part"`
	Note string `json:"note,omitempty"`
}

// OwnerGiven says what the owner got back.
type OwnerGiven struct {
	Part  Part   `json:"part,omitempty"` // an old part that was asked for
	From  Place  `json:"from,omitempty"`
	Lines []Line `json:"lines,omitempty"`
}

func (OwnerBrought) event() {}
func (OwnerAsked) event()   {}
func (OwnerShown) event()   {}
func (OwnerGiven) event()   {}
