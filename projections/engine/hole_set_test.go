package engine

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// toldOf is everything that a state says, with the matrices of its lists.
func toldOf(s *State) string {
	var b strings.Builder
	b.WriteString(fingerprint(s))
	for li := range s.tight.lists {
		m, l, ed := s.matrix(int32(li)), s.listOf(int32(li)), s.edition(int32(li))
		for _, name := range l.Names {
			for k := range ed.List.Stages {
				c, ok := m.Cell(name, k+1)
				fmt.Fprint(&b, c, ok)
			}
		}
	}
	for _, p := range s.book.Log() {
		fmt.Fprint(&b, p)
	}
	return b.String()
}

// TestWholeSetsAndHolesAgree folds the same facts once with what is worked out
// for all holes of a fact together, once hole by hole: both say the same.
func TestWholeSetsAndHolesAgree(t *testing.T) {
	t.Run("a job in the plan's order", func(t *testing.T) {
		wholeAndHoles(t, life(t, 3000))
	})
	for _, file := range []string{"sorrel-i4-20", "bramble-t2-42"} {
		text, err := os.ReadFile("../../testdata/plans/" + file + ".yaml")
		require.NoError(t, err)
		t.Run(file, rapid.MakeCheck(func(t *rapid.T) {
			wholeAndHoles(t, history(draw{t}, string(text), 60))
		}))
	}
}

func wholeAndHoles(t require.TestingT, facts []events.Record) {
	whole, holes := &Job{}, &Job{byHole: true}
	whole.Load(facts)
	holes.Load(facts)
	require.Equal(t, toldOf(holes.State()), toldOf(whole.State()))
}
