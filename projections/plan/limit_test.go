package plan

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestEntries: a plan of 2,000 steps is one, and a section with more entries
// than any engine has is refused with its line, both numbers said.
func TestEntries(t *testing.T) {
	text := func(parts int) []byte {
		var b strings.Builder
		b.WriteString("plan: {id: long, family: Long, edition: 1}\nparts:\n  - {id: block, root: true}\n")
		for i := range parts {
			fmt.Fprintf(&b, "  - {id: p%d, in: block}\n", i)
		}
		b.WriteString("steps:\n  off:\n")
		for i := range parts {
			fmt.Fprintf(&b, "    - {id: s%d, removes: [p%d]}\n", i, i)
		}
		return []byte(b.String())
	}
	p, err := Parse("long", text(2000))
	require.NoError(t, err)
	require.Len(t, p.Steps, 2000)
	_, err = Parse("too-long", text(maxEntries+1))
	require.ErrorContains(t, err, fmt.Sprintf("steps: %d entries; at most %d", maxEntries+1, maxEntries))
}
