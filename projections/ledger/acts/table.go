package acts

import (
	"cmp"
	"slices"

	"countback/events"
	"countback/projections/ledger"
)

// table holds the entries in numbers, the links between them and the acts that
// links can belong to.
type table struct {
	entries []Entry
	names   []events.Place
	place   []int32 // of each entry
	kind    []int32
	alike   [][]bool // by kind and kind: the same, or can be mistaken

	links []link
	acts  []candidate
}

// link is a way to explain pieces: by a short and an over together, or by one
// of them alone (the other is none). Its act can be at any moment after lo and
// not later than hi.
type link struct {
	short, over int32
	lo, hi      int64
	key         key
	weight      int64 // likelihood of one piece
}

const none = int32(-1)

// key names what links must have in common to be of one act, apart from the
// moment: for moved (and swapped) the two places in order of their numbers, for
// miscounted the place and the count that was wrong, for confused the place and
// the two kinds.
type key struct {
	deed Deed
	a, b int32
	k, l int32
	at   int64
}

// candidate is an act that could be: links that share a moment.
type candidate struct {
	key   key
	links []int32
}

// whole is the likelihood of an entry wholly explained.
const whole = 1_000_000

func newTable(entries []Entry, confusable func(a, b events.Kind) bool) *table {
	t := &table{}
	places, kinds := map[events.Place]int32{}, map[events.Kind]int32{}
	var names []events.Kind
	for _, e := range entries {
		if e.Qty < 1 || e.Sign != ledger.Short && e.Sign != ledger.Over {
			continue
		}
		p, ok := places[e.Place]
		if !ok {
			p = int32(len(places))
			places[e.Place] = p
			t.names = append(t.names, e.Place)
		}
		k, ok := kinds[e.Kind]
		if !ok {
			k = int32(len(kinds))
			kinds[e.Kind] = k
			names = append(names, e.Kind)
		}
		t.entries, t.place, t.kind = append(t.entries, e), append(t.place, p), append(t.kind, k)
	}
	t.alike = make([][]bool, len(names))
	for k := range names {
		t.alike[k] = make([]bool, len(names))
		t.alike[k][k] = true
		for l := range k {
			t.alike[k][l] = confusable != nil && confusable(names[k], names[l])
			t.alike[l][k] = t.alike[k][l]
		}
	}
	return t
}

// link finds every way to explain pieces, shorts in order and for each of them
// the overs in order, then the entries that may be miscounted alone.
func (t *table) link() {
	var overs []int32
	for i := range t.entries {
		if t.entries[i].Sign == ledger.Over {
			overs = append(overs, int32(i))
		}
	}
	for s := range t.entries {
		if t.entries[s].Sign != ledger.Short {
			continue
		}
		for _, o := range overs {
			if t.alike[t.kind[s]][t.kind[o]] {
				t.join(int32(s), o)
			}
		}
	}
	for i, e := range t.entries {
		if e.Undisturbed && e.After < e.Before {
			l := link{short: int32(i), over: none, lo: e.After, hi: e.Before, weight: whole / int64(e.Qty),
				key: key{deed: Miscounted, a: t.place[i], b: t.place[i], at: e.Before}}
			if e.Sign == ledger.Over {
				l.short, l.over = none, int32(i)
			}
			t.links = append(t.links, l)
		}
	}
}

// join links a short and an over of alike kinds if one act can explain both.
func (t *table) join(s, o int32) {
	short, over := &t.entries[s], &t.entries[o]
	l := link{short: s, over: o, lo: max(short.After, over.After), hi: min(short.Before, over.Before)}
	a, b, k, m := t.place[s], t.place[o], t.kind[s], t.kind[o]
	l.weight = whole/int64(short.Qty) + whole/int64(over.Qty)
	switch {
	case a == b && k == m:
		// the later count takes back what the earlier one said
		if l.lo > l.hi {
			return
		}
		l.key = key{deed: Miscounted, a: a, b: a, at: l.hi}
		l.lo = l.hi - 1
	case l.lo >= l.hi:
		return
	case a == b:
		l.key = key{deed: Confused, a: a, b: a, k: k, l: m}
	default:
		l.key = key{deed: Moved, a: min(a, b), b: max(a, b)}
		for _, e := range []*Entry{short, over} {
			if e.Undisturbed {
				l.weight -= whole / int64(e.Qty) / 2
			}
		}
		if k != m {
			l.weight -= whole / 2
		}
	}
	t.links = append(t.links, l)
}

// choose finds the acts that could be: for each key the largest sets of links
// that share a moment. They come in the order of their first links.
func (t *table) choose() {
	byKey := map[key]int{}
	var all []candidate
	for i := range t.links {
		k := t.links[i].key
		at, ok := byKey[k]
		if !ok {
			at = len(all)
			byKey[k] = at
			all = append(all, candidate{key: k})
		}
		all[at].links = append(all[at].links, int32(i))
	}
	for _, c := range all {
		t.acts = append(t.acts, t.moments(c)...)
	}
}

// moments splits the links of one key into the largest sets that share a
// moment. Such a set is full at the end of one of its links.
func (t *table) moments(c candidate) []candidate {
	lo, hi := t.window(c.links)
	if lo < hi {
		return []candidate{c}
	}
	ends := make([]int64, 0, len(c.links))
	for _, l := range c.links {
		ends = append(ends, t.links[l].hi)
	}
	slices.Sort(ends)
	var sets []candidate
	for _, end := range slices.Compact(ends) {
		var set []int32
		for _, l := range c.links {
			if t.links[l].lo < end && end <= t.links[l].hi {
				set = append(set, l)
			}
		}
		if !slices.ContainsFunc(sets, func(o candidate) bool { return contains(o.links, set) }) {
			sets = slices.DeleteFunc(sets, func(o candidate) bool { return contains(set, o.links) })
			sets = append(sets, candidate{key: c.key, links: set})
		}
	}
	slices.SortStableFunc(sets, func(a, b candidate) int { return cmp.Compare(a.links[0], b.links[0]) })
	return sets
}

// window is when all of the links could have been at once.
func (t *table) window(links []int32) (lo, hi int64) {
	lo, hi = t.links[links[0]].lo, t.links[links[0]].hi
	for _, l := range links[1:] {
		lo, hi = max(lo, t.links[l].lo), min(hi, t.links[l].hi)
	}
	return lo, hi
}

// contains says whether all of part, in order, is in all.
func contains(all, part []int32) bool {
	i := 0
	for _, l := range all {
		if i < len(part) && part[i] == l {
			i++
		}
	}
	return i == len(part)
}
