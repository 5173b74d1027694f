package engine

import (
	"strings"
)

// Nouns of the trade whose plural is known, each by its singular. A name whose
// last noun is none of them stays as it is: it may be a plural already, a word
// of another language, or one that has none.
var pluralOf = func() map[string]string {
	m := map[string]string{"half": "halves", "key half": "key halves", "switch": "switches", "bush": "bushes", "box": "boxes", "boss": "bosses", "brush": "brushes",
		"assembly": "assemblies", "pulley": "pulleys", "key": "keys", "gasket set": "gasket sets"}
	for _, w := range strings.Fields("adapter arm balancer bearing belt block bolt bowl bracket bucket bushing cable camshaft cap carburettor chain circlip clamp clip coil " +
		"collar condenser cone connector cooler cotter cover crankshaft cup cylinder damper deflector dowel fan filter fitting flap flywheel gasket gauge gear " +
		"generator governor guard guide head heater hose housing injector insert jet joint journal kit lamp lead lever lifter line liner link lock magneto manifold mask mount nozzle nut " +
		"pad pan part phaser pickup piece pin pipe piston pivot plate plug port pump pushrod rag rail regulator relay retainer ring rivet rocker rod rotor screen " +
		"screw seal seat sensor set shaft shell shield shim sleeve slinger solenoid spacer spring sprocket stand starter strap strainer stub stud tag tank tappet tensioner " +
		"thermostat tool tray trough tube turbocharger valve washer wedge wheel wire wrench yoke") {
		if _, ok := m[w]; !ok {
			m[w] = w + "s"
		}
	}
	m["wrench"] = "wrenches"
	return m
}()

// joins are the words before which the noun of a name stands: "ring between
// block and cover", "stub of M8x1.25x45".
var joins = []string{" of ", " between ", " for ", " to ", " in ", " on ", " with ", " at ", " from ", " under ", " against ", ", ", " (", ": "}

// Several is a number of things by their name, which is for one: "6 masking
// plugs", "2 O-rings between block and cover", "8 valve springs" where that is
// the name. A name of which no plural is known is written as it is.
func Several(n int, name string) string {
	if n != 1 {
		name = severalOf(name)
	}
	return itoa(n) + " " + name
}

func severalOf(name string) string {
	head, rest := name, ""
	for _, j := range joins {
		if i := strings.Index(head, j); i > 0 {
			head, rest = head[:i], head[i:]+rest
		}
	}
	for i := 1; i < len(head); i++ { // "lock washer 5/16x19/32": the size comes behind
		if word, _, _ := strings.Cut(head[i:], " "); head[i-1] == ' ' && word != "" && word[0] >= '0' && word[0] <= '9' && strings.ContainsAny(word, "x/") {
			head, rest = head[:i-1], head[i-1:]+rest
			break
		}
	}
	at := strings.LastIndexAny(head, " -") + 1
	word := head[at:]
	many, ok := pluralOf[strings.ToLower(word)]
	if !ok {
		return name
	}
	if word[0] != many[0] { // capitals stay
		many = word[:1] + many[1:]
	}
	return head[:at] + many + rest
}
