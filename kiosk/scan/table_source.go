package scan

import (
	"countback/events"
	"countback/projections/engine"
)

var sourceRows = []Sentence{
	{Subject: "", Verb: BatteryOff, Event: "source-confirmed", Does: "its cables are off, negative first: good for the day, or until it is on again", Try: "BATTERY OFF", Build: buildSource(events.Battery, false)},
	{Subject: "", Verb: BatteryOn, Event: "source-confirmed", Does: "it is connected, and nobody's hands are in the engine", Try: "BATTERY ON", Build: buildSource(events.Battery, true)},
	{Subject: "", Verb: FuelOff, Event: "source-confirmed", Does: "shut off, its pressure relieved, its lines capped: good for the day, or until it is on again", Try: "FUEL OFF", Build: buildSource(events.Fuel, false)},
	{Subject: "", Verb: FuelOn, Event: "source-confirmed", Does: "its lines were looked at under pressure and do not leak", Try: "FUEL ON", Build: buildSource(events.Fuel, true)},
}

func buildSource(w events.Source, on bool) func(*Said) (engine.Command, error) {
	return tell(func(*Said) events.Event { return events.SourceConfirmed{Source: w, On: on} })
}
