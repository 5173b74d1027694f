package main

import (
	"fmt"
	"maps"
	"regexp"
	"slices"

	"github.com/spf13/viper"

	"countback/projections/engine"
)

// currencyForm is how a currency is written: the three letters of ISO 4217.
var currencyForm = regexp.MustCompile(`^[A-Z]{3}$`)

// readMoney reads what the shop reckons in and what an hour of work costs, under
// the key money of the settings file, into the shop's limits; these are the
// usual ones where the settings name none.
func readMoney(v *viper.Viper, file string, to *engine.Limits) (*engine.Limits, error) {
	set := v.Get("money")
	if set == nil {
		return to, nil
	}
	m, ok := set.(map[string]any)
	if !ok {
		return nil, usage("settings file %s: money: want keys and values, as in: money: {currency: EUR, hour: 85}", file)
	}
	l := engine.UsualLimits()
	if to != nil {
		l = *to
	}
	for _, k := range slices.Sorted(maps.Keys(m)) {
		text := fmt.Sprint(m[k])
		switch k {
		case "currency":
			if !currencyForm.MatchString(text) {
				return nil, usage("settings file %s: money: currency %q: want three capital letters, as in EUR", file, text)
			}
			l.Currency = text
		case "hour":
			rate, ok := engine.ParseMoney(text)
			if !ok {
				return nil, usage("settings file %s: money: hour %q: want what an hour of work costs, with at most two decimals, as in 85.00", file, text)
			}
			l.Hour = rate
		default:
			return nil, usage("settings file %s: there is no %q under money; there are: currency, hour", file, k)
		}
	}
	switch {
	case l.Hour.Currency == "":
		l.Hour.Currency = l.Currency
	case l.Currency != "" && l.Hour.Currency != l.Currency:
		return nil, usage("settings file %s: money: hour is in %s, the shop reckons in %s", file, l.Hour.Currency, l.Currency)
	}
	return &l, nil
}
