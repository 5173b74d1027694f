package acts

// group is a set of entries that acts join, with their links and acts, all in
// order.
type group struct {
	entries, links, acts []int32
}

// groups are the parts that no act joins, in the order of their first entries.
func (t *table) groups() []*group {
	root := make([]int32, len(t.entries))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, a := range t.acts {
		for _, l := range a.links {
			for _, e := range t.links[l].ends() {
				root[find(e)] = find(t.links[a.links[0]].end())
			}
		}
	}
	byRoot := map[int32]*group{}
	var out []*group
	for i := range t.entries {
		r := find(int32(i))
		if byRoot[r] == nil {
			byRoot[r] = &group{}
			out = append(out, byRoot[r])
		}
		byRoot[r].entries = append(byRoot[r].entries, int32(i))
	}
	for i := range t.links {
		g := byRoot[find(t.links[i].end())]
		g.links = append(g.links, int32(i))
	}
	for i := range t.acts {
		g := byRoot[find(t.links[t.acts[i].links[0]].end())]
		g.acts = append(g.acts, int32(i))
	}
	return out
}

// end is an entry of the link.
func (l *link) end() int32 { return max(l.short, l.over) }

// ends are the entries of the link, the same twice if it has one.
func (l *link) ends() [2]int32 {
	if l.short == none || l.over == none {
		return [2]int32{l.end(), l.end()}
	}
	return [2]int32{l.short, l.over}
}
