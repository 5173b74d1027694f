package panel

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestMeasureShowsTheWorksheet(t *testing.T) {
	s := newStage(t, "measurement main-journal", "position 1", "51.990", "measurement main-journal", "position 4", "51.950")
	p := s.panel()
	require.Equal(t, "measure", p.Name)
	require.Contains(t, p.Stand, "service 51.97 to 52 mm")
	require.Equal(t, []string{"LOOK|main-journal at 4: 51.950 mm|0.020 mm below 51.97 mm; FINDING, then what is done with it"}, rows(p, "To look at"))
	require.Equal(t, []string{"done|main-journal at 1: 51.990 mm|as new"}, rows(p, "Within limits"))
	require.Len(t, rows(p, "Not read"), 3)
	s.scan("measurement bore", "position 1", "86.012", "86.010", "86.020", "OK", "measurement bore")
	require.Equal(t, "done|bore-taper at 1: 0.008 mm|0.008 mm along A; within limits", rows(s.panel(), "What follows from it")[0])
	s.scan("CANCEL", "WORKSHEET")
	require.Equal(t, "5 sizes read, 1 to look at", s.panel().Stand)
}
