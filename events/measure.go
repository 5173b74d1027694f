package events

// PointRead is one of several readings that were told in one sentence: at a
// station and in a direction ("A1"), or of one piece after the other.
type PointRead struct {
	Point string  `json:"point,omitempty"` // empty: the place has only one
	Value float64 `json:"value"`
	Text  string  `json:"text,omitempty"` // the digits as they were read: "51.980"
	Unit  string  `json:"unit,omitempty"` // where it is not that of the sentence
	Sure  bool    `json:"sure,omitempty"` // it was doubted, and told to be so
}

// FastenersMeasured is one reading of each of several loose fasteners of one
// size in one place.
type FastenersMeasured struct {
	Measurement string      `json:"measurement"`
	Place       Place       `json:"place"`
	Kind        Kind        `json:"kind,omitempty"` // empty: the only kind there that it is about
	Reads       []PointRead `json:"reads"`
	Unit        string      `json:"unit"`
	Gauge       string      `json:"gauge,omitempty"`
}

func (FastenersMeasured) event() {}
