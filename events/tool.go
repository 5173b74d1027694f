package events

// Tool names one tool of the shop by its id: "wrench-40-200".
type Tool string

// ToolIssued puts a tool on the shop's own register, or tells it anew: what it
// is, what it measures, and the day by which it has to be calibrated again.
type ToolIssued struct {
	Tool  Tool    `json:"tool"`
	Code  Code    `json:"code,omitempty"` // its label
	Name  string  `json:"name,omitempty"`
	Kind  string  `json:"kind,omitempty"`  // what it does as well as others of its kind: "puller", "wrench"
	MinNm float64 `json:"minnm,omitempty"` // of a torque tool, newton metres
	MaxNm float64 `json:"maxnm,omitempty"`
	Unit  string  `json:"unit,omitempty"` // in which its scale is: lbf.ft, lbf.in; empty: N.m
	Due   Day     `json:"due,omitempty"`  // of its calibration; empty: it needs none
}

// ToolTaken says that a person took a tool for a job, and for which step.
type ToolTaken struct {
	Tool Tool `json:"tool"`
	Step Step `json:"step,omitempty"`
}

// ToolBack says that a tool is where it belongs again.
type ToolBack struct {
	Tool Tool `json:"tool"`
}

func (ToolIssued) event() {}
func (ToolTaken) event()  {}
func (ToolBack) event()   {}
