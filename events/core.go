package events

// CoreAgreed says on what terms an old part goes back to who sold the new one.
// What was agreed last on a part stands.
type CoreAgreed struct {
	Part     Part   `json:"part"`
	Supplier string `json:"supplier"`
	Deposit  int64  `json:"deposit,omitempty"`  // in the smallest unit of the currency (cents); 0: none, or not said
	Currency string `json:"currency,omitempty"` // as it was written: "EUR"
	Due      Day    `json:"due,omitempty"`      // back by this day; empty: no day was said
	With     []Part `json:"with,omitempty"`     // parts that must be with it for the whole deposit
	Whole    bool   `json:"whole,omitempty"`    // it must not be taken apart
}

// CoreSent says that an old part left for who takes it back.
type CoreSent struct {
	Part Part   `json:"part"`
	Note string `json:"note,omitempty"`
}

// CoreCredited says what was paid back for an old part.
type CoreCredited struct {
	Part     Part        `json:"part"`
	Credit   int64       `json:"credit"` // in the smallest unit of the currency
	Currency string      `json:"currency,omitempty"`
	Off      []Deduction `json:"off,omitempty"`
}

// Deduction is money that was taken off, and why.
type Deduction struct {
	Amount int64  `json:"amount"` // in the smallest unit of the currency
	Why    string `json:"why"`
}

func (CoreAgreed) event()   {}
func (CoreSent) event()     {}
func (CoreCredited) event() {}
