package scan

import (
	"countback/events"
	"countback/projections/engine"
)

// cautions are what is read and confirmed before flame or weld.
func cautions(*Said) []string {
	var list []string
	for _, c := range engine.Cautions() {
		list = append(list, c.Text)
	}
	return list
}

// methodIDs says which card is which method.
var methodIDs = map[Word]string{Soak: engine.Soak, Grip: engine.Grip, HeatIron: engine.Heat, WeldNut: engine.WeldNut, Drill: engine.DrillLeft,
	Extractor: engine.ScrewOut, DrillTap: engine.DrillOut, Insert: engine.FitInsert, HandOut: engine.HandOut, WeldUp: engine.Remachined}

// MethodID is how a method card is stored.
func MethodID(w Word) string { return methodIDs[w] }

func buildHotWork(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.HotWorkConfirmed{Case: events.Code(s.At(0, Case).ID), Cautions: engine.CautionIDs()}}, nil
}
