package ledger

import (
	"maps"
	"slices"
)

// names numbers strings of one type from 1, in the order of first use. The
// empty string is 0.
type names[T ~string] struct {
	of   map[T]int32
	list []T
}

func newNames[T ~string]() names[T] { return names[T]{of: make(map[T]int32), list: []T{""}} }

func (n *names[T]) id(name T) int32 {
	if name == "" {
		return 0
	}
	if id, ok := n.of[name]; ok {
		return id
	}
	id := int32(len(n.list))
	n.list = append(n.list, name)
	n.of[name] = id
	return id
}

func (n *names[T]) reset() {
	clear(n.of)
	clear(n.list[1:])
	n.list = n.list[:1]
}

func (n *names[T]) clone() names[T] {
	return names[T]{of: maps.Clone(n.of), list: slices.Clone(n.list)}
}

func (n *names[T]) copyFrom(o *names[T]) {
	copyMap(n.of, o.of)
	n.list = append(n.list[:0], o.list...)
}
