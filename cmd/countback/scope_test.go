package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// What must come off after all, asked of a whole engine: the least way that the
// demo plan's author argued, other ways beside it, early against late, and the
// decision.
func TestScopeOfACam(t *testing.T) {
	s, _ := benchShop(t)
	s.run("scope", "J1", "cam-intake", "cam-exhaust").ends(statusDone).says("Cam intake and Cam exhaust must come off?", "proved least",
		"single-use fasteners used up", "chain-hung", "to be done again", "0 here, 1 to buy", "back (proved least)")
	out := s.run("scope", "J1", "cam-intake", "--after", "checked", "--json")
	out.ends(statusUnknown)
	var r scopeReport
	late := s.run("scope", "J1", "cam-intake", "--after", "pan-off", "--against", "head", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(late.out), &r))
	require.Equal(t, []string{"part cam-intake"}, r.Goal)
	require.Equal(t, "proved least", r.Ways[0].Verdict)
	n := len(r.Ways)
	require.Equal(t, []string{"pan-off"}, r.Ways[n-2].After)
	require.Equal(t, "Head", r.Ways[n-1].Goal)
	require.Greater(t, len(r.Ways[n-1].Steps), len(r.Ways[0].Steps))
	for _, u := range r.Ways[0].Uses {
		require.Equal(t, u.Used, u.Here+u.Buy)
	}

	s.run("scope", "J1", "hole:oil-pan:3").ends(statusDone).says("Oil pan hole 3 must come off?")
	s.run("scope", "J1", "oil-pan:3").ends(statusDone).says("Oil pan hole 3 must come off?")
	s.run("scope", "J1", "coils").ends(statusDone)
	s.run("scope", "J1", "block").ends(statusNo).warns("never comes off")
	s.run("scope", "J1", "flux").ends(statusUnknown).warns(`no part, step, joint or hole "flux"`)
	s.run("scope", "J1").ends(statusUsage)
	s.run("scope", "J9", "head").ends(statusUnknown)
}

// Two repairs beside each other: money, days and risks of each, as text and for
// programs; what cannot be weighed is refused.
func TestScopeAgainst(t *testing.T) {
	s, _ := benchShop(t)
	s.run("scope", "J1", "cam-intake", "--against", "head").ends(statusDone).says("1 now", "2 now, Head", "together", "59.45 EUR or more", "risks:",
		"21.50 EUR each", "price unknown", "nobody has said when:")
	var r scopeReport
	out := s.run("scope", "J1", "cam-intake", "--against", "head", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(out.out), &r))
	require.Len(t, r.Ways, 2)
	require.Equal(t, []string{"Cam intake", "Head"}, []string{r.Ways[0].Goal, r.Ways[1].Goal})
	m := r.Ways[0].Money
	require.Equal(t, scopeMoney{Currency: "EUR", Pieces: 5945, NoTime: len(r.Ways[0].Steps) + len(r.Ways[0].Back), NoRate: true, Sum: 5945}, m)
	require.NotEmpty(t, r.Ways[1].Risks)
	require.NotEmpty(t, r.Ways[1].NoDay)
	require.NotEmpty(t, r.Ways[0].Ready)

	s.run("scope", "J1", "head", "--against", "head").ends(statusNo).warns("set against itself")
	s.run("scope", "J1", "head", "--against", "block").ends(statusNo).warns("never comes off")
	s.run("scope", "J1", "head", "--against", "flux").ends(statusUnknown)
	s.run("label", "scope", "J1", "cam-intake", "--against", "head", "--to", "pair.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("pair.pdf")); ok {
		require.Contains(t, text, "Risks of way 2")
		require.Contains(t, text, "together")
	}
}

func TestScopeSheet(t *testing.T) {
	s, _ := benchShop(t)
	s.run("label", "scope", "J1", "cam-intake", "--after", "pan-off", "--to", "scope.pdf").ends(statusDone).says("1 code drawn and read back")
	if text, ok := pdfText(t, s.path("scope.pdf")); ok {
		for _, want := range []string{"MUST COME OFF", "proved least", "To buy for it", "after pan-off", "decided by, date"} {
			require.Contains(t, text, want)
		}
	}
	s.run("label", "scope", "J1", "cam-intake", "--to", "scope.png", "--paper", "Letter").ends(statusDone)
	s.run("label", "scope", "J1", "block", "--to", "block.pdf").ends(statusNo)
}
