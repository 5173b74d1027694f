package code

import "fmt"

// CardRange is the range of the cards that are the same in every shop. No
// terminal has it.
const CardRange = "KK"

// Issuer issues the codes of one range. The zero value issues none.
type Issuer struct{ letters [2]byte }

// NewIssuer is the issuer of a range: two letters without O, I and L, and not
// CardRange.
func NewIssuer(r string) (Issuer, error) {
	switch {
	case len(r) != 2 || !letter(r[0]) || !letter(r[1]):
		return Issuer{}, fmt.Errorf("range %q: want two letters A-Z without I, L and O", r)
	case r == CardRange:
		return Issuer{}, fmt.Errorf("range %q: kept for the cards of every shop; take another", r)
	}
	return Issuer{[2]byte{r[0], r[1]}}, nil
}

// Ranges lists the 528 ranges that terminals may have, in order.
func Ranges() []string {
	var list []string
	for a := byte('A'); a <= 'Z'; a++ {
		for b := byte('A'); b <= 'Z'; b++ {
			if r := string([]byte{a, b}); letter(a) && letter(b) && r != CardRange {
				list = append(list, r)
			}
		}
	}
	return list
}

// Range is the issuer's range.
func (i Issuer) Range() string { return string(i.letters[:]) }

// Issue is the code of a type and counter. ok is false for counters that have
// none, 5 of 36 in each type, since their check character would be a
// look-alike, and for those above 923,520.
func (i Issuer) Issue(t Type, counter uint32) (c Code, ok bool) {
	if !t.Known() || counter >= uint32(counters) || i.letters[0] == 0 {
		return "", false
	}
	var b [Length]byte
	b[0], b[1], b[2] = byte(t), i.letters[0], i.letters[1]
	four := scramble(counter)
	copy(b[3:], four[:])
	check := Check(string(b[:Length-1]))
	if places[check] == 255 {
		return "", false
	}
	b[Length-1] = check
	return Code(b[:]), true
}

// Next is the first code of a type at or after a counter, and the counter that
// it took. ok is false when the range is used up.
func (i Issuer) Next(t Type, from uint32) (c Code, counter uint32, ok bool) {
	for n := from; n < uint32(counters); n++ {
		if c, ok := i.Issue(t, n); ok {
			return c, n, true
		}
		if !t.Known() || i.letters[0] == 0 {
			break
		}
	}
	return "", 0, false
}

// Counter is the counter of a code of this range; ok is false for codes of
// other ranges.
func (i Issuer) Counter(c Code) (counter uint32, ok bool) {
	if c.Range() != i.Range() || c == "" {
		return 0, false
	}
	return c.Counter(), true
}
