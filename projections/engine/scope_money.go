package engine

import "countback/projections/plan"

// ScopeMoney is what a way costs there and back, as far as anybody has said:
// what is not known is counted and never guessed.
type ScopeMoney struct {
	Pieces  Money // of the single-use pieces that have a price, whether they are here or to be bought
	NoPrice int   // single-use pieces without a price in the shop's currency
	Work    Money // of the minutes that the plan gives, at the shop's rate
	NoTime  int   // steps there and back for which the plan gives no minutes
	NoRate  bool  // the shop has set no rate: what work costs is not known
}

// Sum is what is known of it; all says that nothing is unknown.
func (m *ScopeMoney) Sum() (sum Money, all bool) {
	sum, _ = m.Pieces.Add(m.Work)
	return sum, m.NoPrice == 0 && m.NoTime == 0 && !m.NoRate
}

// PiecesWords is "61.00 EUR + 3 unknown", the number of pieces without a price.
func (m *ScopeMoney) PiecesWords() string { return knownWords(m.Pieces, m.NoPrice) }

// WorkWords is "212.50 EUR + 2 unknown", the number of steps without minutes.
func (m *ScopeMoney) WorkWords() string {
	if m.NoRate {
		return "unknown, no rate"
	}
	return knownWords(m.Work, m.NoTime)
}

// SumWords is "273.50 EUR", or "273.50 EUR or more" where something is not in it.
func (m *ScopeMoney) SumWords() string {
	sum, all := m.Sum()
	switch {
	case all:
		return sum.String()
	case sum.Amount == 0:
		return "unknown"
	}
	return sum.String() + " or more"
}

func knownWords(m Money, unknown int) string {
	switch {
	case unknown == 0:
		return m.String()
	case m.Amount == 0:
		return itoa(unknown) + " unknown"
	}
	return m.String() + " + " + itoa(unknown) + " unknown"
}

// scopeMoney adds up what a way costs. A piece that is priced in another
// currency than the shop's has no price here: nobody has said the rate.
func (s *State) scopeMoney(w *ScopeWay) ScopeMoney {
	own := s.currency()
	m := ScopeMoney{Pieces: Money{Currency: own}, Work: Money{Currency: own}}
	for i := range w.Uses {
		u := &w.Uses[i]
		if !u.Priced {
			m.NoPrice += u.Used
			continue
		}
		m.Pieces.Amount += u.Each.Times(u.Used).Amount
	}
	for _, list := range [][]ScopeStep{w.Steps, w.Back} {
		for i := range list {
			if list[i].Minutes == 0 {
				m.NoTime++
			}
		}
	}
	rate := s.job.Limits().Hour
	if m.NoRate = rate.Amount == 0 || rate.Currency != "" && rate.Currency != own; !m.NoRate {
		m.Work.Amount = rate.PerHour(w.Minutes + w.BackMinutes).Amount
	}
	return m
}

// currency is the shop's: as it is set, or that of its rate, or else the first
// that the plan gives a price in.
func (s *State) currency() string {
	l := s.job.Limits()
	for _, c := range []string{l.Currency, l.Hour.Currency} {
		if c != "" {
			return c
		}
	}
	for i := range s.lay.plan.Prices {
		if c := s.lay.plan.Prices[i].Each.Currency; c != "" {
			return c
		}
	}
	return ""
}

// priced fills in what one piece of each use costs, where the plan says so in
// the shop's currency.
func (s *State) priced(uses []ScopeUse) {
	own, p := s.currency(), s.lay.plan
	for i := range uses {
		u := &uses[i]
		each, ok := p.KindPrice(u.Kind)
		if u.Part {
			each, ok = Money{}, false
			if ix, known := s.lay.partKind[u.Kind]; known {
				each, ok = p.PartPrice(plan.PartIndex(ix))
			}
		}
		if each.Currency == "" {
			each.Currency = own
		}
		if ok && each.Currency == own {
			u.Each, u.Priced = each, true
		}
	}
}
