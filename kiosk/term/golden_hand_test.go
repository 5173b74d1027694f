package term

import (
	"testing"

	"countback/labels/code"
)

// handScreens are the golden screens of what was read and found, of the running
// engine, and of what is carried about.
func handScreens(t *testing.T) []screen {
	bagA, bagB, bagC := labelOf(t, code.Bag, 0), labelOf(t, code.Bag, 1), labelOf(t, code.Bag, 2)
	stems := []string{}
	for _, s := range [][2]string{{"1Ia", "5.478"}, {"1Ib", "5.477"}, {"2Ia", "5.478"}, {"2Ib", "5.479"}, {"3Ia", "5.478"}, {"3Ib", "5.462"}} {
		stems = append(stems, "measurement valve-stem", "position "+s[0], s[1])
	}
	found := []string{"part head", "FINDING", "text crack between seats of cylinder 3", "finding 1", "180", "ASK THE OWNER", "text weld it or look for another head",
		"joint oil-pan", "hole 3", "FINDING", "text thread pulled", "finding 2", "size M8x1.25 insert", "1", "REPAIR", "AGREED",
		"part chain", "FINDING", "text stretched", "finding 3", "USE", "text inside the limit",
		"measurement main-journal", "position 4", "51.950", "measurement main-journal", "position 4", "FINDING", "OK"}
	ran := func(t *testing.T) Frame {
		s := newStage(t, "mark pre-oiled", "DONE", "STARTED")
		s.now += 5_000_000
		s.scan("reading oil-pressure", "2.1", "1000", "4", "reading oil-pressure", "3.4", "3000", "OK", "reading oil-pressure", "2.2", "3500", "OK")
		s.now += 24 * 60_000_000
		return s.scan("STOPPED", "YES", "COLD", "DISTANCE", "12", "DISTANCE", "515", "OUTPUT", "4900", "400 hp", "429 lbf.ft", "OUTPUT", "3000", "OK", "390 lbf.ft", "RUN", "")
	}
	tools := []string{"part buckets", "CATCH UP", "part head", "CATCH UP", "tool wrench-40-200", "ISSUED", "text Large wrench", "text wrench", "40", "200", "2026-05-01",
		"tool wrench-5-25", "ISSUED", "OK", "OK", "5", "25", "2025-04-01", "OK",
		"tool lamp", "ISSUED", "text Inspection lamp", "OK", "OK", "OK",
		"step coils-on", "AMEND", "text {tools: [wrench-5-25]}", "text as we do it", "step head-on", "AMEND", "text {tools: [wrench-40-200]}", "text as we do it",
		"tool wrench-40-200", "step head-on", "TAKEN", "tool lamp", "TAKEN", "tool lamp", "cavity timing-case", "IN"}
	trays := []string{"tray 7", "HOLDS", "10", "joint coils", "tray 7", "4", "joint spark-plugs", "tray 7", "4", "joint flywheel", bagA, "8", bagA, "tray 7",
		"tray 7", "bench b2", "tray 7", "TAKEN", "joint throttle", "tray 8", "4", "tray 8", "place shelf-3"}
	tipped := []string{"joint mount-bracket", bagC, "4", "4", "joint front-cover", bagA, "1", "8", "4", "5", "joint water-pump", bagB, "ALL OUT",
		bagA, "place dish", "MOVE", bagB, "place dish", "MOVE", "place dish", "COUNT", "size M14x1.5x90 10.9 hex", "1", "5", "1", "9", "4", "2", "DO NOT KNOW", "DO NOT KNOW"}
	batches := []string{"joint mount-bracket", bagC, "4", "4", "joint front-cover", bagA, "1", "8", "4", "5", "batch wash-1", "part front-cover", "OPEN", "WASH", "6",
		"batch wash-1", "CLOSE", "5", "DO NOT KNOW", "batch paint-1", "part front-cover", "size M8x1.25 plug", "12", "OPEN", "PAINT", "batch paint-1", "CLOSE", "12", "24",
		"batch paint-2", "part cam-cover", "OPEN", "PAINT", "3"}
	with := func(list []string, more ...string) func(*testing.T) Frame {
		return scanned(append(list[:len(list):len(list)], more...)...)
	}
	return []screen{
		{name: "measure-siblings", show: with(stems, "measurement valve-stem", "WORKSHEET")},
		{name: "measure-plain", show: with(stems, "measurement valve-stem", "WORKSHEET"), look: look{theme: Light, blocks: false}},
		{name: "findings", show: with(found, "FINDINGS")},
		{name: "finding", show: with(found, "CANCEL", "finding 4")},
		{name: "run-before", show: scanned("part oil-pan", "OFF", "START?")},
		{name: "run", show: ran},
		{name: "tools", show: with(tools, "TOOLS?")},
		{name: "tool", show: with(tools, "tool wrench-40-200", "WHERE IS")},
		{name: "trays", show: with(trays, "TRAYS?")},
		{name: "tray", show: with(trays, "tray 7")},
		{name: "sort", show: with(tipped, "place dish", "WHOSE?")},
		{name: "batches", show: func(t *testing.T) Frame {
			s := newStage(t, batches...)
			s.now += 7 * 3_600_000_000
			return s.scan("BATCHES?", "")
		}},
	}
}
