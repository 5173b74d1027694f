package panel

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The clock of sealant that is on runs until the joint is closed, says when
// little is left, and when it is over; put on anew it starts anew.
func TestClocksOfSealant(t *testing.T) {
	s := newStage(t, "joint oil-pan", "ALL OUT")
	require.Empty(t, Clocks(s.job(), s.now))
	s.scan("joint oil-pan", "SEALANT ON", "OK")
	on := s.now
	at := func(seconds int64) []Clock { return Clocks(s.job(), on+seconds*1_000_000) }
	for _, row := range []struct {
		seconds int64
		mark    Mark
		text    string
		big     string
	}{
		{0, Begun, "SEALANT, Pan on: 5:00 left of 5:00", "PAN ON 5:00"},
		{100, Begun, "SEALANT, Pan on: 3:20 left of 5:00", "PAN ON 3:20"},
		{225, Look, "SEALANT, Pan on: 1:15 left of 5:00", "PAN ON 1:15"},
		{300, Look, "SEALANT, Pan on: 0:00 left of 5:00", "PAN ON 0:00"},
		{301, Stop, "SEALANT, Pan on: OVER by 0:01; clean both faces, SEALANT ON anew", "SEALANT OVER"},
		{4000, Stop, "SEALANT, Pan on: OVER by 1:01:40; clean both faces, SEALANT ON anew", "SEALANT OVER"},
	} {
		got := at(row.seconds)
		require.Len(t, got, 1)
		require.Equal(t, row.mark.String(), got[0].Mark.String(), "after %d s", row.seconds)
		require.Equal(t, row.text, got[0].Text)
		require.Equal(t, row.big, got[0].Big[0])
	}
	s.now += 310_000_000
	s.scan("joint oil-pan", "SEALANT ON", "OK")
	require.Len(t, Clocks(s.job(), s.now), 1, "one clock for one joint")
	require.Equal(t, Begun, Clocks(s.job(), s.now)[0].Mark, "it starts anew")
	s.scan("joint oil-pan", "ALL IN")
	require.Empty(t, Clocks(s.job(), s.now), "closed: %v", s.term.View().Lines)
}
