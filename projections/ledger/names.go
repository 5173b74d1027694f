package ledger

import (
	"slices"

	"countback/projections/index"
)

// names numbers strings of one type from 1, in the order of first use. The
// empty string is 0.
type names[T ~string] struct {
	of   index.Table[T]
	list []T
}

func newNames[T ~string]() names[T] { return names[T]{list: []T{""}} }

func (n *names[T]) id(name T) int32 {
	if name == "" {
		return 0
	}
	id, added := n.of.Add(name, int32(len(n.list)))
	if added {
		n.list = append(n.list, name)
	}
	return id
}

func (n *names[T]) reset() {
	n.of.Reset()
	clear(n.list[1:])
	n.list = n.list[:1]
}

func (n *names[T]) clone() names[T] {
	c := names[T]{list: slices.Clone(n.list)}
	c.of.CopyFrom(&n.of)
	return c
}

func (n *names[T]) copyFrom(o *names[T]) {
	n.of.CopyFrom(&o.of)
	n.list = append(n.list[:0], o.list...)
}
