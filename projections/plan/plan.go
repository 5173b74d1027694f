package plan

import (
	"fmt"

	"countback/events"
)

// Dense indices into the lists of one Plan, so that states are small arrays.
// They are valid for the plan that gave them and for no other.
type (
	PartIndex        int16
	JointIndex       int16
	SeatIndex        int16
	StepIndex        int16
	LoanIndex        int16
	MarkIndex        int16
	CavityIndex      int16
	GateIndex        int16
	AuditIndex       int16
	MeasurementIndex int16
	VariantIndex     int16
)

// None is the index of nothing, in every list.
const None = -1

// Plan is what an engine of one family is made of, and the conditions under
// which it comes off and goes on. Repeated entries are expanded and every
// reference is an index. A Plan is read-only once Parse has returned it and
// may be used by many goroutines.
type Plan struct {
	ID      string // kebab-case, unique per family and make
	Family  string // as people say it: "Sorrel I4-20"
	Edition int    // counted from 1
	Demo    bool   // invented numbers: nobody may build from them
	Units   Units
	Totals  Totals // as the file declares them; zero where it does not

	LeftRight string // seen from where left and right are meant, in words

	File   string // where the text came from, for messages
	Source []byte // the text that was read
	Hash   string // SHA-256 of Source, 64 hexadecimal digits

	Parts        []Part
	Joints       []Joint
	Seats        []Seat // every hole of every joint, a shared hole once
	Steps        []Step
	Cavities     []Cavity
	Marks        []Mark
	Loans        []Loan
	Gates        []Gate
	AuditPoints  []AuditPoint
	Tightening   []Tightening
	Measurements []Measurement
	RunReadings  []RunReading
	Obligations  []Obligation
	Evidence     []MarkIndex // marks that must stand before the engine is started
	Kits         []Kit
	Prices       []Price
	Variants     []Variant
	HidingPlaces []string

	names  names
	guide  guide  // what follows from how the parts lie on each other
	clears clears // which steps bring which state about
}

// Units are the units of the numbers in a plan.
type Units struct {
	Length string // mm or in: of every length without a unit, and at the bench
	Torque string // N.m, lbf.ft or lbf.in: of what a stage says without a unit, and at the bench

	LengthSaid, TorqueSaid bool // the file says it; otherwise it is mm, N.m
}

// Totals are the sums that a plan's author counted by hand; Check compares
// them with what the plan adds up to. Zero means not declared.
type Totals struct {
	Fasteners int // pieces in holes, washers and seal rings included
	Seats     int // holes that hold them
	Parts     int // pieces of parts
	Pieces    int // both together
	Line      int
}

// Lines everywhere are the line of the source on which the element begins,
// counted from 1; Plan.At makes a place of one.

// At is a line as "file:line".
func (p *Plan) At(line int) string {
	if line <= 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d", p.File, line)
}

type names struct {
	parts        map[events.Part]PartIndex
	joints       map[events.Joint]JointIndex
	seats        map[events.Seat]SeatIndex
	steps        map[events.Step]StepIndex
	loans        map[events.Loan]LoanIndex
	marks        map[events.Mark]MarkIndex
	cavities     map[events.Cavity]CavityIndex
	audits       map[events.AuditPoint]AuditIndex
	gates        map[string]GateIndex
	measurements map[string]MeasurementIndex
	variants     map[string]VariantIndex
}

// Part is the index of a part, and whether the plan has it.
func (p *Plan) Part(id events.Part) (PartIndex, bool) { return find(p.names.parts, id) }

// Joint is the index of a joint, and whether the plan has it.
func (p *Plan) Joint(id events.Joint) (JointIndex, bool) { return find(p.names.joints, id) }

// Seat is the index of a hole by its own name ("front-cover:18"), and whether
// the plan has it. Positions of parts are no holes: see Part.Positions.
func (p *Plan) Seat(id events.Seat) (SeatIndex, bool) { return find(p.names.seats, id) }

// Hole is the index of a hole of a joint: one of its own, or one that it
// shares with another joint where only one of those has that name.
func (p *Plan) Hole(joint events.Joint, hole events.Hole) (SeatIndex, bool) {
	if s, ok := p.Seat(events.SeatOf(joint, hole)); ok {
		return s, true
	}
	j, ok := p.Joint(joint)
	if !ok {
		return None, false
	}
	found := SeatIndex(None)
	for _, s := range p.Joints[j].Seats {
		if p.Seats[s].Hole != hole {
			continue
		}
		if found != None {
			return None, false
		}
		found = s
	}
	return found, found != None
}

// Step is the index of a step, and whether the plan has it.
func (p *Plan) Step(id events.Step) (StepIndex, bool) { return find(p.names.steps, id) }

// Loan is the index of a loan, and whether the plan has it.
func (p *Plan) Loan(id events.Loan) (LoanIndex, bool) { return find(p.names.loans, id) }

// Mark is the index of a mark, and whether the plan has it.
func (p *Plan) Mark(id events.Mark) (MarkIndex, bool) { return find(p.names.marks, id) }

// Cavity is the index of a cavity, and whether the plan has it.
func (p *Plan) Cavity(id events.Cavity) (CavityIndex, bool) { return find(p.names.cavities, id) }

// AuditPoint is the index of an audit point, and whether the plan has it.
func (p *Plan) AuditPoint(id events.AuditPoint) (AuditIndex, bool) { return find(p.names.audits, id) }

// Measurement is the index of a measurement, and whether the plan has it.
func (p *Plan) Measurement(id string) (MeasurementIndex, bool) { return find(p.names.measurements, id) }

// Gate is the index of a gate, and whether the plan has it.
func (p *Plan) Gate(id string) (GateIndex, bool) { return find(p.names.gates, id) }

// Variant is the index of a variant, and whether the plan has it.
func (p *Plan) Variant(id string) (VariantIndex, bool) { return find(p.names.variants, id) }

func find[K comparable, I ~int16](m map[K]I, id K) (I, bool) {
	if i, ok := m[id]; ok {
		return i, true
	}
	return None, false
}
