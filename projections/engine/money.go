package engine

import "countback/projections/money"

// Money is an amount in the smallest unit of a currency.
type Money = money.Money

// ParseMoney reads an amount as people write it: "120", "120,50 EUR".
func ParseMoney(text string) (Money, bool) { return money.Parse(text) }
