package panel

import (
	"strings"

	"countback/events"
	"countback/kiosk"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

func init() {
	for w, k := range map[scan.Word]Kind{scan.AgeingWord: List, scan.Whose: Sort, scan.Sort: Sort, scan.ToolsWord: Tools, scan.TraysWord: Trays,
		scan.BatchesWord: Batches, scan.Findings: Findings, scan.RunWord: Run, scan.MayStart: Run} {
		byWord[w] = k
	}
}

// handTopics are the panels of nouns that are carried about, of what was found,
// and of the running engine.
var handTopics = map[scan.Type]Kind{scan.Tool: Tool, scan.TrayNoun: Tray, scan.Batch: Batches, scan.Finding: Findings,
	scan.RunReading: Run, scan.Obligation: Run}

// handWord is the topic after a card that is about what was scanned before it;
// false where the card is about something else.
func handWord(kind Kind, h Heard) (Topic, bool) {
	for i := len(h.Before) - 1; i >= 0; i-- {
		n := h.Before[i]
		switch {
		case kind == Where && (n.Type == scan.Tool || n.Type == scan.TrayNoun):
			return Topic{Kind: handTopics[n.Type], ID: n.ID}, true
		case kind == Sort && scan.PlaceOf(n) != "":
			return Topic{Kind: Sort, ID: string(scan.PlaceOf(n))}, true
		case kind == Findings && n.Type == scan.Finding:
			return Topic{Kind: Findings, ID: n.ID}, true
		}
	}
	if kind == Sort {
		return Topic{Kind: List, ID: string(h.Token.Word)}, true
	}
	return Topic{}, false
}

// handStored is the topic of a fact about tools, trays, batches, findings, or
// the running engine.
func handStored(ev events.Event) (Topic, bool) {
	if id := findingAt(ev); id != "" {
		return Topic{Kind: Findings, ID: id}, true
	}
	switch e := ev.(type) {
	case events.ToolIssued:
		return Topic{Kind: Tool, ID: string(e.Tool)}, true
	case events.ToolTaken:
		return Topic{Kind: Tool, ID: string(e.Tool)}, true
	case events.ToolBack:
		return Topic{Kind: Tools}, true
	case events.TrayIssued:
		return Topic{Kind: Tray, ID: trayName(e.Tray)}, true
	case events.Carried:
		for _, at := range []events.Place{e.What, e.To} {
			if engine.IsTray(at) {
				return Topic{Kind: Tray, ID: trayName(at)}, true
			}
		}
	case events.TraySorted:
		return Topic{Kind: Sort, ID: string(e.From)}, true
	case events.BatchOpened:
		return Topic{Kind: Batches, ID: e.Batch}, true
	case events.BatchClosed:
		return Topic{Kind: Batches, ID: e.Batch}, true
	case events.EngineStarted, events.EngineStopped, events.EngineCooled, events.RunRead, events.OutputRead, events.DistanceRead, events.ObligationMet:
		return Topic{Kind: Run}, true
	}
	return Topic{}, false
}

func trayName(at events.Place) string {
	return strings.TrimPrefix(string(at), string(engine.TrayPlace("")))
}

// handPanel is the panel of such a topic; false where it is none.
func (t Topic) handPanel(j *engine.Job, here events.Terminal, s kiosk.Screen) (Panel, bool) {
	switch t.Kind {
	case Tools:
		return OfTools(j, s.Shop()), true
	case Tool:
		return OfTool(j, s.Shop(), events.Tool(t.ID)), true
	case Trays:
		return OfTrays(j, s.Shop()), true
	case Tray:
		return OfTray(j, s.Shop(), engine.TrayPlace(t.ID)), true
	case Sort:
		return OfSort(j, events.Place(t.ID), here), true
	case Batches:
		return OfBatches(j, t.ID), true
	case Findings:
		return OfFindings(j, t.ID), true
	case Run:
		return OfRun(j), true
	case Turning:
		return OfTurning(j, t.ID, t.Ask), true
	}
	return Panel{}, false
}
