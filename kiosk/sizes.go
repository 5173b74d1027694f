package kiosk

import (
	"strings"

	"countback/events"
	"countback/projections/fastener"
)

// ShortNames are the names of sizes as one calls them at the bench, as short
// as they can be told apart: "M6, M8 short, M8 long, M10".
func ShortNames(kinds []events.Kind) []string {
	specs := make([]fastener.Spec, len(kinds))
	names, base := make([]string, len(kinds)), make([]string, len(kinds))
	for i, k := range kinds {
		r := readSpec(k)
		specs[i], base[i] = r.spec, r.base
	}
	for i := range names {
		names[i] = apart(i, specs, base)
	}
	return unique(names, kinds)
}

// baseName is the thread's diameter, with the form where it is no bolt.
func baseName(sp fastener.Spec) string {
	d, _, _ := strings.Cut(sp.Thread.String(), "x")
	if sp.Form == fastener.Bolt || sp.Form == fastener.AnyForm {
		return d
	}
	if sp.Use != "" {
		return sp.Use + " " + string(sp.Form)
	}
	return d + " " + string(sp.Form)
}

// apart tells a size from those with the same base name: by two lengths short
// and long, by more its length, else by its whole text.
func apart(i int, specs []fastener.Spec, base []string) string {
	var lengths []float64
	for j := range base {
		if base[j] == base[i] {
			lengths = append(lengths, specs[j].LengthMm)
		}
	}
	switch {
	case len(lengths) == 1:
		return base[i]
	case len(lengths) == 2 && lengths[0] != lengths[1]:
		if specs[i].LengthMm == min(lengths[0], lengths[1]) {
			return base[i] + " short"
		}
		return base[i] + " long"
	}
	return specs[i].Size()
}

// unique falls back to the whole text where two names came out equal.
func unique(names []string, kinds []events.Kind) []string {
	seen := map[string]int{}
	for _, n := range names {
		seen[n]++
	}
	for i, n := range names {
		if seen[n] > 1 || n == "" {
			names[i] = string(kinds[i])
		}
	}
	return names
}
