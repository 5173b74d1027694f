package events

// EngineStarted says that the engine runs under its own power.
type EngineStarted struct {
	Note string `json:"note,omitempty"`
}

// RunRead is one reading of a running engine, or of one that was just stopped.
type RunRead struct {
	Reading string  `json:"reading"` // id of the plan's run reading
	Value   float64 `json:"value"`
	Text    string  `json:"text,omitempty"` // the digits as they were read
	Unit    string  `json:"unit,omitempty"`
	RPM     int     `json:"rpm,omitempty"`   // revolutions per minute; 0: not said
	After   int     `json:"after,omitempty"` // seconds since the start, where it was said
	Gauge   string  `json:"gauge,omitempty"`
	Sure    bool    `json:"sure,omitempty"` // it was doubted, and told to be so
}

// OutputRead is what the engine gave at one speed: power, torque or both; what
// was not read is 0.
type OutputRead struct {
	RPM    int     `json:"rpm"`
	Power  float64 `json:"power,omitempty"`
	Torque float64 `json:"torque,omitempty"`
	Units  string  `json:"units"` // "hp lbf.ft", "kW N.m" or "PS N.m"
	Sure   bool    `json:"sure,omitempty"`
}

// EngineStopped says that it runs no more, and whether it had got warm.
type EngineStopped struct {
	Warm bool   `json:"warm,omitempty"`
	Why  string `json:"why,omitempty"`
}

// EngineCooled says that it is cold again: the end of a heat cycle.
type EngineCooled struct{}

// DistanceRead is what the distance counter of the vehicle shows.
type DistanceRead struct {
	Km float64 `json:"km"`
}

// ObligationMet says that what fell due after a start was done.
type ObligationMet struct {
	Obligation string `json:"obligation"`
	Why        string `json:"why,omitempty"`
}

func (EngineStarted) event() {}
func (RunRead) event()       {}
func (OutputRead) event()    {}
func (EngineStopped) event() {}
func (EngineCooled) event()  {}
func (DistanceRead) event()  {}
func (ObligationMet) event() {}
