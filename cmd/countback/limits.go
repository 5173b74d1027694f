package main

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/viper"

	"countback/projections/engine"
)

// limitKeys are the numbers that a shop sets for its own rules, under the key
// limits of the settings file.
var limitKeys = map[string]func(*engine.Limits, string) error{
	"failed-methods": func(l *engine.Limits, v string) error { return wholeLimit(&l.FailedMethods, v) },
	"minutes":        func(l *engine.Limits, v string) error { return wholeLimit(&l.Minutes, v) },
	"count-age":      func(l *engine.Limits, v string) error { return timeLimit(&l.CountAge, v) },
	"alone-gap":      func(l *engine.Limits, v string) error { return timeLimit(&l.AloneGap, v) },
	"bare-iron":      func(l *engine.Limits, v string) error { return timeLimit(&l.BareIron, v) },
	"oiled":          func(l *engine.Limits, v string) error { return timeLimit(&l.Oiled, v) },
	"output-units":   outputUnits,
	"desiccant":      func(l *engine.Limits, v string) error { return timeLimit(&l.Desiccant, v) },
}

// outputUnits reads the units of power and torque: "hp lbf.ft".
func outputUnits(l *engine.Limits, text string) error {
	for _, pair := range engine.OutputPairs() {
		if strings.EqualFold(strings.Join(strings.Fields(text), " "), pair) {
			l.OutputUnits = pair
			return nil
		}
	}
	return fmt.Errorf("%q: want one of %s", text, strings.Join(engine.OutputPairs(), ", "))
}

func wholeLimit(to *int, text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return fmt.Errorf("%q: want a whole number, or 0 for never", text)
	}
	*to = n
	return nil
}

// timeLimit reads 90m, 4h or 14d.
func timeLimit(to *time.Duration, text string) error {
	if days, ok := strings.CutSuffix(text, "d"); ok {
		if n, err := strconv.Atoi(days); err == nil && n >= 0 && n < 100_000 {
			*to = time.Duration(n) * 24 * time.Hour
			return nil
		}
	}
	d, err := time.ParseDuration(text)
	if err != nil || d < 0 {
		return fmt.Errorf("%q: want a time such as 90m, 4h or 14d, or 0 for never", text)
	}
	*to = d
	return nil
}

// readPause reads the longest pause inside an angle stage, which has a setting of
// its own, into the shop's limits.
func readPause(v *viper.Viper, l *engine.Limits) (*engine.Limits, error) {
	text := v.GetString("pause")
	if text == "" {
		return l, nil
	}
	own := engine.UsualLimits()
	if l != nil {
		own = *l
	}
	if err := timeLimit(&own.AnglePause, text); err != nil {
		return nil, usage("setting pause: %w", err)
	}
	return &own, nil
}

// readLimits reads the shop's own limits; nil where the settings name none.
func readLimits(v *viper.Viper, file string) (*engine.Limits, error) {
	set := v.Get("limits")
	if set == nil {
		return nil, nil
	}
	m, ok := set.(map[string]any)
	if !ok {
		return nil, usage("settings file %s: limits: want keys and values, as in: limits: {alone-gap: 4h}", file)
	}
	l := engine.UsualLimits()
	for _, k := range slices.Sorted(maps.Keys(m)) {
		read, ok := limitKeys[k]
		if !ok {
			return nil, usage("settings file %s: there is no limit %q; there are: %s", file, k, strings.Join(slices.Sorted(maps.Keys(limitKeys)), ", "))
		}
		if err := read(&l, fmt.Sprint(m[k])); err != nil {
			return nil, usage("settings file %s: limit %s: %w", file, k, err)
		}
	}
	return &l, nil
}
