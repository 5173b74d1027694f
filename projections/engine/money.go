package engine

import (
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

// ParseMoney reads an amount as people write it: "120", "120.50", "120,50 EUR",
// "EUR 120.5". Decimals are at most two; the currency is letters or one sign,
// before or behind, and may be left out. false: it is no amount.
func ParseMoney(text string) (Money, bool) {
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
	cents := itoa(int(n % 100))
	if len(cents) < 2 {
		cents = "0" + cents
	}
	text := sign + itoa(int(n/100)) + "." + cents
	if m.Currency != "" {
		text += " " + m.Currency
	}
	return text
}
