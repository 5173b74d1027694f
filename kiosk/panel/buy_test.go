package panel

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

func TestBuyListAndOrders(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "BUY LIST")
	require.Equal(t, "nothing has to come from outside", s.panel().Stand)
	s.scan("joint heat-shield", "ALL OUT", "joint exhaust", bag, "9", "supplier Fjord", "kit bolt-set", "6", "LEAD TIME",
		"step exhaust-on", "PLANNED", "19.5.", "BUY LIST")
	p := s.panel()
	require.Equal(t, "buy", p.Name)
	require.Equal(t, "14 pieces to buy, 0 on order", p.Stand)
	list := rows(p, "Fjord: order together by 13 May")
	require.Len(t, list, 2)
	require.True(t, strings.HasPrefix(list[0], "now|9 M8x1.25 nuts: 9 single-use, out of exhaust manifold to head; needed by 19 May; order by 13 May"), list[0])
	require.Len(t, rows(p, "Supplier not said"), 1)
	s.scan("supplier Fjord", "ORDERED", "21.5.", "BUY LIST")
	for _, row := range rows(s.panel(), "Fjord") {
		require.True(t, strings.HasPrefix(row, "LOOK|on order, "), row)
		require.Contains(t, row, "here 21 May; later than it is needed")
	}
	s.scan("ORDERS")
	p = s.panel()
	require.Equal(t, []string{"orders", "13 pieces to come"}, []string{p.Name, p.Stand})
	s.scan("order 1", "stock new", "RECEIVED", "9", "3", "STILL TO COME", "order 1", "ORDERS")
	p = s.panel()
	require.Equal(t, "1 piece to come", p.Stand)
	require.Len(t, p.Groups, 1)
	require.Len(t, p.Groups[0].Rows, 2)
	require.Equal(t, []Mark{Done, Waits}, []Mark{p.Groups[0].Rows[0].Mark, p.Groups[0].Rows[1].Mark})
	s.scan("order 1", "PROMISED", "DO NOT KNOW", "order 1", "ORDERS")
	require.Equal(t, Look, s.panel().Groups[0].Rows[1].Mark, "nobody promised it any more")
}

// The steps show when what they wait for comes, and until when a bead may stay
// open.
func TestStepsShowWhen(t *testing.T) {
	s := newStage(t, "joint heat-shield", "ALL OUT", "joint exhaust", "ALL OUT", "supplier Fjord", "ORDERED", "21.5.", "step exhaust-on", "PLANNED", "20.5.")
	s.scan("step exhaust-on", "CAN I?")
	list := rows(s.panel(), "Exhaust on: blocked")
	require.Contains(t, strings.Join(list, "\n"), "from Fjord, promised for 21 May")
	require.Contains(t, list, "|planned for 20 May|")
	s.scan("part oil-pan", "OFF", "joint oil-pan", "SEALANT ON", "OK", "WHAT NOW")
	require.Contains(t, strings.Join(rows(s.panel(), "Can be done now"), "\n"), "sealant is on: close it by 07:")
}
