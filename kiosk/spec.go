package kiosk

import (
	"sync"

	"countback/events"
	"countback/projections/fastener"
)

// mostSpecs is how many kinds are remembered at once: more than any plan has.
const mostSpecs = 4096

// specs remembers what the texts of kinds say: a bench shows the same few
// dozen again and again, at every scan. It changes no answer.
var specs struct {
	sync.Mutex
	of map[events.Kind]specRead
}

// specRead is what a text says, the zero spec where it is no fastener, and what
// its size is called in short.
type specRead struct {
	spec fastener.Spec
	base string
}

// specOf reads a kind; false where it is no fastener, or its thread is not
// known.
func specOf(k events.Kind) (fastener.Spec, bool) {
	r := readSpec(k)
	return r.spec, r.spec.Thread.Known()
}

func readSpec(k events.Kind) specRead {
	specs.Lock()
	defer specs.Unlock()
	r, ok := specs.of[k]
	if !ok {
		if len(specs.of) >= mostSpecs || specs.of == nil {
			specs.of = make(map[events.Kind]specRead)
		}
		r.base = string(k)
		if sp, _ := fastener.Parse(string(k)); sp.Thread.Known() {
			r = specRead{sp, baseName(sp)}
		}
		specs.of[k] = r
	}
	return r
}
