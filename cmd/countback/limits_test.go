package main

import (
	"os"
	"testing"
	"time"

	"github.com/spf13/viper"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/kiosk"
	"countback/labels/code"
	"countback/testdata/plans"
)

func TestLimitsOfTheShop(t *testing.T) {
	read := func(text string) (*viper.Viper, string) {
		file := t.TempDir() + "/settings.yaml"
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		v := viper.New()
		v.SetConfigFile(file)
		require.NoError(t, v.ReadInConfig())
		return v, file
	}
	l, err := readLimits(read("shop: hill\n"))
	require.NoError(t, err)
	require.Nil(t, l)
	l, err = readLimits(read("limits: {alone-gap: 90m, count-age: 3d, failed-methods: 4, minutes: 0}\n"))
	require.NoError(t, err)
	require.Equal(t, 90*time.Minute, l.AloneGap)
	require.Equal(t, 72*time.Hour, l.CountAge)
	require.Equal(t, []int{4, 0}, []int{l.FailedMethods, l.Minutes})
	l, err = readLimits(read("limits: {output-units: HP  lbf.ft}\n"))
	require.NoError(t, err)
	require.Equal(t, "hp lbf.ft", l.OutputUnits)
	for text, want := range map[string]string{
		"limits: {output-units: donkeys}\n": `"donkeys": want one of kW N.m, hp lbf.ft, PS N.m`,
		"limits: 4h\n":                      "want keys and values",
		"limits: {alone: 4h}\n":             `there is no limit "alone"; there are: alone-gap, bare-iron, count-age`,
		"limits: {alone-gap: soon}\n":       `limit alone-gap: "soon": want a time`,
		"limits: {alone-gap: -4h}\n":        "want a time",
		"limits: {minutes: 1.5}\n":          "want a whole number",
		"limits: {count-age: -3d}\n":        "want a time",
		"limits: {failed-methods: x}\n":     "want a whole number",
	} {
		_, err := readLimits(read(text))
		require.ErrorContains(t, err, want, text)
	}
}

// The limit is the one of the settings at the bench: who is alone waits for as
// long as the shop says.
func TestAloneAtABenchGoesByTheShopsLimit(t *testing.T) {
	for _, row := range []struct {
		gap    string
		passes bool
	}{{"1h", true}, {"6h", false}, {"0", false}} {
		v := viper.New()
		v.Set("limits", map[string]any{"alone-gap": row.gap})
		l, err := readLimits(v, "settings.yaml")
		require.NoError(t, err)
		clock := time.Date(2025, 5, 12, 8, 0, 0, 0, time.UTC).UnixMicro()
		term, err := sitDown(t.Context(), journal.NewMemory(), nil, settings{Shop: "hill", Limits: l}, "b1", map[string]string{"sorrel": plans.Sorrel}, func() int64 { return clock })
		require.NoError(t, err)
		scan := func(lines ...string) (v kiosk.View) {
			for _, line := range lines {
				clock += 2_000_000
				v, err = term.Scan(t.Context(), line)
				require.NoError(t, err, line)
			}
			return v
		}
		scan("job 4K7", "engine Sorrel I4-20", "plan sorrel", "OPEN JOB")
		issuer, err := code.NewIssuer(code.Ranges()[0])
		require.NoError(t, err)
		label := func(typ code.Type, n uint32) string {
			c, _, ok := issuer.Next(typ, n)
			require.True(t, ok)
			return string(c)
		}
		badge, bag, other := label(code.Badge, 0), label(code.Bag, 0), label(code.Bag, 20)
		scan(badge, "LABEL", "text Siri", "badge Siri", "part front-cover", "CATCH UP", "joint front-cover", bag, "1", "8", "4", "5", "4", "joint head-front", other, "4",
			"part cover-rings", "ON", "part front-cover", "ON", other, "joint head-front", "ALL IN", bag, "joint front-cover", "ALL IN")
		for range 3 {
			scan("joint front-cover", "STAGE")
		}
		scan("joint head-front", "STAGE")
		clock += (2 * time.Hour).Microseconds()
		view := scan("badge Siri", "step cover-on", "GATE", "badge Siri", "22")
		require.Equal(t, row.passes, view.Sign != kiosk.Stop, "gap %s: %v", row.gap, view.Lines)
	}
}
