// Package money knows amounts of money: how people write them, and sums that
// are exact. It refuses to know prices, rates of exchange, and what anything is
// for: amounts in two currencies are never added.
package money

import (
	"strconv"
	"strings"
)

// Money is an amount in the smallest unit of a currency (cents of a euro or a
// dollar), with the currency as it was written. A currency has a hundred of
// them.
type Money struct {
	Amount   int64
	Currency string
}

// maxMoney bounds an amount, in whole units.
const maxMoney = 100_000_000

// Parse reads an amount as people write it: "120", "120.50", "120,50 EUR",
// "EUR 120.5". Decimals are at most two; the currency is letters or one sign,
// before or behind, and may be left out. false: it is no amount.
func Parse(text string) (Money, bool) {
	text = strings.TrimSpace(text)
	from, to := -1, -1
	for i := range len(text) {
		if c := text[i]; c >= '0' && c <= '9' {
			if from < 0 {
				from = i
			}
			to = i + 1
		}
	}
	if from < 0 {
		return Money{}, false
	}
	before, after := strings.TrimSpace(text[:from]), strings.TrimSpace(text[to:])
	m := Money{Currency: before + after}
	if before != "" && after != "" || len(m.Currency) > 8 || strings.ContainsAny(m.Currency, " .,;-+0123456789") {
		return Money{}, false
	}
	var ok bool
	m.Amount, ok = minorUnits(text[from:to])
	return m, ok
}

// minorUnits reads "120", "120.5" and "120,50".
func minorUnits(text string) (int64, bool) {
	whole, part, point := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	if point && (len(part) == 0 || len(part) > 2) || whole == "" || len(whole) > 9 {
		return 0, false
	}
	n := int64(0)
	for _, c := range (whole + part + "00")[:len(whole)+2] {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + int64(c-'0')
	}
	if !digits(whole+part) || n > 100*maxMoney {
		return 0, false
	}
	return n, true
}

func digits(text string) bool {
	for _, c := range text {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// String is the amount with two decimals and its currency: "120.50 EUR".
func (m Money) String() string {
	sign, n := "", m.Amount
	if n < 0 {
		sign, n = "-", -n
	}
	cents := strconv.Itoa(int(n % 100))
	if len(cents) < 2 {
		cents = "0" + cents
	}
	text := sign + strconv.Itoa(int(n/100)) + "." + cents
	if m.Currency != "" {
		text += " " + m.Currency
	}
	return text
}

// Times is the amount so many times.
func (m Money) Times(n int) Money { return Money{m.Amount * int64(n), m.Currency} }

// PerHour is what so many minutes cost at m an hour, rounded to the nearest
// smallest unit, halves up.
func (m Money) PerHour(minutes int) Money {
	return Money{(m.Amount*int64(minutes) + 30) / 60, m.Currency}
}

// Add is the sum of two amounts of one currency; ok is false where they are of
// two. Nothing at all is of any currency.
func (m Money) Add(o Money) (sum Money, ok bool) {
	switch {
	case o == Money{}:
		return m, true
	case m == Money{}:
		return o, true
	}
	return Money{m.Amount + o.Amount, m.Currency}, m.Currency == o.Currency
}
