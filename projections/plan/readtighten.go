package plan

import (
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"countback/events"
)

func (r *reader) readTightening(e *entry) Tightening {
	t := Tightening{
		ID: e.text("id"), Line: e.line(), Loosen: e.choice("way", "tighten", "loosen") == 1,
		Rounds: e.text("rounds"), Passes: e.whole("passes", 1, 20, 1), Note: e.text("note"),
		Tools: toolsOf(e, e.refs("tools")),
	}
	for _, o := range e.refs("order") {
		words, ok := spread(o.text)
		if !ok {
			words = []string{o.text}
		}
		t.Order = append(t.Order, words...)
	}
	t.Sets, t.With = e.holeSets("sets"), e.holeSets("with")
	t.Pause, t.AnyHands = e.whole("pause", 1, 10_000, 0), e.choice("hands", "same", "any") == 1
	t.Cold = e.flag("cold")
	if t.Cold && !t.Loosen {
		r.fault(e.line(), CodeValue, "%s: cold: only a loosening has that (way: loosen)", e.what)
	}
	if n := e.get("member"); n != nil {
		roles := []string{RoleBolt.String(), RoleStud.String(), RoleNut.String(), RoleWasher.String()}
		if at := slices.Index(roles, n.Value); at >= 0 {
			t.Member, t.ByMember = Role(at), true
		} else {
			r.faultNear(n.Line, CodeValue, Nearest(n.Value, roles), "%s: member is %q; one of %s is wanted", e.what, n.Value, strings.Join(roles, ", "))
		}
	}
	groups := e.items("groups")
	if len(groups) == 0 {
		t.Groups = []TightenGroup{r.readGroup(e, &t)}
	} else {
		e.get("stages")
		e.get("editions")
	}
	for _, n := range groups {
		if g := r.open(n, e.what+": group"); g != nil {
			t.Groups = append(t.Groups, r.readGroup(g, &t))
			g.done()
		}
	}
	e.done()
	return t
}

func (r *reader) readGroup(e *entry, t *Tightening) TightenGroup {
	var g TightenGroup
	var member *Role
	if t.ByMember {
		member = &t.Member
	}
	g.Seats, g.Holes = r.placesOfGroup(e, member)
	editions := e.items("editions")
	if len(editions) == 0 {
		g.Editions = []TightenEdition{{Stages: r.readStages(e)}}
	} else if e.get("stages") != nil {
		r.fault(e.line(), CodeValue, "%s: stages or editions; it has both", e.what)
	}
	for _, n := range editions {
		x := r.open(n, e.what+": edition")
		if x == nil {
			continue
		}
		g.Editions = append(g.Editions, TightenEdition{Edition: x.text("edition"), Source: x.text("source"), Stages: r.readStages(x)})
		x.done()
	}
	return g
}

func (r *reader) readStages(e *entry) []Stage {
	var out []Stage
	for _, n := range e.items("stages") {
		if x := r.open(n, e.what+": stage"); x != nil {
			out = append(out, r.readStage(x))
		}
	}
	if len(out) == 0 {
		r.fault(e.line(), CodeMissing, "%s: stages is missing", e.what)
	}
	return out
}

var stageKinds = []string{string(StageSnug), string(StageTorque), string(StageAngle), string(StageStretch), string(StagePressDepth), string(StageHeight), string(StageLoosen), string(StageAgain)}

func (r *reader) readStage(e *entry) Stage {
	s := Stage{Line: e.line(), Needs: e.conditions("needs", AllOf), Due: e.text("due")}
	for _, h := range e.places("only") {
		s.Only = append(s.Only, events.Hole(h.text))
	}
	never, hasNever := 0.0, false
	if n := e.get("never"); n != nil {
		if never, hasNever = number(n); !hasNever {
			e.bad(n, "never", "a number of "+map[bool]string{true: "inches", false: "millimetres"}[r.p.Units.Length == "in"])
		}
	}
	band, hasBand := 0.0, false
	if n := e.get("band"); n != nil {
		if band, hasBand = number(n); !hasBand {
			e.bad(n, "band", "a number of "+map[bool]string{true: "inches", false: "millimetres"}[r.p.Units.Length == "in"])
		}
	}
	for _, k := range stageKinds {
		n := e.get(k)
		if n == nil {
			continue
		}
		if s.Kind != "" {
			r.fault(e.line(), CodeValue, "%s: it is %s and %s; a stage is one of them", e.what, s.Kind, k)
			continue
		}
		s.Kind, s.Text = StageKind(k), n.Value
		s.Min, s.Max, s.Known = bounds(n)
		r.inUnit(e, &s, n)
		words := s.Kind == StageSnug || s.Kind == StageLoosen || n.Value == unknownWord
		if !s.Known && (!words || n.Kind != yaml.ScalarNode || n.Value == "") {
			e.bad(n, k, "a number, a range such as 90..94, with another unit behind it (9 lbf.ft, 40 N.m (29.5 lbf.ft)), or unknown")
		}
	}
	if s.Kind == "" {
		r.fault(e.line(), CodeMissing, "%s: one of %s is wanted", e.what, strings.Join(stageKinds, ", "))
	}
	switch {
	case s.Kind == StageAngle && s.Known && s.Max > wholeTurn:
		r.fault(s.Line, CodeValue, "%s: an angle of %g degrees is more than a whole turn; write several stages", e.what, s.Max)
	case s.Kind == StageAngle && s.Known && s.Max == 0:
		r.fault(s.Line, CodeValue, "%s: an angle of 0 degrees does nothing", e.what)
	case hasNever && (s.Kind != StageStretch || !s.Known || r.inMm(never) < s.Max):
		r.fault(s.Line, CodeValue, "%s: never above %g: only a stretch has that, and not below its most", e.what, never)
	default:
		s.Never = r.inMm(never)
	}
	if s.Band = r.inMm(band); hasBand && (band <= 0 || s.Kind != StageStretch && s.Kind != StagePressDepth && s.Kind != StageHeight) {
		r.fault(s.Line, CodeValue, "%s: a band of %g: how good a reading is in mm, of a stretch, press-depth or height", e.what, band)
		s.Band = 0
	}
	e.done()
	return s
}

// wholeTurn is the greatest angle of one stage in degrees.
const wholeTurn = 360

// bounds reads a number, or two with .. between them.
func bounds(n *yaml.Node) (low, high float64, ok bool) {
	if v, ok := number(n); ok {
		return v, v, v >= 0
	}
	a, b, found := strings.Cut(n.Value, "..")
	if n.Kind != yaml.ScalarNode || !found {
		return 0, 0, false
	}
	low, err1 := strconv.ParseFloat(strings.TrimSpace(a), 64)
	high, err2 := strconv.ParseFloat(strings.TrimSpace(b), 64)
	return low, high, err1 == nil && err2 == nil && low >= 0 && low <= high && high <= 1e6
}

func (r *reader) readKit(e *entry) Kit {
	k := Kit{ID: e.text("id"), Line: e.line()}
	for _, n := range e.items("lines") {
		x := r.open(n, e.what+": line")
		if x == nil {
			continue
		}
		l := KitLine{
			Part: one(x, r.p.names.parts, "part", "part"), Line: x.line(),
			Count: x.whole("count", 1, maxPieces, 0), Surplus: x.whole("surplus-expected", 0, maxPieces, 0),
		}
		feature := x.text("feature")
		if p := x.get("piece"); p != nil {
			_, l.Kind = x.kind(p, "piece", feature)
		}
		if (l.Part == None) == (l.Kind == "") || l.Count == 0 || l.Surplus > l.Count {
			r.fault(x.line(), CodeMissing, "%s: part or piece, a count, and at most that surplus-expected", x.what)
		}
		x.done()
		k.Lines = append(k.Lines, l)
	}
	e.done()
	return k
}
