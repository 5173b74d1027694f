package acts

import (
	"fmt"
	"slices"
	"strings"

	"countback/events"
)

// Tell is what would tell equally good answers apart: to count Place again,
// since the answers expect different numbers there; or, with Count false, to
// look at the pieces there, since all the answers expect the same numbers and
// only what is on the pieces (length, sealant, wear) can say where they came
// from. The zero Tell is for a single answer.
type Tell struct {
	Place events.Place
	Count bool
}

// tell finds the place where the answers differ most: in what they expect a
// count to find, or else in where the pieces there came from.
func (t *table) tell(answers []Answer) Tell {
	if len(answers) < 2 {
		return Tell{}
	}
	if p, ok := t.splits(answers, t.expected); ok {
		return Tell{Place: p, Count: true}
	}
	p, _ := t.splits(answers, t.came)
	return Tell{Place: p}
}

// splits gives the place at which what view says of the answers has the most
// different values, false if nowhere more than one.
func (t *table) splits(answers []Answer, view func(Answer) map[events.Place][]string) (best events.Place, ok bool) {
	views := make([]map[events.Place][]string, len(answers))
	for i, a := range answers {
		views[i] = view(a)
	}
	most := 1
	for _, p := range t.names {
		values := map[string]bool{}
		for _, v := range views {
			says := slices.Sorted(slices.Values(v[p]))
			values[strings.Join(says, "\n")] = true
		}
		if len(values) > most {
			best, most, ok = p, len(values), true
		}
	}
	return best, ok
}

// expected is how far a careful count of each place would differ from the last
// counts if the answer were true: where they were wrong, and where pieces were
// taken for others.
func (t *table) expected(a Answer) map[events.Place][]string {
	type at struct {
		place events.Place
		kind  events.Kind
	}
	differs := map[at]int32{}
	for _, act := range a.Acts {
		for _, p := range act.Pieces {
			switch {
			case act.Deed == Miscounted && p.Short != 0 && p.Over == 0:
				differs[at{act.From, p.Kind}] += p.Qty
			case act.Deed == Miscounted && p.Short == 0:
				differs[at{act.From, p.Kind}] -= p.Qty
			case p.Kind != p.As:
				to := act.To
				if p.Back {
					to = act.From
				}
				differs[at{to, p.Kind}] += p.Qty
				differs[at{to, p.As}] -= p.Qty
			}
		}
	}
	out := map[events.Place][]string{}
	for k, n := range differs {
		if n != 0 {
			out[k.place] = append(out[k.place], fmt.Sprint(k.kind, n))
		}
	}
	return out
}

// came is what the answer says of the pieces that are at each place: where they
// came from.
func (t *table) came(a Answer) map[events.Place][]string {
	out := map[events.Place][]string{}
	for _, act := range a.Acts {
		for _, p := range act.Pieces {
			from, to := act.From, act.To
			if p.Back {
				from, to = to, from
			}
			out[to] = append(out[to], fmt.Sprint(act.Deed, from, p))
		}
	}
	return out
}
