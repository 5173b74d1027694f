package money

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestMoneyAsPeopleWriteIt(t *testing.T) {
	for text, want := range map[string]string{
		"120": "120.00", "120.5": "120.50", "120,50 EUR": "120.50 EUR", "EUR 120.05": "120.05 EUR", "0": "0.00", "$7": "7.00 $",
		" 95.00  eur ": "95.00 eur", "0.07": "0.07", "007": "7.00",
	} {
		m, ok := Parse(text)
		require.True(t, ok, text)
		require.Equal(t, want, m.String(), text)
	}
	for _, bad := range []string{"", "EUR", "120.505", "1.2.3", "1,234.50", "EUR 5 USD", "-5", "12 34", "1e3", "99999999999", "5 no pulley", "1.-"} {
		m, ok := Parse(bad)
		require.False(t, ok, "%q is %v", bad, m)
	}
	require.Equal(t, "-5.00 EUR", Money{-500, "EUR"}.String())
}

func TestMoneyIsReadAsItIsWritten(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m := Money{rapid.Int64Range(0, 100*maxMoney).Draw(r, "n"), rapid.SampledFrom([]string{"", "EUR", "kr"}).Draw(r, "c")}
		got, ok := Parse(m.String())
		require.True(r, ok)
		require.Equal(r, m, got)
	})
}

func TestMoneySums(t *testing.T) {
	require.Equal(t, Money{1050, "EUR"}, Money{350, "EUR"}.Times(3))
	// 85.00 an hour: 20 minutes are 28.33, 50 are 70.83, 30 are half of it.
	for minutes, want := range map[int]int64{0: 0, 20: 2833, 50: 7083, 30: 4250, 60: 8500, 90: 12750} {
		require.Equal(t, Money{want, "EUR"}, Money{8500, "EUR"}.PerHour(minutes), minutes)
	}
	sum, ok := Money{100, "EUR"}.Add(Money{5, "EUR"})
	require.True(t, ok)
	require.Equal(t, Money{105, "EUR"}, sum)
	sum, ok = Money{}.Add(Money{5, "EUR"})
	require.True(t, ok)
	require.Equal(t, Money{5, "EUR"}, sum)
	_, ok = Money{100, "EUR"}.Add(Money{5, "USD"})
	require.False(t, ok, "amounts of two currencies make no sum")
}
