package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/viper"

	"countback/projections/engine"
)

// shopUnits are the units that a shop may have, by what they measure.
var shopUnits = map[string][]string{"length": {"mm", "in"}, "torque": {"N.m", "lbf.ft", "lbf.in"}}

// readShopUnits reads the units that a shop works in into its limits: keys and
// values in the settings file, a text as in "lbf.ft in" as a flag or in the
// environment. They decide where the plan has no units of its own.
func readShopUnits(v *viper.Viper, file string, to *engine.Limits) (*engine.Limits, error) {
	said := map[string]string{}
	switch set := v.Get("units").(type) {
	case nil:
		return to, nil
	case map[string]any:
		for k, one := range set {
			said[k] = fmt.Sprint(one)
		}
	default:
		for _, word := range strings.Fields(strings.ReplaceAll(fmt.Sprint(set), ",", " ")) {
			of := measuredIn(word)
			if of == "" || said[of] != "" {
				return nil, usage("setting units: %q: want a unit of torque and one of length, as in %q", set, "lbf.ft in")
			}
			said[of] = word
		}
	}
	if len(said) == 0 {
		return to, nil
	}
	l := engine.UsualLimits()
	if to != nil {
		l = *to
	}
	for _, k := range slices.Sorted(maps.Keys(said)) {
		list, ok := shopUnits[k]
		switch {
		case !ok:
			return nil, usage("settings file %s: there is no %q under units; there are: length, torque", file, k)
		case !slices.Contains(list, said[k]):
			return nil, usage("settings file %s: units: %s %q: want one of %s", file, k, said[k], strings.Join(list, ", "))
		}
	}
	l.Length, l.Torque = said["length"], said["torque"]
	return &l, nil
}

// measuredIn is what a unit measures: length, torque; empty: neither.
func measuredIn(unit string) string {
	for of, list := range shopUnits {
		if slices.Contains(list, unit) {
			return of
		}
	}
	return ""
}
