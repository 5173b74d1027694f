package engine

import (
	"slices"
	"strconv"
	"strings"

	"countback/events"
)

// gaps is what Gaps has found so far. It goes on from there while facts come
// in order, and starts anew when the job was folded again.
type gaps struct {
	facts, refolds int // what it has looked at
	have           []numbers
	missing        []events.FactID
}

// numbers are the facts that a job has of one terminal.
type numbers struct {
	terminal events.Terminal
	n        []uint32 // ascending
	asked    uint32   // the last number that was looked up
}

// Gaps lists facts of this job that a terminal had folded when it stated one of
// these facts, and that the job does not have: the highest of each terminal.
func (j *Job) Gaps() []events.FactID {
	g := &j.holes
	if g.refolds != j.refolds || g.facts > len(j.facts) {
		*g = gaps{refolds: j.refolds}
	}
	from := g.facts
	for i := from; i < len(j.facts); i++ {
		g.add(j.facts[i].ID())
	}
	for i := from; i < len(j.facts); i++ {
		g.look(string(j.facts[i].Seen))
	}
	g.facts = len(j.facts)
	return slices.Clone(g.missing)
}

func (g *gaps) of(t events.Terminal) *numbers {
	for i := range g.have {
		if g.have[i].terminal == t {
			return &g.have[i]
		}
	}
	g.have = append(g.have, numbers{terminal: t})
	return &g.have[len(g.have)-1]
}

// add takes a fact that the job has; it may be one that was missed.
func (g *gaps) add(id events.FactID) {
	h := g.of(id.Terminal)
	if at, ok := slices.BinarySearch(h.n, id.N); !ok {
		h.n = slices.Insert(h.n, at, id.N)
	}
	g.missing = remove(g.missing, id)
}

// look takes what one fact's terminal had seen.
func (g *gaps) look(seen string) {
	for seen != "" {
		var item string
		item, seen, _ = strings.Cut(seen, " ")
		name, digits, _ := strings.Cut(item, ":")
		v, err := strconv.ParseUint(digits, 10, 32)
		h := g.of(events.Terminal(name))
		if err != nil || h.asked == uint32(v) {
			continue
		}
		h.asked = uint32(v)
		id := events.FactID{Terminal: h.terminal, N: uint32(v)}
		if _, ok := slices.BinarySearch(h.n, id.N); !ok && !contains(g.missing, id) {
			g.missing = append(g.missing, id)
		}
	}
}
