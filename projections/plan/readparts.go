package plan

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"countback/events"
)

func (r *reader) readPart(e *entry) Part {
	n := &r.p.names
	id := e.text("id")
	part := Part{
		ID: events.Part(id), Name: e.text("name"), Line: e.line(),
		Host: e.flag("host"), Root: e.flag("root"),
		In:       one(e, n.parts, "in", "part"),
		MadeOf:   many(e, n.parts, "made-of", "part"),
		Under:    many(e, n.parts, "under", "part"),
		Mating:   many(e, n.parts, "mating", "part"),
		Seals:    one(e, n.joints, "seals", "joint"),
		Optional: e.flag("optional"), Stays: e.flag("stays"), Timed: e.flag("timed"),
		Reuse:    e.reuse("reuse"),
		OwnSeat:  e.ownSeat(),
		Sealant:  e.sealant(),
		Measures: many(e, n.measurements, "measure", "measurement"),
		Cavity:   one(e, n.cavities, "cavity", "cavity"),
		WayRound: e.text("way-round"), Graded: e.text("graded"), Feature: e.text("feature"), Material: e.text("material"),
		Inspect: e.text("inspect"), Note: e.text("note"),
	}
	if part.Name == "" {
		part.Name = spoken(id)
	}
	if part.Root && part.In != None {
		r.fault(e.line(), CodeValue, "%s: root, and in another part; one of them is wrong", e.what)
		part.In = None
	}
	self := n.parts[part.ID]
	for _, list := range [][]PartIndex{part.Under, part.Mating} {
		if slices.Contains(list, self) {
			r.fault(e.line(), CodeLoop, "%s: lies under itself or mates with itself", e.what)
		}
	}
	r.readPositions(e, &part)
	e.done()
	return part
}

// readPositions enumerates the positions of a part: those given, or one.
func (r *reader) readPositions(e *entry, part *Part) {
	declared := e.whole("count", 1, maxRange, 0)
	part.Count = max(declared, 1)
	part.Positions = []Position{{"1", part.Count}}
	n := e.get("seats")
	if n == nil {
		return
	}
	s := r.open(n, e.what+": seats")
	if s == nil {
		return
	}
	set := s.whole("set", 1, maxRange, 1)
	part.Place = s.text("place")
	at := s.places("at")
	s.done()
	if len(at) == 0 {
		r.fault(n.Line, CodeMissing, "%s: seats: at is missing: the names of its positions", e.what)
		return
	}
	part.Positions = nil
	for i, p := range at {
		if slices.ContainsFunc(at[:i], func(o ref) bool { return o.text == p.text }) {
			r.fault(p.line, CodeDuplicate, "%s: seats: position %s is named twice", e.what, p.text)
			continue
		}
		part.Positions = append(part.Positions, Position{events.Hole(p.text), set})
	}
	part.Count = set * len(part.Positions)
	if declared != 0 && declared != part.Count {
		r.fault(e.line(), CodeCount, "%s: count is %d, its positions are %d x %d = %d", e.what, declared, len(part.Positions), set, part.Count)
	}
}

// reuse reads again, new, new-if-out or "measure <measurement>".
func (e *entry) reuse(key string) Reuse {
	n := e.get(key)
	if n == nil {
		return Reuse{ReuseAgain, None}
	}
	words := []string{"again", "new", "new-if-out"}
	if i := slices.Index(words, n.Value); n.Kind == yaml.ScalarNode && i >= 0 {
		return Reuse{ReuseRule(i), None}
	}
	if id, ok := strings.CutPrefix(n.Value, "measure "); ok && n.Kind == yaml.ScalarNode {
		m, _ := resolve(e.r, e.r.p.names.measurements, ref{strings.TrimSpace(id), n.Line}, e.what+": "+key, "measurement")
		return Reuse{ReuseMeasure, m}
	}
	e.r.faultNear(n.Line, CodeValue, Nearest(n.Value, words), "%s: %s is %q; again, new, new-if-out or measure <measurement> is wanted", e.what, key, n.Value)
	return Reuse{ReuseAgain, None}
}

func (e *entry) ownSeat() OwnSeat {
	return []OwnSeat{AnySeat, OwnSeatOnly, OwnSeatMeasure}[e.choice("own-seat", "false", "true", "by-measurement")]
}

func (e *entry) sealant() Sealant {
	n := e.get("sealant")
	if n == nil {
		return Sealant{}
	}
	s := e.r.open(n, e.what+": sealant")
	if s == nil {
		return Sealant{}
	}
	out := Sealant{Used: true, Lot: s.text("lot"), OpenTime: s.duration("open-time")}
	s.done()
	return out
}

func (r *reader) readVariant(e *entry) Variant {
	v := Variant{ID: e.text("id"), Line: e.line(), Default: -1}
	first := e.text("default")
	n := e.get("one-of")
	if n == nil {
		r.fault(e.line(), CodeMissing, "%s: one-of is missing: {name: {joints: [...], parts: [...]}, ...}", e.what)
	} else if all := r.open(n, e.what+": one-of"); all != nil {
		for i := 0; i+1 < len(n.Content); i += 2 {
			id := n.Content[i].Value
			o := r.open(n.Content[i+1], e.what+" "+id)
			if o == nil {
				continue
			}
			if id == first {
				v.Default = len(v.Options)
			}
			v.Options = append(v.Options, Option{
				ID:     id,
				Joints: many(o, r.p.names.joints, "joints", "joint"),
				Parts:  many(o, r.p.names.parts, "parts", "part"),
			})
			o.done()
		}
	}
	if v.Default < 0 {
		r.fault(e.line(), CodeMissing, "%s: default is %q; one of its layouts is wanted", e.what, first)
		v.Default = 0
		if len(v.Options) == 0 {
			v.Options = []Option{{}}
		}
	}
	e.done()
	return v
}
