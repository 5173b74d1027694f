package events

import (
	"reflect"
	"unsafe"
)

// This file holds everything unsafe. The fast road writes the fields of an
// event at their offsets, which come from reflect and are therefore right for
// the very type whose memory is written; each write goes through a pointer of
// the field's own basic type, so the compiler adds its write barriers and the
// collector sees every string and slice. Memory always comes from new or
// reflect.New of the true type. Nothing here outlives a call but what is
// reachable from the event that the call returns.

// Memory is where one value of a known type is.
type memory = unsafe.Pointer

// Shelf makes and empties the memory of one kind.
type shelf struct {
	fresh func() memory
	wipe  func(memory)
	take  func(memory) Event // a copy, in an interface
}

func shelfOf[T Event]() shelf {
	return shelf{
		fresh: func() memory { return memory(new(T)) },
		wipe: func(p memory) {
			var zero T
			*(*T)(p) = zero
		},
		take: func(p memory) Event { return *(*T)(p) },
	}
}

func at(p memory, offset uintptr) memory { return unsafe.Add(p, offset) }

func setText(p memory, v string)  { *(*string)(p) = v }
func setFlag(p memory)            { *(*bool)(p) = true }
func setInt(p memory, v int)      { *(*int)(p) = v }
func setInt64(p memory, v int64)  { *(*int64)(p) = v }
func setUint(p memory, v uint32)  { *(*uint32)(p) = v }
func setReal(p memory, v float64) { *(*float64)(p) = v }
func setEvent(p memory, v Event)  { *(*Event)(p) = v }

// MakeList puts a new list of n elements at p and gives its first element.
func makeList(p memory, s *shape, n int) memory {
	list := reflect.MakeSlice(s.typ, n, n)
	reflect.NewAt(s.typ, p).Elem().Set(list)
	return list.UnsafePointer()
}

// ShortList is how many elements a tray holds. A tray takes the elements of
// one list until their number is known; then they are copied into an array of
// just that length, whose type was made beforehand.
const shortList = 16

func newTray(s *shape) memory { return reflect.New(s.arrays[shortList]).UnsafePointer() }

// KeepTray puts a new list of the first n elements at p.
func keepTray(p memory, s *shape, n int, tray memory) {
	array := reflect.New(s.arrays[n])
	array.Elem().Set(reflect.NewAt(s.arrays[n], tray).Elem())
	// The header of a slice has the same form whatever its elements are.
	*(*[]struct{})(p) = unsafe.Slice((*struct{})(array.UnsafePointer()), n)
}

func wipeTray(s *shape, n int, tray memory) { reflect.NewAt(s.arrays[n], tray).Elem().SetZero() }
