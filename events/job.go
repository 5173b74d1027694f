package events

// JobOpened starts a job. The plan's whole text rides along, so that the job
// can be folded without any file; an empty text is a job without a plan.
type JobOpened struct {
	Engine   string `json:"engine"`           // what stands on the stand, in the shop's words
	Family   string `json:"family,omitempty"` // the plan's family
	Owner    string `json:"owner,omitempty"`
	PlanHash string `json:"planhash,omitempty"` // sha256 of Plan, lower-case hex
	Plan     string `json:"plan,omitempty"`     // YAML text of the edition
}

// TagsIssued ties labels to nouns of this job (or, on the shop's own
// subject, to badges and places).
type TagsIssued struct {
	Tags []Tag `json:"tags"`
}

// RangeReserved gives a terminal its own two characters of label codes.
type RangeReserved struct {
	Range string `json:"range"` // two characters of the label alphabet
	For   string `json:"for"`   // the terminal that prints or hands out from it
}

// TagVoided takes a label out of use.
type TagVoided struct {
	Code Code   `json:"code"`
	Why  string `json:"why,omitempty"`
	By   Code   `json:"by,omitempty"` // the label that replaced it
}

// BadgeIssued names a person.
type BadgeIssued struct {
	Code     Code   `json:"code"`
	Badge    Badge  `json:"badge"` // the name shown
	Initials string `json:"initials,omitempty"`
}

// PlanAmended changes this job's own copy of the plan.
type PlanAmended struct {
	Op      string `json:"op"`      // add, drop or alter
	Section string `json:"section"` // parts, joints, holes, steps, loans, marks, cavities ...
	ID      string `json:"id"`
	Text    string `json:"text,omitempty"` // YAML fragment
	Why     string `json:"why"`
}

// LayoutSeen settles which layout of a variant this engine has.
type LayoutSeen struct {
	Variant string `json:"variant"`
	Layout  string `json:"layout"`
}

// OptionSeen settles whether an optional part is on this engine.
type OptionSeen struct {
	Part   Part `json:"part"`
	Fitted bool `json:"fitted"`
}

// JointTagged names a joint that no plan knows, by a blank joint tag.
type JointTagged struct {
	Joint Joint  `json:"joint"`
	Name  string `json:"name,omitempty"`
	Host  Part   `json:"host,omitempty"`
}

// MissingOnArrival says what was not there when the engine came.
type MissingOnArrival struct {
	Joint Joint  `json:"joint,omitempty"`
	Holes []Hole `json:"holes,omitempty"`
	Part  Part   `json:"part,omitempty"`
	Lines []Line `json:"lines,omitempty"`
	Whose string `json:"whose,omitempty"` // owner, seller, unknown
}

// DamagedOnArrival says what was damaged when the engine came.
type DamagedOnArrival struct {
	Joint Joint  `json:"joint,omitempty"`
	Hole  Hole   `json:"hole,omitempty"`
	Part  Part   `json:"part,omitempty"`
	What  string `json:"what"`
	Whose string `json:"whose,omitempty"`
}

// CaughtUp says, after silence or for an engine that came half apart, which
// part that is off lies deepest; the steps before it are presumed.
type CaughtUp struct {
	Deepest Part `json:"deepest"`
	Arrived bool `json:"arrived,omitempty"` // true: it came to the shop like this
}

// HandedOver passes the work to another person.
type HandedOver struct {
	To   Badge    `json:"to"`
	Open []string `json:"open,omitempty"` // what was open, in words, as accepted
	Note string   `json:"note,omitempty"`
	Left []string `json:"left,omitempty"` // what was not accepted and stays with who hands over
}

// AuditSigned signs one audit point over a record with this hash.
type AuditSigned struct {
	Point  AuditPoint `json:"point"`
	Hash   string     `json:"hash"` // sha256 of the printed record, lower-case hex
	Second Badge      `json:"second,omitempty"`
	Red    []string   `json:"red,omitempty"` // red lines that an override let pass
}

// JobEnded ends a job; JobResumed takes a suspended or ended one up again.
type JobEnded struct {
	How JobEnd `json:"how"`
	Why string `json:"why,omitempty"`
}

// JobResumed takes up a job that had ended.
type JobResumed struct {
	Why string `json:"why,omitempty"`
}

func (JobOpened) event()        {}
func (TagsIssued) event()       {}
func (RangeReserved) event()    {}
func (TagVoided) event()        {}
func (BadgeIssued) event()      {}
func (PlanAmended) event()      {}
func (LayoutSeen) event()       {}
func (OptionSeen) event()       {}
func (JointTagged) event()      {}
func (MissingOnArrival) event() {}
func (DamagedOnArrival) event() {}
func (CaughtUp) event()         {}
func (HandedOver) event()       {}
func (AuditSigned) event()      {}
func (JobEnded) event()         {}
func (JobResumed) event()       {}
