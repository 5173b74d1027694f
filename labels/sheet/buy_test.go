package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

// The buy list is drawn whole, and no other label stands for its job.
func TestBuy(t *testing.T) {
	b := buyList(t)
	for _, paper := range []Paper{A4, Letter} {
		d, err := b.Draw(Settings{Paper: paper, DPI: 600})
		require.NoError(t, err)
		require.Len(t, d.Codes(), 1)
		pdf, err := d.PDF()
		require.NoError(t, err)
		require.NotEmpty(t, pdf)
	}
	b.Groups = nil
	_, err := b.Draw(Settings{Paper: A4, DPI: 600})
	require.NoError(t, err, "nothing to buy is a sheet too")
	b.Code = issued(t, code.Bag, 1)
	_, err = b.Draw(Settings{Paper: A4, DPI: 600})
	require.ErrorContains(t, err, "is no job's")
}
