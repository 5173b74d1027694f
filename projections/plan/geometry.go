package plan

import "slices"

// guide is what follows from how the parts lie on each other, whatever the
// steps say.
type guide struct {
	over    [][]PartIndex // by part: what lies over it or over what travels with it, and does not travel along
	under   [][]PartIndex // by part: what it lies over, and what it mates with
	tied    [][]SeatIndex // by part: seats that hold it, or what travels with it, to something else
	clamped [][]SeatIndex // by part: seats that clamp it
	fillers [][]filler    // by seat: loans that take it up
	voids   []MarkIndex   // marks that a state can void
	voidsBy voidsBy       // what a mark's fall can depend on
	absent  [][]SeatIndex // by part: seats that are there only with it
	does    []string      // by step: "do " and its id
	undone  []Unmet       // by step: that nothing of it is done
	asIs    [][]string    // by part and state: "Oil pan: on"
}

// filler is the nth piece of a loan.
type filler struct {
	loan LoanIndex
	nth  int
}

// travels reports whether part i is on part of, or on something that is, and
// so on, or is it.
func (p *Plan) travels(i, of PartIndex) bool {
	for ; i != None; i = p.Parts[i].In {
		if i == of {
			return true
		}
	}
	return false
}

// buildGuide derives the guide. Part chains are known to end.
func (p *Plan) buildGuide() {
	n := len(p.Parts)
	p.guide = guide{
		over: make([][]PartIndex, n), under: make([][]PartIndex, n),
		tied: make([][]SeatIndex, n), clamped: make([][]SeatIndex, n),
		fillers: make([][]filler, len(p.Seats)), absent: make([][]SeatIndex, n),
	}
	for i := range p.Steps {
		p.guide.does = append(p.guide.does, "do "+string(p.Steps[i].ID))
	}
	for i := range p.Parts {
		for _, q := range p.Parts[i].Under {
			p.lay(q, PartIndex(i))
		}
		for _, m := range p.Parts[i].Mating {
			p.lay(PartIndex(i), m)
		}
	}
	for i := range p.Seats {
		p.guideSeat(SeatIndex(i))
	}
	for i := range p.Loans {
		for nth, s := range p.Loans[i].Fills {
			p.guide.fillers[s] = append(p.guide.fillers[s], filler{LoanIndex(i), nth})
		}
	}
	for i := range p.Marks {
		if p.Marks[i].VoidBy.Op != AnyOf || len(p.Marks[i].VoidBy.Kids) > 0 {
			p.guide.voids = append(p.guide.voids, MarkIndex(i))
		}
	}
	for i := range p.Joints {
		if j := &p.Joints[i]; j.OnlyWith != None {
			p.guide.absent[j.OnlyWith] = append(p.guide.absent[j.OnlyWith], j.Seats[:j.Own]...)
		}
	}
}

// lay records that q lies over part i: i cannot come or go under it.
func (p *Plan) lay(q, i PartIndex) {
	if q == i {
		return
	}
	addOnce(&p.guide.under[q], i)
	for a := i; a != None; a = p.Parts[a].In {
		if !p.travels(q, a) {
			addOnce(&p.guide.over[a], q)
		}
	}
}

// guideSeat records what a hole holds together. A clamped part lies over
// those that are nearer to the host, and over a host that it does not travel
// with: a pan that is bolted to the bedplate and to the front cover lies over
// the cover.
func (p *Plan) guideSeat(i SeatIndex) {
	s := &p.Seats[i]
	bodies := append([]PartIndex{s.Host}, s.Clamps...)
	for n, c := range s.Clamps {
		addOnce(&p.guide.clamped[c], i)
		for _, inner := range s.Clamps[:n] {
			p.lay(c, inner)
		}
		if s.Host != None && !p.travels(c, s.Host) {
			p.lay(c, s.Host)
		}
	}
	if !s.Moves() {
		return
	}
	for _, b := range bodies {
		for a := b; a != None; a = p.Parts[a].In {
			for _, other := range bodies {
				if !p.travels(other, a) {
					addOnce(&p.guide.tied[a], i)
					break
				}
			}
		}
	}
}

func addOnce[T comparable](list *[]T, v T) {
	if !slices.Contains(*list, v) {
		*list = append(*list, v)
	}
}

// Over is the parts that lie over a part, or over what travels with it: while
// one of them is on, the part can neither come off nor go on.
func (p *Plan) Over(i PartIndex) []PartIndex { return p.guide.over[i] }

// Below is the parts that must be on before a part goes on: what it lies over
// and what it mates with.
func (p *Plan) Below(i PartIndex) []PartIndex { return p.guide.under[i] }

// Ties is the seats that must be empty before a part can leave: those that
// clamp it, and those that bolt what travels with it to something else.
func (p *Plan) Ties(i PartIndex) []SeatIndex { return p.guide.tied[i] }

// ClampedBy is the seats that clamp a part.
func (p *Plan) ClampedBy(i PartIndex) []SeatIndex { return p.guide.clamped[i] }

// Travels reports whether a part is carried by another, directly or through
// what it is on, and so goes to the machine shop with it.
func (p *Plan) Travels(i, with PartIndex) bool { return p.travels(i, with) }
