package events

// TraySorted says that pieces which lay mixed in one place were sorted: each
// lot of lines went where it says. What is not named stayed where it was.
type TraySorted struct {
	From Place     `json:"from"`
	Into []Sorting `json:"into"`
}

// Sorting is what went to one place.
type Sorting struct {
	To    Place  `json:"to"`
	Lines []Line `json:"lines"`
}

func (TraySorted) event() {}
