package events

import (
	"bytes"
	"encoding/json"
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Every fact within the limits comes back equal by either road, and the fast
// road takes it unless an Unknown is in it.
func TestEveryFactComesBack(t *testing.T) {
	var d Decoder // one for all, so that what it remembers is tried too
	rapid.Check(t, func(t *rapid.T) {
		r := recordGen(t)
		stored, err := Append(nil, &r)
		require.NoError(t, err)
		var fast, slow Record
		require.Equal(t, !strings.Contains(string(stored), "lamp-lit"), d.fast(stored, &fast), "%s", stored)
		require.NoError(t, d.Decode(stored, &fast))
		require.NoError(t, slowDecode(stored, &slow))
		require.Equal(t, r, fast)
		require.Equal(t, r, slow)
		again, err := Append([]byte("before"), &fast)
		require.NoError(t, err)
		require.Equal(t, "before"+string(stored), string(again))
	})
}

// What the Decoder gave does not change with what it reads next, nor with the
// bytes that it was given.
func TestDecodedFactsStandAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d Decoder
		var want, got []Record
		for range rapid.IntRange(1, 6).Draw(t, "facts") {
			r := recordGen(t)
			stored, err := Append(nil, &r)
			require.NoError(t, err)
			var back Record
			require.NoError(t, d.Decode(stored, &back))
			clear(stored)
			want, got = append(want, r), append(got, back)
		}
		require.Equal(t, want, got)
	})
}

// Other JSON that says the same is read to the same fact.
func TestOtherFormsOfTheSameFact(t *testing.T) {
	r := typical()
	r.Operator = "Márit"
	stored, err := Append(nil, &r)
	require.NoError(t, err)
	var spaced bytes.Buffer
	require.NoError(t, json.Indent(&spaced, stored, "", "\t"))
	var loose any
	require.NoError(t, json.Unmarshal(stored, &loose))
	sorted, err := json.Marshal(loose)
	require.NoError(t, err)
	text := string(stored)
	for name, other := range map[string]string{
		"blanks and line ends": spaced.String(),
		"members by name":      string(sorted),
		"escaped letters":      strings.Replace(text, "Márit", `M\u00e1rit`, 1),
		"escaped slash":        strings.Replace(text, "bag/B2", `bag\/B2`, 1),
		"another time zone":    strings.Replace(text, "T10:15:00.123456Z", "T11:15:00.123456+01:00", 1),
		"no content type":      strings.Replace(text, `"datacontenttype":"application/json",`, "", 1),
		"empty member":         strings.Replace(text, `"qty":1}`, `"qty":1,"lot":"","expected":0}`, 1),
		"null attribute":       strings.Replace(text, `"n":`, `"happenedto":null,"n":`, 1),
		"attribute of another": strings.Replace(text, `"n":`, `"traceparent":"00-4bf9-01","n":`, 1),
	} {
		t.Run(name, func(t *testing.T) {
			require.NotEqual(t, text, other)
			var d Decoder
			var got Record
			require.NoError(t, d.Decode([]byte(other), &got))
			require.Equal(t, r, got)
		})
	}
}

// The order of members never matters.
func TestMembersInAnyOrder(t *testing.T) {
	random := rand.New(rand.NewSource(1))
	rapid.Check(t, func(t *rapid.T) {
		r := recordGen(t)
		stored, err := Append(nil, &r)
		require.NoError(t, err)
		members, err := membersOf(stored)
		require.NoError(t, err)
		random.Shuffle(len(members), func(i, j int) { members[i], members[j] = members[j], members[i] })
		var other []string
		for _, m := range members {
			other = append(other, `"`+m.name+`":`+string(m.value))
		}
		var d Decoder
		var got Record
		require.NoError(t, d.Decode([]byte("{"+strings.Join(other, ",")+"}"), &got))
		require.Equal(t, r, got)
	})
}

func TestAllocationsOfATypicalFact(t *testing.T) {
	r := typical()
	r.Event = BagLabelled{Bag: "B2KCZ6EE", Joint: "front-cover"}
	var stored [2][]byte
	for i := range stored {
		r.N++
		r.Seen = SeenOf(map[Terminal]uint32{"b1": 803, "b2": r.N - 1})
		var err error
		stored[i], err = Append(nil, &r)
		require.NoError(t, err)
	}
	var d Decoder
	var got Record
	i := 0
	allocations := testing.AllocsPerRun(100, func() {
		i++
		if err := d.Decode(stored[i&1], &got); err != nil {
			panic(err)
		}
	})
	require.LessOrEqual(t, allocations, 2.0, "one for the event, one for what was seen")
}
