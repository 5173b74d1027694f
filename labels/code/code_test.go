package code

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func issuer(t testing.TB, r string) Issuer {
	t.Helper()
	i, err := NewIssuer(r)
	require.NoError(t, err)
	return i
}

// ISO 7064 MOD 37,36. The first is the example of ISO 15706, as in the public
// python-stdnum; the second stands in public code.
func TestCheckVectors(t *testing.T) {
	require.Equal(t, "M", string(Check("A12425GABC1234002")))
	require.Equal(t, "5", string(Check("12CD")))
	require.Zero(t, Check("12-CD"))
	require.Zero(t, Check("12cd"))
}

// The standard defines a string with its check by a product that ends at one;
// trying all 36 characters finds the one that Check computes.
func TestCheckAgreesWithTheDefinition(t *testing.T) {
	right := func(s string) bool {
		p := 36
		for _, c := range s[:len(s)-1] {
			p = (p+strings.IndexRune(characters, c)-1)%36 + 1
			p = p * 2 % 37
		}
		return (p+strings.IndexByte(characters, s[len(s)-1]))%36 == 1
	}
	rapid.Check(t, func(t *rapid.T) {
		body := rapid.StringMatching(`[0-9A-Z]{0,20}`).Draw(t, "body")
		var found []byte
		for i := range len(characters) {
			if right(body + characters[i:i+1]) {
				found = append(found, characters[i])
			}
		}
		require.Equal(t, []byte{Check(body)}, found)
	})
}

func TestTypes(t *testing.T) {
	require.Len(t, Types(), 23)
	require.Len(t, typeWords, 23)
	words := map[string]bool{}
	for _, ty := range Types() {
		require.NotContains(t, ty.String(), "type ")
		words[ty.String()] = true
		require.NotContains(t, "0O1IL", string(rune(ty)))
	}
	require.Len(t, words, 23)
	require.False(t, Type('I').Known())
	require.Equal(t, `type '7'`, Type('7').String())
	// A leading I leaves the product where it starts.
	require.Equal(t, Check("HT7K2M"), Check("IHT7K2M"))
}

func TestParse(t *testing.T) {
	c, ok := issuer(t, "HT").Issue(Bag, 7)
	require.True(t, ok)
	for _, text := range []string{string(c), strings.ToLower(string(c)), " " + string(c) + "\r\n", "\t" + strings.ToLower(string(c[:4])) + string(c[4:])} {
		got, err := Parse(text)
		require.NoError(t, err)
		require.Equal(t, c, got)
	}
	require.Equal(t, Bag, c.Type())
	require.Equal(t, "HT", c.Range())
	require.Equal(t, uint32(7), c.Counter())
	require.Equal(t, Type(0), Code("").Type())
	require.Equal(t, "", Code("").Range())
	require.Zero(t, Code("").Counter())
}

func TestParseRefuses(t *testing.T) {
	c, _ := issuer(t, "HT").Issue(Bag, 7)
	wrong := []byte(c)
	wrong[5] = alphabet[(int(places[wrong[5]])+1)%base]
	for _, row := range []struct {
		text  string
		fault Fault
		why   string
	}{
		{"", Foreign, "0 characters"},
		{string(c[:7]), Foreign, "7 characters, ours have 8"},
		{string(c) + string(c), Foreign, "16 characters"},
		{string(wrong), Misread, "scan it again"},
		{"BHT0234Z", Foreign, "character 4 is none that ours have"},
		{"BHT-234Z", Foreign, "character 4"},
		{"OHT2345Z", Foreign, "character 1"},
		{"2HT2345Z", Foreign, "begins with a digit"},
		{"B2T2345Z", Foreign, "second and third"},
		{"BH22345Z", Foreign, "second and third"},
		{"40123455", Foreign, "character 2"},
		{"ſ" + string(c[1:]), Foreign, "8 characters"},
	} {
		_, err := Parse(row.text)
		var wrong *Error
		require.ErrorAs(t, err, &wrong, row.text)
		require.Equal(t, row.fault, wrong.Fault, row.text)
		require.Equal(t, row.text, wrong.Text)
		require.Contains(t, err.Error(), row.fault.String())
		if row.text != "ſ"+string(c[1:]) {
			require.Contains(t, err.Error(), row.why)
		}
	}
}

func TestIssuer(t *testing.T) {
	for _, bad := range []string{"", "A", "ABC", "A2", "aB", "OA", "AI", "LL", "KK"} {
		_, err := NewIssuer(bad)
		require.ErrorContains(t, err, "range", bad)
	}
	ranges := Ranges()
	require.Len(t, ranges, 528)
	require.NotContains(t, ranges, CardRange)
	for _, r := range ranges {
		require.Equal(t, r, issuer(t, r).Range())
	}
	i := issuer(t, "HT")
	_, ok := i.Issue('O', 0)
	require.False(t, ok)
	_, ok = i.Issue(Bag, uint32(counters))
	require.False(t, ok)
	_, ok = Issuer{}.Issue(Bag, 0)
	require.False(t, ok)
	_, _, ok = Issuer{}.Next(Bag, 0)
	require.False(t, ok)
	_, _, ok = i.Next(Bag, uint32(counters))
	require.False(t, ok)
	c, _ := i.Issue(Bag, 3)
	_, ok = issuer(t, "HU").Counter(c)
	require.False(t, ok)
	_, ok = Issuer{}.Counter("")
	require.False(t, ok)
}

func TestIssueAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i, err := NewIssuer(rapid.SampledFrom(Ranges()).Draw(t, "range"))
		require.NoError(t, err)
		ty := rapid.SampledFrom(Types()).Draw(t, "type")
		from := rapid.Uint32Range(0, uint32(counters)-100).Draw(t, "counter")
		c, n, ok := i.Next(ty, from)
		require.True(t, ok)
		require.GreaterOrEqual(t, n, from)
		got, err := Parse(strings.ToLower(string(c)))
		require.NoError(t, err)
		require.Equal(t, c, got)
		back, ok := i.Counter(got)
		require.True(t, ok)
		require.Equal(t, n, back)
		require.Equal(t, ty, got.Type())
		require.NotContains(t, string(got), "0")
		require.False(t, strings.ContainsAny(string(got), "0O1IL"))
		for skipped := from; skipped < n; skipped++ {
			_, ok := i.Issue(ty, skipped)
			require.False(t, ok)
		}
	})
}

// Cards in drawers and labels on bags: these never change.
func TestFrozenCodes(t *testing.T) {
	for n, want := range map[int]Code{0: "WKKBR6KE", 1: "WKK9QN98", 2: "WKK7P5X2", 12: "WKKEAX3S", 40: "WKK423QW"} {
		got, ok := WholeNumber(n)
		require.True(t, ok)
		require.Equal(t, want, got, "number %d", n)
	}
	for n, want := range map[int]Code{0: "VKKBR6KP", 199: "VKKK77PV"} {
		got, ok := VerbCode(n)
		require.True(t, ok)
		require.Equal(t, want, got, "verb %d", n)
	}
	answer, ok := AnswerCode(3)
	require.True(t, ok)
	require.Equal(t, Code("DKK5NMMH"), answer)
	for n, want := range map[uint32]Code{0: "BHTBR6KS", 1: "BHT9QN9M", 31: "BHT7KU78", 962: "BHTXF2CQ", 923520: "BHT9TK8C"} {
		got, ok := issuer(t, "HT").Issue(Bag, n)
		require.True(t, ok, "bag %d", n)
		require.Equal(t, want, got, "bag %d", n)
	}
}

func TestCards(t *testing.T) {
	seen := map[Code]bool{}
	for n := range MaxWholeNumber + 1 {
		c, ok := WholeNumber(n)
		require.True(t, ok)
		require.Equal(t, CardRange, c.Range())
		parsed, err := Parse(string(c))
		require.NoError(t, err)
		got, ok := AsNumber(parsed)
		require.True(t, ok)
		require.Equal(t, n, got)
		_, ok = AsVerb(c)
		require.False(t, ok)
		seen[c] = true
	}
	for n := range MaxCards {
		v, ok := VerbCode(n)
		require.True(t, ok)
		got, ok := AsVerb(v)
		require.True(t, ok)
		require.Equal(t, n, got)
		a, ok := AnswerCode(n)
		require.True(t, ok)
		got, ok = AsAnswer(a)
		require.True(t, ok)
		require.Equal(t, n, got)
		seen[v], seen[a] = true, true
	}
	require.Len(t, seen, MaxWholeNumber+1+2*MaxCards)
	for _, n := range []int{-1, MaxWholeNumber + 1} {
		_, ok := WholeNumber(n)
		require.False(t, ok)
	}
	_, ok := VerbCode(MaxCards)
	require.False(t, ok)

	later, _, ok := cards.Next(Number, 100)
	require.True(t, ok)
	_, ok = AsNumber(later)
	require.False(t, ok, "a number without a card")
	foreign, _ := issuer(t, "HT").Issue(Number, 1)
	_, ok = AsNumber(foreign)
	require.False(t, ok, "a terminal's range")
}

func FuzzParse(f *testing.F) {
	i := issuer(f, "HT")
	for n := range uint32(20) {
		if c, ok := i.Issue(Bag, n); ok {
			f.Add(string(c))
			f.Add(strings.ToLower(string(c)) + "\n")
			f.Add(string(c[:7]) + "Z")
		}
	}
	f.Add("40123455")
	f.Add("ſHT2345Z")
	f.Fuzz(func(t *testing.T, text string) {
		c, err := Parse(text)
		if err != nil {
			var wrong *Error
			require.ErrorAs(t, err, &wrong)
			require.NotEmpty(t, wrong.Reason)
			require.Empty(t, c)
			return
		}
		require.True(t, strings.EqualFold(strings.TrimSpace(text), string(c)))
		i := Issuer{[2]byte{c[1], c[2]}}
		again, ok := i.Issue(c.Type(), c.Counter())
		require.True(t, ok)
		require.Equal(t, c, again)
	})
}
