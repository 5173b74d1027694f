package main

import (
	"os"
	"testing"

	"github.com/spf13/viper"
	"github.com/stretchr/testify/require"

	"countback/projections/engine"
)

func TestMoneyOfTheShop(t *testing.T) {
	read := func(text string) (*engine.Limits, error) {
		file := t.TempDir() + "/settings.yaml"
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		v := viper.New()
		v.SetConfigFile(file)
		require.NoError(t, v.ReadInConfig())
		limits, err := readLimits(v, file)
		require.NoError(t, err)
		return readMoney(v, file, limits)
	}
	l, err := read("shop: hill\n")
	require.NoError(t, err)
	require.Nil(t, l)
	for text, want := range map[string]engine.Money{
		"money: {currency: EUR, hour: 85}\n":        {Amount: 8500, Currency: "EUR"},
		"money: {currency: EUR, hour: 72.50}\n":     {Amount: 7250, Currency: "EUR"},
		"money: {hour: \"690,5 NOK\"}\n":            {Amount: 69050, Currency: "NOK"},
		"money: {currency: EUR}\n":                  {Currency: "EUR"},
		"money: {currency: GBP, hour: GBP 60.00}\n": {Amount: 6000, Currency: "GBP"},
	} {
		l, err := read(text)
		require.NoError(t, err, text)
		require.Equal(t, want, l.Hour, text)
		require.Equal(t, engine.UsualLimits().CountAge, l.CountAge, "what is not named stays as usual")
	}
	l, err = read("limits: {minutes: 5}\nmoney: {currency: EUR}\n")
	require.NoError(t, err)
	require.Equal(t, 5, l.Minutes)
	for text, want := range map[string]string{
		"money: 85\n":                            "want keys and values",
		"money: {currency: euro}\n":              "want three capital letters",
		"money: {hour: cheap}\n":                 "want what an hour of work costs",
		"money: {hour: 85.125}\n":                "at most two decimals",
		"money: {hour: -5}\n":                    "want what an hour of work costs",
		"money: {day: 600}\n":                    `there is no "day" under money; there are: currency, hour`,
		"money: {currency: EUR, hour: 85 USD}\n": "hour is in USD, the shop reckons in EUR",
	} {
		_, err := read(text)
		require.ErrorContains(t, err, want, text)
	}
}
