package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

// The buy list is drawn whole, and no other label stands for its job.
func TestBuy(t *testing.T) {
	b := Buy{Code: issued(t, code.Job, 1), Job: "4K7", Engine: "Sorrel I4-20", Notes: []string{"10 pieces to buy, 4 on order"}, Date: day,
		Groups: []BuyPart{
			{Name: "Fjord: order together by 15 May", Lines: []BuyRow{
				{What: "9 M8x1.25 nut", Notes: []string{"9 single-use, out of exhaust manifold to head", "for Exhaust on; needed by 19 May; order by 11 May, overdue"}},
				{What: "4 M6x1.0x12: on order, here 16 May", Done: true}}},
			{Name: "Supplier not said", Lines: []BuyRow{{What: "1 Exhaust gasket"}}}}}
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
