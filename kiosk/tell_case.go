package kiosk

import (
	"strconv"

	"countback/events"
	"countback/projections/engine"
)

// cases tells what happened around a broken fastener.
func (t *Telling) cases(ev events.Event) string {
	switch e := ev.(type) {
	case events.FastenerBroken:
		text := t.caseName(e.Case) + ": " + lower(t.joint(e.Joint)) + ", hole " + string(e.Hole) + ", stub " + stubText[e.Stub]
		if ix, ok := t.p.Hole(e.Joint, e.Hole); ok && t.p.Seats[ix].ThreadIn != "" {
			text += ", in " + t.p.Seats[ix].ThreadIn
		}
		return text
	case events.OtherEndTold:
		if e.InHand {
			return t.caseName(e.Case) + ": the other end is in hand"
		}
		return t.caseName(e.Case) + ": the other end is not found: it is somewhere"
	case events.HotWorkConfirmed:
		return t.caseName(e.Case) + ": " + plural(len(e.Cautions), "caution") + " confirmed, heat is allowed"
	case events.ExtractionTried:
		text := t.caseName(e.Case) + ": " + engine.MethodWords(e.Method) + ", " + itoa(e.Minutes) + " min, "
		switch {
		case e.ToolBroken:
			return text + "and a tool broke: a hard piece is in the hole"
		case e.Moved:
			return text + "and it moved"
		}
		return text + "not out"
	case events.StudExtracted:
		return t.caseName(e.Case) + ": out. " + t.caseHole(e.Case) + " " + holeText(e.Hole, e.DepthMm, e.Takes)
	case events.HoleChanged:
		return t.joint(e.Joint) + ", hole " + string(e.Hole) + " " + holeText(e.State, e.DepthMm, e.Takes)
	}
	return ""
}

var stubText = map[events.Stub]string{events.Proud: "proud of the face", events.Flush: "flush with the face", events.Below: "below the face"}

// caseName is a case by its number in this job and its label.
func (t *Telling) caseName(c events.Code) string {
	for i, k := range t.st.Cases() {
		if k.Code == c {
			return "Case " + itoa(i+1) + " (" + string(c) + ")"
		}
	}
	return "Case " + string(c)
}

func (t *Telling) caseHole(c events.Code) string {
	k, ok := t.st.Case(c)
	if !ok {
		return "The hole"
	}
	return t.joint(k.Joint) + ", hole " + string(k.Hole)
}

var becameText = map[events.HoleState]string{events.HoleOriginal: "has its own thread", events.HoleChased: "was chased",
	events.HoleInsert: "holds an insert", events.HoleBushing: "holds a bushing", events.HoleOversize: "is oversize"}

func holeText(s events.HoleState, depth float64, takes events.Kind) string {
	text := becameText[s]
	if depth > 0 {
		text += ", " + strconv.FormatFloat(depth, 'f', -1, 64) + " mm deep"
	}
	if takes != "" {
		text += ", and takes " + string(takes) + " now"
	}
	return text
}
