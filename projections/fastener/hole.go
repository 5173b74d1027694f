package fastener

import (
	"maps"
	"strings"
)

// Hole is what is known of one threaded hole and of what lies between it and
// the head of its fastener. The zero value of every field means unknown.
type Hole struct {
	Thread   Thread
	ThreadIn string // material of the thread: aluminium, cast iron, steel

	GripMm Length // everything clamped between head, or nut, and the face of the hole: parts, washers, gasket as crushed

	DepthMm       Length // full thread from the face; of a through hole the length of its thread
	Through       bool   // open at the far end; also when FreeBehindMm is known
	FreeBehindMm  Length // room behind a through hole before something is in the way
	InsertDepthMm Length // length of a thread insert, where one was fitted

	RunInMm     Length // of a stud: how deep it is run in
	NutHeightMm Length // of a stud: the height of its nut
}

// through reports whether the hole is open at its far end.
func (h Hole) through() bool { return h.Through || h.FreeBehindMm.known }

// Rules are the numbers that the length window rests on. They are common
// practice and weak: a shop may set its own.
type Rules struct {
	// Factor is how many diameters of thread a material wants.
	Factor map[string]float64
	// RunoutPitches is how many pitches at the end of a blind thread a
	// fastener must stay away from.
	RunoutPitches float64
}

// Usual are the usual rules: one diameter in steel, one and a half in
// aluminium, two in cast iron, and two pitches of runout (common practice).
// Each call returns its own copy.
func Usual() Rules {
	return Rules{Factor: maps.Clone(usual.Factor), RunoutPitches: usual.RunoutPitches}
}

var usual = Rules{
	Factor:        map[string]float64{"steel": 1, "aluminium": 1.5, "cast iron": 2},
	RunoutPitches: 2,
}

// materialAliases are other words for the materials of threads.
var materialAliases = map[string]string{
	"aluminum": "aluminium", "alloy": "aluminium", "iron": "cast iron", "grey iron": "cast iron",
	"gray iron": "cast iron", "forged steel": "steel", "cast steel": "steel",
}

// factor is how many diameters of thread a material wants, and whether the
// rules know the material.
func (r Rules) factor(material string) (float64, bool) {
	if k, ok := r.Factor[material]; ok {
		return k, true
	}
	plain := strings.ToLower(strings.TrimSpace(material))
	if alias, ok := materialAliases[plain]; ok {
		if k, ok := r.Factor[plain]; ok {
			return k, true
		}
		plain = alias
	}
	k, ok := r.Factor[plain]
	return k, ok
}
