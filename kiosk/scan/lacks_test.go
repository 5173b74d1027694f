package scan

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A verb that is scanned alone, or one noun short, says which noun it wants.
func TestWhatAVerbLacks(t *testing.T) {
	require.Equal(t, "joint", FirstOf(TorqueAsk))
	require.Equal(t, "bag or part", FirstOf(WhereIs), "it goes with many")
	pan := Noun{Type: Part, ID: "oil-pan"}
	require.Equal(t, "blank slip", LacksOf([]Noun{pan}, Send))
	require.Empty(t, LacksOf([]Noun{pan}, Off), "it goes with it")
	require.Empty(t, LacksOf(nil, Send))
	for line, want := range map[string]string{"51.98 kg": "kg", "190 F": "F", "500 miles": "miles", "51.98 mm": "", "51.98": "", "4006381333931": "",
		"kg": "", "M6x1.0x25": "", "12 8.8": ""} {
		tok := Token{Kind: Words, Line: line}
		require.Equal(t, want, OddUnit(tok), line)
	}
}
