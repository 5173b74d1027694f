package plan

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"slices"

	"go.yaml.in/yaml/v3"

	"countback/events"
)

// Parse reads a plan file; name is what messages call it. The error is a
// Faults that holds every fault of the text, each with its line and, for a
// misspelled word, the nearest right one. What a plan says that cannot be
// done on a real engine is not Parse's business but Check's. Any bytes give a
// plan or an error.
func Parse(name string, src []byte) (*Plan, error) {
	p, faults := read(name, src)
	if len(faults) > 0 {
		sortFaults(faults)
		return nil, Faults(faults)
	}
	return p, nil
}

// Load is Parse for a file.
func Load(path string) (*Plan, error) {
	src, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("plan file: %w", err)
	}
	return Parse(path, src)
}

// read is Parse that keeps what could be read. The plan is nil where too much
// is missing to look further.
func read(name string, src []byte) (*Plan, []Fault) {
	sum := sha256.Sum256(src)
	p := &Plan{File: name, Source: slices.Clone(src), Hash: hex.EncodeToString(sum[:])}
	r := &reader{p: p, lists: map[string][]ref{}, nodes: maxNodes}
	root, line, err := decodeYAML(src)
	if err != nil {
		r.fault(line, CodeYAML, "%v", err)
		return nil, r.faults
	}
	top := r.open(root, "plan file")
	if top == nil {
		return nil, r.faults
	}
	r.readTop(top)
	if r.lost || p.chainFaults(r) || len(r.faults) >= maxFaults {
		return nil, r.faults
	}
	p.finish()
	return p, r.faults
}

// finish works out what follows from a plan that was read or changed.
func (p *Plan) finish() {
	p.buildGuide()
	p.buildNeeds()
	p.buildVoidsBy()
	p.buildSays()
	p.buildClears()
}

// sections is the entries of every list of the file, in its order.
type sections struct {
	parts, joints, cavities, marks, loans, gates, audits, tightening, measurements, kits, variants []*entry
	steps                                                                                          []stepEntry
}

type stepEntry struct {
	*entry
	section Section
}

// readTop reads names first and then what they stand for, so that an entry
// may name one that comes later.
func (r *reader) readTop(top *entry) {
	p := r.p
	r.readHeader(top)
	r.readLists(top)
	p.names = names{parts: map[events.Part]PartIndex{}, seats: map[events.Seat]SeatIndex{}, steps: map[events.Step]StepIndex{}}
	var s sections
	s.measurements = register(r, top, "measurements", "measurement", &p.names.measurements)
	s.parts = register(r, top, "parts", "part", &p.names.parts)
	s.joints = register(r, top, "joints", "joint", &p.names.joints)
	s.variants = register(r, top, "variants", "variant", &p.names.variants)
	s.cavities = register(r, top, "cavities", "cavity", &p.names.cavities)
	s.marks = register(r, top, "marks", "mark", &p.names.marks)
	s.loans = register(r, top, "loans", "loan", &p.names.loans)
	s.gates = register(r, top, "gates", "gate", &p.names.gates)
	s.audits = register(r, top, "audit-points", "audit point", &p.names.audits)
	r.registerSteps(top, &s)
	s.tightening = r.entries(top, "tightening", "tightening")
	s.kits = r.entries(top, "kits", "kit")
	readings := r.unique(r.entries(top, "run-readings", "run reading"))
	obligations := r.unique(r.entries(top, "obligations", "obligation"))
	var prices []*entry
	for _, n := range top.items("prices") {
		if e := r.open(n, "price"); e != nil {
			prices = append(prices, e)
		}
	}
	evidence := top.refs("start-evidence")
	for _, h := range top.refs("hiding-places") {
		p.HidingPlaces = append(p.HidingPlaces, h.text)
	}
	top.done()
	p.Parts = make([]Part, len(s.parts))
	p.Joints = make([]Joint, len(s.joints))
	p.Steps = make([]Step, len(s.steps))
	p.Loans = make([]Loan, len(s.loans))
	r.readAll(&s)
	r.readPrices(prices)
	p.Evidence = resolveAll(r, p.names.marks, evidence, "start-evidence", "mark")
	for _, e := range readings {
		p.RunReadings = append(p.RunReadings, r.readRunReading(e))
	}
	for _, e := range obligations {
		p.Obligations = append(p.Obligations, r.readObligation(e))
	}
}

// unique is the entries whose id no other one before has.
func (r *reader) unique(list []*entry) []*entry {
	return enter(r, list, map[string]int16{})
}

func (r *reader) readAll(s *sections) {
	p := r.p
	for _, e := range s.measurements {
		p.Measurements = append(p.Measurements, r.readMeasurement(e))
	}
	r.fromFaults()
	for i, e := range s.parts {
		p.Parts[i] = r.readPart(e)
	}
	for i, e := range s.joints {
		p.Joints[i] = r.readJoint(e, JointIndex(i))
	}
	for i, e := range s.joints {
		r.readShares(e, JointIndex(i))
	}
	for i := range p.Joints {
		r.sameSpot(&p.Joints[i])
	}
	for _, e := range s.variants {
		p.Variants = append(p.Variants, r.readVariant(e))
	}
	for _, e := range s.gates {
		p.Gates = append(p.Gates, r.readGate(e))
	}
	for _, e := range s.cavities {
		p.Cavities = append(p.Cavities, r.readCavity(e))
	}
	for i, e := range s.loans {
		p.Loans[i] = r.readLoan(e)
	}
	for _, e := range s.marks {
		p.Marks = append(p.Marks, r.readMark(e))
	}
	for i, e := range s.steps {
		p.Steps[i] = r.readStep(e)
	}
	for _, e := range s.audits {
		p.AuditPoints = append(p.AuditPoints, r.readAudit(e))
	}
	for _, e := range s.tightening {
		p.Tightening = append(p.Tightening, r.readTightening(e))
	}
	for _, e := range s.kits {
		p.Kits = append(p.Kits, r.readKit(e))
	}
}

// entries opens a section's list, repeated entries written out.
func (r *reader) entries(top *entry, section, what string) []*entry {
	return r.openAll(top.items(section), section, what)
}

func (r *reader) openAll(list []*yaml.Node, section, what string) []*entry {
	var out []*entry
	for _, n := range r.repeat(section, list) {
		e := r.open(n, what)
		if e == nil {
			continue
		}
		id := e.text("id")
		if !nameForm.MatchString(id) {
			r.fault(e.line(), CodeMissing, "%s: id is %q; letters, digits and dash are wanted, at most 64", what, id)
			continue
		}
		e.what = what + " " + id
		out = append(out, e)
	}
	return out
}

// register opens a section and gives its ids their indices.
func register[K ~string, I ~int16](r *reader, top *entry, section, what string, m *map[K]I) []*entry {
	*m = map[K]I{}
	return enter(r, r.entries(top, section, what), *m)
}

func enter[K ~string, I ~int16](r *reader, list []*entry, m map[K]I) []*entry {
	out := list[:0]
	for _, e := range list {
		id := K(child(e.node, "id").Value)
		if first, ok := m[id]; ok {
			r.fault(e.line(), CodeDuplicate, "%s: this id is given already in line %d", e.what, out[first].line())
			continue
		}
		m[id] = I(len(out))
		out = append(out, e)
	}
	return out
}

func (r *reader) registerSteps(top *entry, s *sections) {
	n := top.get("steps")
	if n == nil || isNull(n) {
		return
	}
	e := r.open(n, "steps")
	if e == nil {
		return
	}
	var all []*entry
	sectionOf := map[*entry]Section{}
	for i, name := range []string{"off", "bench", "on"} {
		for _, x := range r.openAll(e.items(name), "steps", "step") {
			sectionOf[x] = []Section{Off, BenchApart, On}[i]
			all = append(all, x)
		}
	}
	e.done()
	if len(all) > maxEntries {
		r.fault(n.Line, CodeLimit, "steps: %d entries; at most %d", len(all), maxEntries)
		all = all[:maxEntries]
	}
	for _, x := range enter(r, all, r.p.names.steps) {
		if slices.Contains(actWords, x.text("id")) {
			r.fault(x.line(), CodeValue, "%s: turning, cranking and sending-out are acts, not steps", x.what)
		}
		s.steps = append(s.steps, stepEntry{x, sectionOf[x]})
	}
}

// chainFaults reports parts that are in themselves, directly or through
// others: no geometry follows from these.
func (p *Plan) chainFaults(r *reader) bool {
	bad := false
	for i := range p.Parts {
		deep := 0
		for a := p.Parts[i].In; a != None && deep <= maxDepth; a = p.Parts[a].In {
			deep++
		}
		if deep > maxDepth {
			r.fault(p.Parts[i].Line, CodeLoop, "part %s: in: it is in itself, or deeper in others than %d", p.Parts[i].ID, maxDepth)
			bad = true
		}
	}
	return bad
}
