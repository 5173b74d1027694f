package events

// ScopeDecided says what somebody decided where something had to come off after
// all: which way, and what it was set against. It is a decision about work, not
// the work: that is told by what comes out.
type ScopeDecided struct {
	// Goals are the nouns that it was about: "part cam-intake", "step head-off",
	// "hole head:3", "joint head".
	Goals []string `json:"goals"`
	// Steps are the further steps of the way that was chosen, in their order;
	// none: it stays as it is.
	Steps []Step `json:"steps,omitempty"`
	// After names the steps that are done first, where it was decided to do it
	// later.
	After []Step `json:"after,omitempty"`
	// Against is what else was on the screen, in words, for the record; no fold
	// reads it.
	Against []string `json:"against,omitempty"`
	// Beside are the nouns of another repair that it was weighed against and not
	// chosen: "part head". A decision on these that stood is replaced.
	Beside []string `json:"beside,omitempty"`
	// Verdict says how good the chosen way is: "proved least", or by how much it
	// may be above the least. For the record.
	Verdict string `json:"verdict,omitempty"`
	Why     string `json:"why"`
}

func (ScopeDecided) event() {}
