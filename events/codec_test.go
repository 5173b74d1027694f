package events

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFirst(t *testing.T) {
	r := Record{Shop: "s", Job: "J4K7", Terminal: "b2", N: 42, Time: 1764065700123456, At: 1764065700123456, Seen: "b1:3 b2:41", Operator: "Ana",
		Known: CountedBlind, From: 1, To: 2, Event: Corrected{Wrong: FactID{"b1", 3}, Why: "x\"", Instead: Counted{Place: "bag/B", Lines: []Line{{Kind: "M8", Qty: 3}}, All: true}}}
	b, err := Append(nil, &r)
	require.NoError(t, err)
	t.Log(string(b))
	var d Decoder
	var o Record
	require.NoError(t, d.Decode(b, &o))
	require.Equal(t, r, o)
	r.Event = Counted{Lines: []Line{{}, {Qty: -1}}}
	_, err = Append(nil, &r)
	t.Log(err)
}
