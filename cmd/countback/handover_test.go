package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestHandoverWritesTheSheet(t *testing.T) {
	s := sorrelShop(t)
	s.run("handover", "J1").ends(statusDone).says("Hand-over: 0 things open", "What can be done next", "Taken over, spoken at the engine")
	s.feed("range HT\nbench b1\nRESERVE\n", "scan")
	s.feed("job J1\nloan rag\nIN\n2\nloan crank-pin\nIN\n", "scan").ends(statusDone)
	s.run("handover", "J1").ends(statusDone).says("In it, and does not belong there:", "[ ] Crank timing pin in since", "scan loan crank-pin, OUT")
	var r handoverReport
	d := s.run("handover", "J1", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Items, 2)
	require.Equal(t, "in it, and does not belong there", r.Items[0].About)
	require.NotEmpty(t, r.Next)
	require.Empty(t, r.From)
	s.run("handover", "J9").ends(statusUnknown).warns("there is no job J9")
	s.run("handover").ends(statusUsage)
}
