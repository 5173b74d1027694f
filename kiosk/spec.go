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
	of map[events.Kind]fastener.Spec
}

// specOf reads a kind; false where it is no fastener, or its thread is not
// known.
func specOf(k events.Kind) (fastener.Spec, bool) {
	specs.Lock()
	defer specs.Unlock()
	sp, ok := specs.of[k]
	if !ok {
		if len(specs.of) >= mostSpecs || specs.of == nil {
			specs.of = make(map[events.Kind]fastener.Spec)
		}
		sp, _ = fastener.Parse(string(k)) // the zero spec where it is none
		specs.of[k] = sp
	}
	return sp, sp.Thread.Known()
}
