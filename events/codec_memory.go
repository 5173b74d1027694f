package events

import (
	"reflect"
	"unsafe"
)

// This file holds everything unsafe. The fast road writes the fields of an
// event at their offsets, which come from reflect and are therefore right for
// the very type whose memory is written; each write goes through a pointer of
// the field's own basic type, so the compiler adds its write barriers and the
// collector sees every string and slice. Memory always comes from new, make
// or reflect.New of the true type, or of one that is a string as it is.
// Nothing here outlives a call but what the event that it returns can reach.

// Memory is where one value of a known type is.
type memory = unsafe.Pointer

func at(p memory, offset uintptr) memory { return unsafe.Add(p, offset) }

func setText(p memory, v string)  { *(*string)(p) = v }
func setFlag(p memory)            { *(*bool)(p) = true }
func setInt(p memory, v int)      { *(*int)(p) = v }
func setInt64(p memory, v int64)  { *(*int64)(p) = v }
func setUint(p memory, v uint32)  { *(*uint32)(p) = v }
func setReal(p memory, v float64) { *(*float64)(p) = v }
func setEvent(p memory, v Event)  { *(*Event)(p) = v }

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

// Tray takes the first elements of a list until their number is known.
type tray struct {
	fresh func() memory                  // room for shortList elements
	list  func(p memory, n int) memory   // puts a new list at p, gives its first element
	keep  func(p, from memory, n int)    // puts a copy of the first n elements at p
	wipe  func(from memory, touched int) // empties the first elements
}

// ShortList is how many elements a tray holds.
const shortList = 16

// TrayFor gives the tray of a type of list: one made by the compiler for the
// elements that are common, one made of reflect for all others.
func trayFor(list reflect.Type) tray {
	switch elem := list.Elem(); {
	case elem.Kind() == reflect.String:
		return trayOf[string]()
	case elem == reflect.TypeFor[Line]():
		return trayOf[Line]()
	}
	return slowTray(list)
}

func trayOf[T any]() tray {
	return tray{
		fresh: func() memory { return memory(new([shortList]T)) },
		list: func(p memory, n int) memory {
			s := make([]T, n)
			*(*[]T)(p) = s
			return memory(unsafe.SliceData(s))
		},
		keep: func(p, from memory, n int) {
			s := make([]T, n)
			copy(s, (*[shortList]T)(from)[:n])
			*(*[]T)(p) = s
		},
		wipe: func(from memory, touched int) { clear((*[shortList]T)(from)[:touched]) },
	}
}

func slowTray(typ reflect.Type) tray {
	array := reflect.ArrayOf(shortList, typ.Elem())
	list := func(p memory, n int) reflect.Value {
		s := reflect.MakeSlice(typ, n, n)
		reflect.NewAt(typ, p).Elem().Set(s)
		return s
	}
	return tray{
		fresh: func() memory { return reflect.New(array).UnsafePointer() },
		list:  func(p memory, n int) memory { return list(p, n).UnsafePointer() },
		keep: func(p, from memory, n int) {
			reflect.Copy(list(p, n), reflect.NewAt(array, from).Elem())
		},
		wipe: func(from memory, touched int) { reflect.NewAt(array, from).Elem().SetZero() },
	}
}
