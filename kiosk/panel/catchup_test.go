package panel

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

// Somebody worked for two days without scanning. One scan says how deep, and
// the screen then asks for one count after the other, and comes back after each.
func TestCatchUpAsksOneCountAfterTheOther(t *testing.T) {
	s := newStage(t, "part cam-cover", "CATCH UP")
	p := s.panel()
	require.Equal(t, "catch-up", p.Name)
	require.Equal(t, "Catch-up: Cam cover is off", p.Title)
	before := rows(p, "Count these, one after the other")
	require.NotEmpty(t, before)
	require.Contains(t, before[0], "count it|")
	require.NotContains(t, allText(p), "12 ", "no number is expected on it")
	require.Contains(t, allText(p), "Off by presumption")
	require.Contains(t, rows(p, "Off by presumption; say where each is, once it is in your hand"), "out|Cam cover|part cam-cover, its place, OFF")
	require.Equal(t, []string{"COUNT HARNESS AND GROUND BOLTS", "COUNT GROUNDS", "COUNT"}, p.Next)

	bag, other := labelOf(t, code.Bag, 0), labelOf(t, code.Bag, 1)
	s.scan("joint grounds", bag)
	require.Equal(t, "joint", s.panel().Name, "while it is counted, the sizes to count are on the screen")
	s.scan("6")
	p = s.panel()
	require.Equal(t, "catch-up", p.Name, "then the rest")
	require.Len(t, rows(p, "Count these, one after the other"), len(before)-1)
	require.Equal(t, []string{"done|Harness and ground bolts|"}, rows(p, "Counted since"))
	s.scan("WHAT NOW")
	require.Equal(t, "steps", s.panel().Name, "a question is answered")
	s.scan("joint cam-cover", other, "8", "4")
	require.Equal(t, "catch-up", s.panel().Name)
	s.scan("CANCEL", "joint oil-pan", "OUT")
	require.Equal(t, "joint", s.panel().Name, "CANCEL leaves it")
}

func TestCatchUpEndsWithTheLastCount(t *testing.T) {
	s := newStage(t, "part coils", "CATCH UP")
	require.Contains(t, rows(s.panel(), "Count these, one after the other"), "count it|Coils|joint coils, its bag, how many of each")
	bags := 0
	for len(s.job().State().Uncounted()) > 0 {
		u := s.job().State().Uncounted()[0]
		bag := labelOf(t, code.Bag, bags)
		bags++
		if u.Joint != "" {
			s.scan("joint "+string(u.Joint), bag, "ALL OUT")
		} else {
			s.scan("part "+string(u.Part), bag, "4")
		}
		require.Less(t, bags, 20)
	}
	p := s.panel()
	require.Equal(t, "catch-up", p.Name)
	require.Equal(t, "everything that was presumed has been counted", p.Stand)
	require.Empty(t, p.Next)
	s.scan("joint oil-pan", "hole 3", "OUT")
	require.Equal(t, "joint", s.panel().Name, "and it does not come back")
}
