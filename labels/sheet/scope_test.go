package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

func scopeSheet(t testing.TB) Scope {
	return Scope{Code: issued(t, code.Job, 1), Job: "4K7", Engine: "Sorrel I4-20", Name: "Cam intake: must come off",
		Notes: []string{"decided 12 May by Marit: lobe 3 is scored"}, Heads: []string{"1 now", "2 now", "3 after cover-on"},
		Rows:  []ScopeRow{{"steps there", []string{"10", "18", "12"}}, {"how sure", []string{"proved least", "best found, at most 2 steps above the least", "proved least"}}},
		Parts: []HandOverPart{{Name: "Way 1, there", Lines: []string{"Coils off", "Cam cover off"}}, {Name: "To buy for it"}}, Date: day}
}

// TestScope: the sheet is drawn whole, and what it cannot hold is said.
func TestScope(t *testing.T) {
	d, err := scopeSheet(t).Draw(Settings{Paper: A4, DPI: 600})
	require.NoError(t, err)
	require.Len(t, d.Codes(), 1)
	pdf, err := d.PDF()
	require.NoError(t, err)
	require.NotEmpty(t, pdf)
	for name, bad := range map[string]func(*Scope){
		"is no job's":          func(s *Scope) { s.Code = issued(t, code.Bag, 1) },
		"0 ways; 1 to 6":       func(s *Scope) { s.Heads = nil },
		"7 ways; 1 to 6":       func(s *Scope) { s.Heads = strings.Split("1 2 3 4 5 6 7", " ") },
		"2 cells for 3 ways":   func(s *Scope) { s.Rows[0].Cells = s.Rows[0].Cells[:2] },
		"steps there: 4 cells": func(s *Scope) { s.Rows[0].Cells = append(s.Rows[0].Cells, "9") },
	} {
		s := scopeSheet(t)
		bad(&s)
		_, err := s.Draw(Settings{Paper: A4, DPI: 600})
		require.ErrorContains(t, err, name)
	}
}
