package events

// Source names what can set an engine going or on fire: battery, fuel.
type Source string

// The sources.
const (
	Battery Source = "battery"
	Fuel    Source = "fuel"
)

// SourceConfirmed says that a person looked at a source and found it off:
// cables off, fuel shut off and relieved; or, with On, connected and sound.
type SourceConfirmed struct {
	Source Source `json:"source"`
	On     bool   `json:"on,omitempty"`
}

func (SourceConfirmed) event() {}
