package panel

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
)

func TestCase(t *testing.T) {
	tag := labelOf(t, code.Case, 0)
	s := newStage(t, "joint exhaust", "hole 9", "BROKEN", "BELOW", tag)
	p := s.panel()
	require.Equal(t, "case", p.Name)
	require.Equal(t, "Case 1: Exhaust manifold to head, hole 9", p.Title)
	require.Contains(t, p.Stand, "stub below")
	require.Len(t, rows(p, "The ladder"), len(engine.Methods()))
	hot := rows(p, "Before flame or weld: HOT WORK confirms each line")
	require.Len(t, hot, len(engine.Cautions()))
	for _, row := range hot {
		require.True(t, strings.HasPrefix(row, "HOT|"), row)
	}
	s.scan("NO", tag, "HOT WORK")
	for range engine.Cautions() {
		s.scan("OK")
	}
	for _, row := range rows(s.panel(), "Before flame or weld: HOT WORK confirms each line") {
		require.True(t, strings.HasPrefix(row, "done|"), row)
	}
}

// Two failed methods end it: the panel says STOP, and who is asked.
func TestCaseStops(t *testing.T) {
	tag := labelOf(t, code.Case, 0)
	s := newStage(t, "joint exhaust", "hole 9", "BROKEN", "BELOW", tag, "YES")
	for _, method := range []string{"SOAK", "LEFT-HAND DRILL"} {
		s.scan(tag, "TRIED", method, "NOT MOVED", "20")
	}
	s.scan(tag)
	p := s.panel()
	require.Contains(t, p.Stand, "2 methods failed, 40 minutes")
	require.True(t, strings.HasPrefix(rows(p, "Next")[0], "STOP|"), rows(p, "Next"))
	failed := 0
	for _, row := range rows(p, "The ladder") {
		if strings.HasPrefix(row, "failed|") {
			failed++
		}
	}
	require.Equal(t, 2, failed)
}

func TestCaseThatIsOut(t *testing.T) {
	tag := labelOf(t, code.Case, 0)
	s := newStage(t, "joint exhaust", "hole 9", "BROKEN", "PROUD", tag, "YES", tag, "EXTRACTED", "ORIGINAL", "OK", "CANCEL")
	p := OfCase(s.job(), events.Code(tag))
	require.Contains(t, allText(p), "the hole is original")
	require.Equal(t, "nothing is known of it", OfCase(s.job(), "C").Stand)
}
