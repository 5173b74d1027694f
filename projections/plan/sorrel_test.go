package plan

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const sorrelFile = "../../testdata/plans/sorrel-i4-20.yaml"

func sorrel(t testing.TB) *Plan {
	t.Helper()
	p, err := Load(sorrelFile)
	require.NoError(t, err)
	return p
}

func TestSorrelReads(t *testing.T) {
	p := sorrel(t)
	require.Equal(t, "sorrel-i4-20", p.ID)
}
