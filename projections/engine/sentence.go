package engine

import (
	"fmt"
	"strings"

	"countback/events"
	"countback/projections/ledger"
)

// Sentence tells one fact in the past tense, as the fold reads it: a corrected
// one with what stands in its place. It is empty for a place in the order that
// holds no fact.
func (s *State) Sentence(f ledger.Fact) string {
	r := s.Fact(f)
	if r == nil {
		return ""
	}
	ev, ok := s.job.standing(f)
	if !ok {
		return "taken back: " + s.Tells(r.Event) + s.HappenedWords(r)
	}
	text := s.Tells(ev) + s.HappenedWords(r)
	if s.job.corrected(r.ID()) {
		text += " (corrected)"
	}
	return text
}

// corrected says whether a correction that stands names a fact.
func (j *Job) corrected(id events.FactID) bool {
	if j.stands == nil {
		return false
	}
	for i := range j.facts {
		if ev, ok := j.stands(i); ok {
			if c, is := ev.(events.Corrected); is && c.Wrong == id {
				return true
			}
		}
	}
	return false
}

// Tells puts an event into a sentence in the past tense, with the names of this
// job's plan.
func (s *State) Tells(ev events.Event) string {
	if text := s.tellsPieces(ev); text != "" {
		return text
	}
	if text := s.tellsPlace(ev); text != "" {
		return text
	}
	if text := s.tellsState(ev); text != "" {
		return text
	}
	if text := s.tellsAhead(ev); text != "" {
		return text
	}
	if text := s.tellsCarried(ev); text != "" {
		return text
	}
	return s.tellsJob(ev)
}

func (s *State) holesWords(j events.Joint, holes []events.Hole) string {
	name := s.jointWords(string(j))
	if len(holes) == 0 {
		return name
	}
	words := make([]string, len(holes))
	for i, h := range holes {
		words[i] = string(h)
	}
	return name + " " + strings.Join(words, ", ")
}

// positionsWords names some positions of a part, or all of it.
func (s *State) positionsWords(part events.Part, positions ...events.Hole) string {
	text := s.partWords(string(part))
	for i, pos := range positions {
		if i > 0 {
			text += ","
		}
		text += " " + string(pos)
	}
	return text
}

func (s *State) toWords(p events.Place) string {
	if p == "" {
		return "loose on the bench"
	}
	return "into " + s.placeWords(p)
}

func fromWords(s *State, p events.Place) string {
	if p == "" {
		return ""
	}
	return " from " + s.placeWords(p)
}

// tellsPieces tells what happened to fasteners in their holes.
func (s *State) tellsPieces(ev events.Event) string {
	switch e := ev.(type) {
	case events.PiecesOut:
		text := s.holesWords(e.Joint, e.Holes) + " out, " + s.toWords(e.To)
		switch {
		case len(e.Lines) > 0:
			text += ", counted: " + s.linesWords(e.Lines)
		case e.All:
			text += ", all of them by word"
		}
		if len(e.Left) > 0 {
			text += "; left in: " + s.holesWords("", e.Left)
		}
		return text + howLoosened(e.OutOfTurn, e.Warm)
	case events.PiecesParked:
		return s.holesWords(e.Joint, e.Holes) + " back in finger-tight, to be kept there" + fromWords(s, e.From)
	case events.PiecesFitted:
		text := s.holesWords(e.Joint, e.Holes) + " in" + fromWords(s, e.From)
		if len(e.Lines) > 0 {
			text += ", counted: " + s.linesWords(e.Lines)
		}
		if e.Trial {
			text += ", as a trial"
		}
		return text
	case events.PiecesLoosened:
		return s.holesWords(e.Joint, e.Holes) + " loosened" + howLoosened(e.OutOfTurn, e.Warm)
	case events.StageRecorded:
		text := fmt.Sprintf("%s: stage %d of %d", s.holesWords(e.Joint, e.Holes), e.Stage, e.Stages)
		if s.StudsBy(e.Order) {
			text += " of the stud"
		}
		if e.What != "" {
			text += ", " + e.What
		}
		if e.Read {
			text += ", read " + numberWords(e.Value) + " " + e.Unit
		}
		if e.Tool != "" {
			text += ", with " + e.Tool
		}
		return text
	case events.PartPressed, events.DepthAccepted:
		return s.tellsPress(ev)
	case events.StageRestarted, events.StageAccepted, events.EditionChosen, events.TorqueChosen:
		return s.tellsTightening(ev)
	case events.FastenerBroken:
		return "Case " + string(e.Case) + ": " + s.holesWords(e.Joint, []events.Hole{e.Hole}) + " broken, stub " + string(e.Stub)
	case events.OtherEndTold:
		if e.InHand {
			return "Case " + string(e.Case) + ": the other end is in hand"
		}
		return "Case " + string(e.Case) + ": the other end is not in hand"
	case events.HotWorkConfirmed:
		return "Case " + string(e.Case) + ": " + plural(len(e.Cautions), "caution") + " before heat confirmed"
	case events.ExtractionTried:
		text := fmt.Sprintf("Case %s: tried %s, %d min", e.Case, MethodWords(e.Method), e.Minutes)
		if e.Moved {
			text += ", it moved"
		}
		if e.ToolBroken {
			text += ", a tool broke in the hole"
		}
		return text
	case events.StudExtracted:
		return "Case " + string(e.Case) + ": the piece is out; the hole is " + becameWords(Hole{State: e.Hole, DepthMm: e.DepthMm, Takes: e.Takes})
	case events.HoleChanged:
		return s.holesWords(e.Joint, []events.Hole{e.Hole}) + " is " + becameWords(Hole{State: e.State, DepthMm: e.DepthMm, Takes: e.Takes})
	}
	return ""
}

// becameWords is what a hole became: "insert, 22 mm deep, takes M8x1.25x45".
func becameWords(h Hole) string {
	text := string(h.State)
	if h.DepthMm > 0 {
		text += fmt.Sprintf(", %g mm deep", h.DepthMm)
	}
	if h.Takes != "" {
		text += ", takes " + string(h.Takes)
	}
	return text
}

// tellsPlace tells what happened to containers, parts and hardware.
func (s *State) tellsPlace(ev events.Event) string {
	switch e := ev.(type) {
	case events.BagLabelled:
		about := string(e.Joint)
		if about == "" {
			about = string(e.Part)
		}
		return "Bag " + string(e.Bag) + " for " + s.jointWords(about)
	case events.BagOpened:
		return "Bag " + string(e.Bag) + " opened"
	case events.BagClosed:
		if len(e.Lines) > 0 {
			return "Bag " + string(e.Bag) + " closed, counted: " + s.linesWords(e.Lines)
		}
		return "Bag " + string(e.Bag) + " closed"
	case events.Counted:
		where := s.placeWords(e.Place)
		if j, ok := strings.CutPrefix(string(e.Place), "joint/"); ok {
			where = s.jointWords(j)
		}
		if e.All && len(e.Lines) == 0 {
			return capital(where) + " empty"
		}
		return capital(where) + " counted: " + s.linesWords(e.Lines)
	case events.BagsMerged:
		return "Bag " + string(e.From) + " tipped into bag " + string(e.Into)
	case events.BagSplit:
		return s.linesWords(e.Lines) + " out of bag " + string(e.From) + " into bag " + string(e.Into)
	case events.BagRetired:
		return "Bag " + string(e.Bag) + " retired"
	case events.LabelReprinted:
		return "Label " + string(e.Code) + " printed again" + because(e.Why)
	case events.PiecesMoved:
		what := "all"
		if len(e.Lines) > 0 {
			what = s.linesWords(e.Lines)
		}
		return capital(what) + " from " + s.placeWords(e.From) + " to " + s.placeWords(e.To)
	case events.TraySorted:
		words := make([]string, len(e.Into))
		for i := range e.Into {
			words[i] = s.linesWords(e.Into[i].Lines) + " into " + s.placeWords(e.Into[i].To)
		}
		return capital(s.placeWords(e.From)) + " sorted: " + strings.Join(words, "; ")
	case events.PiecesScrapped:
		return s.linesWords(e.Lines) + " scrapped" + because(e.Why)
	case events.PiecesKept:
		return s.linesWords(e.Lines) + " kept as a sample"
	case events.ConditionChanged:
		return s.linesWords(e.Lines) + " in " + s.placeWords(e.Place) + ": " + string(e.Cond) + because(e.Why)
	case events.BenchSwept:
		return "Bench " + string(e.Bench) + " swept" + ofJoint(s, e.Joint)
	}
	return s.tellsPart(ev)
}

func ofJoint(s *State, j events.Joint) string {
	if j == "" {
		return ""
	}
	return ", nothing loose of " + s.jointWords(string(j))
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ", " + why
}

func capital(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

func (s *State) tellsPart(ev events.Event) string {
	switch e := ev.(type) {
	case events.PartRemoved:
		text := s.positionsWords(e.Part, e.Positions...) + " off"
		if e.To != "" {
			text += ", " + s.toWords(e.To)
		}
		if e.Counted > 0 || e.NoneCame {
			text += ", counted " + itoa(e.Counted)
		}
		return text
	case events.PartPlaced:
		return s.positionsWords(e.Part, e.Position) + " into " + s.placeWords(e.Rack)
	case events.RackRead:
		if len(e.Empty) == 0 {
			return capital(s.placeWords(e.Rack)) + " read: full"
		}
		return capital(s.placeWords(e.Rack)) + " read: " + itoa(len(e.Empty)) + " empty"
	case events.OrderLost:
		return capital(s.placeWords(e.Rack)) + " tipped, its order is lost"
	case events.Reassigned:
		return s.partWords(string(e.Part)) + ": the piece of " + string(e.From) + " belongs in " + string(e.To) + " now" + because(e.Why)
	case events.PartFitted:
		text := s.positionsWords(e.Part, e.Positions...) + " on" + fromWords(s, e.From)
		if e.Counted > 0 {
			text += ", counted " + itoa(e.Counted)
		}
		return text
	case events.HardwareReceived:
		text := s.linesWords(e.Lines) + asFoundWords(e.AsFound) + " received from " + s.placeWords(e.From) + " " + s.toWords(e.To)
		if e.Order != "" {
			text += ", of order " + e.Order
		}
		if len(e.Short) > 0 {
			text += "; " + s.linesWords(e.Short) + " delivered short"
		}
		return text
	case events.KitOpened:
		return "Kit " + e.Kit + " opened: " + s.linesWords(e.Lines)
	case events.LossReported:
		text := s.linesWords(e.Lines) + " lost" + fromWords(s, e.From)
		if e.Cavity != "" {
			text += ", went towards " + s.nounWords(noun("cavity", e.Cavity))
		}
		return text
	case events.HardwareLent:
		return s.linesWords(e.Lines) + " lent to job " + string(e.To)
	case events.HardwareBorrowed:
		return s.linesWords(e.Lines) + " borrowed from job " + string(e.From)
	}
	return ""
}

func asFoundWords(asFound bool) string {
	if asFound {
		return ", used,"
	}
	return ""
}
