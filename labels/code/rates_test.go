package code

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// issued are the first n codes of a type and range, as a terminal gives them
// out.
func issued(t testing.TB, ty Type, r string, n int) []Code {
	t.Helper()
	i := issuer(t, r)
	var list []Code
	for at := uint32(0); len(list) < n; at++ {
		c, used, ok := i.Next(ty, at)
		require.True(t, ok)
		list = append(list, c)
		at = used
	}
	return list
}

func passes(b []byte) bool {
	_, err := Parse(string(b))
	return err == nil
}

// The product after a character is another for every other character and for
// every other product before it. So one wrong character, wherever it is, leaves
// a wrong product to the end.
func TestOneWrongCharacterIsAlwaysFound(t *testing.T) {
	for p := 1; p <= 36; p++ {
		byValue, byProduct := map[int]bool{}, map[int]bool{}
		for v := range 36 {
			byValue[step(p, v)] = true
			byProduct[step(v+1, p-1)] = true
		}
		require.Len(t, byValue, 36)
		require.Len(t, byProduct, 36)
	}
	for _, ty := range Types() {
		for _, c := range issued(t, ty, "HT", 40) {
			for at := range Length {
				b := []byte(c)
				for i := range len(characters) {
					b[at] = characters[i]
					require.Equal(t, b[at] == c[at], passes(b), "%s for %s", b, c)
				}
			}
		}
	}
}

// Neighbours swapped: at most 0.12 % go unnoticed.
func TestSwappedNeighbours(t *testing.T) {
	tried, missed := 0, 0
	for _, ty := range Types() {
		for _, r := range []string{"AA", "HT", "ZN", "QK"} {
			for _, c := range issued(t, ty, r, 500) {
				for at := range Length - 1 {
					b := []byte(c)
					if b[at] == b[at+1] {
						continue
					}
					b[at], b[at+1] = b[at+1], b[at]
					tried++
					if passes(b) {
						missed++
					}
				}
			}
		}
	}
	rate := float64(missed) / float64(tried)
	t.Logf("neighbours swapped: %d of %d unnoticed, %.3f %%", missed, tried, 100*rate)
	require.LessOrEqual(t, rate, 0.0012)
}

// Two wrong characters, all pairs of places and all values, from all 36
// characters and from the 31 of ours: at most 2.9 % go unnoticed, and none of
// those is another of the first 961 bags.
func TestTwoWrongCharacters(t *testing.T) {
	first := issued(t, Bag, "HT", 790)
	require.Less(t, first[len(first)-1].Counter(), uint32(961))
	others := map[Code]bool{}
	for _, c := range first {
		others[c] = true
	}
	for _, from := range []string{characters, alphabet} {
		tried, missed := 0, 0
		for n := 0; n < len(first); n += 61 {
			for a := range Length {
				for b := range a {
					twoWrong(first[n], a, b, from, func(text []byte) {
						tried++
						if passes(text) {
							missed++
							require.False(t, others[Code(text)], "%s for %s", text, first[n])
						}
					})
				}
			}
		}
		rate := float64(missed) / float64(tried)
		t.Logf("two wrong of %d characters: %d of %d unnoticed, %.2f %%", len(from), missed, tried, 100*rate)
		require.LessOrEqual(t, rate, 0.029)
		require.Positive(t, missed)
	}
}

// twoWrong gives every text with other characters at two places.
func twoWrong(c Code, a, b int, from string, give func([]byte)) {
	text := []byte(c)
	for i := range len(from) {
		for j := range len(from) {
			if from[i] == c[a] || from[j] == c[b] {
				continue
			}
			text[a], text[b] = from[i], from[j]
			give(text)
		}
	}
}

// Cut off at either end, or run together with the next: never a code.
func TestCutAndRunTogether(t *testing.T) {
	codes := issued(t, Joint, "HT", 60)
	for _, c := range codes {
		for n := range Length {
			require.False(t, passes([]byte(c[:n])))
			require.False(t, passes([]byte(c[Length-n:])))
		}
		for _, d := range codes {
			require.False(t, passes([]byte(c+d)))
			for n := 1; n < Length; n++ {
				require.False(t, passes([]byte(c+d[:n])))
				require.False(t, passes([]byte(c[n:]+d)))
			}
		}
	}
}

// Of all texts of eight characters from 0-9 and A-Z, counted exactly over the
// products: at most 0.4 % have the shape and the check of ours; with the ranges
// of ten terminals and the cards, one in twelve thousand and fewer.
func TestForeignCodesOfOurLength(t *testing.T) {
	count := map[int]float64{36: 1}
	for at := range Length - 1 {
		next := map[int]float64{}
		for p, n := range count {
			for v := range 36 {
				c := characters[v]
				fits := places[c] != 255
				if at < 3 {
					fits = letter(c)
				}
				if fits {
					next[step(p, v)] += n
				}
			}
		}
		count = next
	}
	pass, all := 0.0, 1.0
	for p, n := range count {
		if places[characters[(37-p)%36]] != 255 {
			pass += n
		}
	}
	for range Length {
		all *= 36
	}
	rate := pass / all
	t.Logf("foreign codes of our length: %.3f %%, in one of 11 ranges %.5f %%", 100*rate, 100*rate*11/529)
	require.LessOrEqual(t, rate, 0.004)
	require.LessOrEqual(t, rate*11/529, 1.0/12000)

	// The same by trying: a fixed walk over the texts that any stride visits.
	tried, passed := 0, 0
	x := uint64(88172645463325252)
	for range 400000 {
		x ^= x << 13
		x ^= x >> 7
		x ^= x << 17
		var b [Length]byte
		for i, y := 0, x>>11; i < Length; i, y = i+1, y/36 {
			b[i] = characters[y%36]
		}
		tried++
		if passes(b[:]) {
			passed++
		}
	}
	require.InDelta(t, rate, float64(passed)/float64(tried), 0.0004)
}

// A label torn at its end and completed by guess: how often it is another bag
// that was issued. With the counter in plain order 2 % and more of misreads of
// the last two characters are; scrambled, none.
func TestTornLabels(t *testing.T) {
	plainHits, plainTried := torn(plainCodes(t, 961), 2)
	plain := float64(plainHits) / float64(plainTried)
	t.Logf("counter in plain order, last two: %.2f %% another bag", 100*plain)
	require.Greater(t, plain, 0.015)

	for lost := 1; lost <= 3; lost++ {
		hits, tried := torn(issued(t, Bag, "HT", 790), lost)
		require.Zero(t, hits, "of %d with the last %d lost", tried, lost)
	}
	hits, tried := torn(issued(t, Bag, "HT", 20000), 2)
	require.Zero(t, hits, "of %d", tried)
	hits, tried = torn(issued(t, Bag, "HT", 4000), 3)
	t.Logf("last three of 4,000 bags: %.4f %% another bag", 100*float64(hits)/float64(tried))
	require.LessOrEqual(t, float64(hits)/float64(tried), 0.0001)
}

// torn counts, over all other endings of so many characters, those that give
// another of the codes.
func torn(codes []Code, lost int) (hits, tried int) {
	heads := map[Code]int{}
	for _, c := range codes {
		heads[c[:Length-lost]]++
	}
	endings := 1
	for range lost {
		endings *= 36
	}
	for _, n := range heads {
		hits += n * (n - 1)
		tried += n * (endings - 1)
	}
	return hits, tried
}

// plainCodes are codes with the counter's digits as they come, for comparison.
func plainCodes(t *testing.T, n int) []Code {
	t.Helper()
	var list []Code
	for counter := 0; len(list) < n; counter++ {
		b := []byte("BHT2222")
		for i, rest := 6, counter; i > 2; i, rest = i-1, rest/base {
			b[i] = alphabet[rest%base]
		}
		if check := Check(string(b)); places[check] != 255 {
			list = append(list, Code(append(b, check)))
		}
	}
	return list
}
