package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v3"

	"countback/events"
	"countback/projections/fastener"
)

// Recorded is what a teardown without a plan recorded.
type Recorded struct {
	ID     string // of the plan to be
	Family string
	Joints []RecordedJoint // in the order in which they were opened
	Parts  []RecordedPart  // in the order in which they came off
}

// RecordedJoint is a joint as it was tagged, with what was in each hole.
type RecordedJoint struct {
	ID    events.Joint
	Name  string
	Holes []RecordedHole
}

// RecordedHole is one hole and what came out of it; Kind is empty where it was
// never sized.
type RecordedHole struct {
	Hole events.Hole
	Kind events.Kind
}

// RecordedPart is a part that came off once the joints of Freed had been
// opened. Those are taken to hold it, until somebody knows better.
type RecordedPart struct {
	ID    events.Part
	Name  string
	Count int // pieces, 0 means 1
	Freed []events.Joint
}

// Empty is a plan with nothing in it, for a job that starts without one. The
// job's name is the family.
func Empty(job string) *Plan {
	root := mapping("plan", mapping("id", planID(job), "family", printable(job), "edition", plain("!!int", "1")))
	p, err := Parse("plan of "+job, encode(root))
	if err != nil {
		panic("unreachable: the empty plan: " + err.Error())
	}
	return p
}

// printable is a name less what no text of a plan may hold.
func printable(name string) string {
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, ""))
	if runes := []rune(name); len(runes) > 200 {
		name = string(runes[:200])
	}
	return strings.TrimSpace(name)
}

// IDOf is an id that a plan can have for a name that somebody gave: as it is where
// it is one, else its letters and digits in small, with "-" between.
func IDOf(name string) string {
	if nameForm.MatchString(name) {
		return name
	}
	return planID(name)
}

// planID makes an id of a name.
func planID(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	id := strings.TrimRight(b.String(), "-")
	if len(id) > 64 {
		id = strings.TrimRight(id[:64], "-")
	}
	if id == "" {
		return "plan"
	}
	return id
}

// FromRecord makes a plan of a teardown. Each part comes off in one step, with
// the joints that freed it, after the step before; it goes on in the reverse
// of that order. Grips, depths and hosts are unknown. The error holds the
// faults of ids that no plan can have.
func FromRecord(rec Recorded) (*Plan, error) {
	w := recordWriter{rec: rec, joints: map[events.Joint]int{}, takenOut: map[events.Joint]bool{}, ids: map[string]bool{}}
	for i, j := range rec.Joints {
		w.joints[j.ID] = i
	}
	for _, p := range rec.Parts {
		for _, j := range p.Freed {
			if _, ok := w.joints[j]; !ok {
				return nil, fmt.Errorf("record: part %s: joint %q was never recorded", p.ID, j)
			}
		}
	}
	p, err := Parse("record of "+rec.ID, encode(w.plan()))
	if err != nil {
		return nil, fmt.Errorf("record: %w", err)
	}
	return p, nil
}

type recordWriter struct {
	rec      Recorded
	joints   map[events.Joint]int
	takenOut map[events.Joint]bool
	ids      map[string]bool
	off, on  []*yaml.Node
	last     string // step off
}

func (w *recordWriter) plan() *yaml.Node {
	parts, joints := list(), list()
	for _, p := range w.rec.Parts {
		count := ""
		if p.Count > 1 {
			count = strconv.Itoa(p.Count)
		}
		parts.Content = append(parts.Content, mapping("id", string(p.ID), "name", printable(p.Name), "count", number10(count)))
	}
	for _, j := range w.rec.Joints {
		joints.Content = append(joints.Content, mapping("id", string(j.ID), "name", printable(j.Name), "holes", w.holes(j)))
	}
	w.steps()
	steps := mapping("off", list(w.off...), "on", list(w.on...))
	return mapping(
		"plan", mapping("id", planID(w.rec.ID), "family", printable(w.rec.Family), "edition", plain("!!int", "1")),
		"parts", parts, "joints", joints, "steps", steps)
}

func number10(text string) *yaml.Node {
	if text == "" {
		return nil
	}
	return plain("!!int", text)
}

// holes lists the holes of a joint, those in a row that are alike together.
func (w *recordWriter) holes(j RecordedJoint) *yaml.Node {
	clamps := w.clampedBy(j.ID)
	out := list()
	for i := 0; i < len(j.Holes); {
		n := i
		var at []events.Hole
		for ; n < len(j.Holes) && j.Holes[n].Kind == j.Holes[i].Kind; n++ {
			at = append(at, j.Holes[n].Hole)
		}
		kind := string(j.Holes[i].Kind)
		if _, err := fastener.Parse(kind); err != nil {
			kind = unknownWord
		}
		out.Content = append(out.Content, mapping("at", words(at), "clamps", words(clamps), "fastener", kind))
		i = n
	}
	return out
}

// clampedBy is the parts that a joint holds, from the host outwards: what came
// off last lies nearest.
func (w *recordWriter) clampedBy(j events.Joint) []events.Part {
	var out []events.Part
	for _, p := range w.rec.Parts {
		if slices.Contains(p.Freed, j) {
			out = append(out, p.ID)
		}
	}
	slices.Reverse(out)
	return out
}

// steps writes the steps off as recorded, and those on in reverse.
func (w *recordWriter) steps() {
	next := 0
	joint := func(j RecordedJoint) {
		if len(j.Holes) > 0 && !w.takenOut[j.ID] {
			w.step(string(j.ID), j.Name, "", []events.Joint{j.ID})
		}
	}
	for _, p := range w.rec.Parts {
		for _, j := range p.Freed {
			for ; next < w.joints[j]; next++ {
				if other := w.rec.Joints[next]; len(w.clampedBy(other.ID)) == 0 {
					joint(other)
				}
			}
		}
		w.step(string(p.ID), p.Name, string(p.ID), p.Freed)
	}
	for _, j := range w.rec.Joints {
		joint(j)
	}
	slices.Reverse(w.on)
	for i := 1; i < len(w.on); i++ {
		w.on[i].Content = append(w.on[i].Content, scalar("when"), words([]string{child(w.on[i-1], "id").Value}))
	}
}

func (w *recordWriter) step(base, name, part string, joints []events.Joint) {
	seats := mapping()
	for _, j := range joints {
		if !w.takenOut[j] && len(w.rec.Joints[w.joints[j]].Holes) > 0 {
			w.takenOut[j] = true
			seats.Content = append(seats.Content, scalar(string(j)), scalar("all"))
		}
	}
	var parts, when *yaml.Node
	if part != "" {
		parts = words([]string{part})
	}
	if w.last != "" {
		when = words([]string{w.last})
	}
	if name = printable(name); name == "" {
		name = spoken(base)
	}
	id := w.unique(base)
	w.last = id + "-off"
	w.off = append(w.off, mapping("id", id+"-off", "name", name+" off", "takes-out", seats, "removes", parts, "when", when))
	w.on = append(w.on, mapping("id", id+"-on", "name", name+" on", "fits", parts, "fastens", clone(seats, "", "")))
}

// unique keeps a part and a joint of one name apart.
func (w *recordWriter) unique(base string) string {
	id := base
	for n := 2; w.ids[id]; n++ {
		id = base + "-" + strconv.Itoa(n)
	}
	w.ids[id] = true
	return id
}
