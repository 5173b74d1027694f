package main

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The exhaust is off, its nuts and gasket are ordered in part, and the step is
// planned: what the reports say of it.
func TestBuyListOrdersAndDates(t *testing.T) {
	s, bag := benchShop(t)
	scan := func(lines string) done { return s.feed(lines, "scan", "--terminal", "bench-1", "--job", "J1") }
	s.run("buy", "J1").ends(statusDone).says("Nothing has to come from outside")
	s.run("orders", "J1").ends(statusDone).says("Nothing was ordered")
	scan("joint heat-shield\nALL OUT\njoint exhaust\n" + bag + "\n9\n").ends(statusDone)
	s.run("buy", "J1").ends(statusNo).says("Supplier not said", "9 to buy  M8x1.25 nut (kit bolt-set)", "9 single-use, out of exhaust manifold to head", "blocks exhaust-on")
	scan("supplier Fjord\nkit bolt-set\n6\nLEAD TIME\nsupplier Fjord\npart exhaust-gasket\n4\nLEAD TIME\nstep exhaust-on\nPLANNED\n5\n").ends(statusDone)

	var r buyReport
	require.NoError(t, json.Unmarshal([]byte(s.run("buy", "J1", "--json").ends(statusNo).out), &r))
	require.Len(t, r.Groups, 1)
	day := func(n int) string { return time.Now().UTC().AddDate(0, 0, n).Format(time.DateOnly) }
	g := r.Groups[0]
	require.Equal(t, []any{"Fjord", day(-1), true}, []any{g.Supplier, g.OrderBy, g.Overdue}, "six days for what is needed in five")
	require.Len(t, g.Lines, 3)
	gasket := g.Lines[2]
	require.Equal(t, []any{"exhaust-gasket", 1, 0, 1, day(5), day(1), false, 4}, []any{gasket.Kind, gasket.Need, gasket.Ordered, gasket.Buy, gasket.NeededBy, gasket.OrderBy, gasket.Overdue, gasket.Days})

	s.run("label", "buy", "J1", "--to", "buy.pdf").ends(statusDone).says("1 code drawn and read back")
	if text, ok := pdfText(t, s.path("buy.pdf")); ok {
		for _, want := range []string{"BUY LIST", "Fjord: order it now", "9 M8x1.25 nut (kit bolt-set)", "9 single-use, out of exhaust manifold to head", "for Exhaust on; needed by"} {
			require.Contains(t, text, want)
		}
	}
	scan("supplier Fjord\nORDERED\n7\n").ends(statusDone).says("promised for")
	s.run("buy", "J1").ends(statusDone).says("9 ordered  M8x1.25 nut", "9 on order", "later than it is needed")
	s.run("now", "J1", "exhaust-on").ends(statusNo).says("not before", "planned for", "promised for")
	var n nowReport
	require.NoError(t, json.Unmarshal([]byte(s.run("now", "J1", "exhaust-on", "--json").ends(statusNo).out), &n))
	require.Equal(t, day(7), n.Steps[0].Earliest.When)
	require.Equal(t, day(5), n.Steps[0].Planned)
	for _, b := range n.Steps[0].Blockers {
		require.Equal(t, day(7), b.When, b.Text)
	}

	scan("order 1\nstock new\nRECEIVED\n9\n3\n1\nSTILL TO COME\n").ends(statusDone)
	s.run("orders", "J1").ends(statusDone).says("1 order, 1 piece to come", "part received", "9 of 9 M8x1.25 nut", "3 of 4 M6x1.0x12")
	var o ordersReport
	require.NoError(t, json.Unmarshal([]byte(s.run("orders", "J1", "--json").ends(statusDone).out), &o))
	require.Equal(t, []any{1, "part received", "Fjord"}, []any{o.Orders[0].Due, o.Orders[0].State, o.Orders[0].Supplier})
	scan("order 1\nPROMISED\n2020-01-02\nOK\nkit gasket-set\nsize head-gasket\n2\nOPENED\n").ends(statusNo).says("that is past", "1 more than it lists")
	s.run("orders", "J1", o.Orders[0].Order).ends(statusNo).says("promised for 2 January 2020 and not here", "said ")
	s.run("orders", "J1").ends(statusNo).says("Kit gasket-set", "2 of 1 Head gasket")

	s.run("buy").ends(statusUsage)
	s.run("buy", "J9").ends(statusUnknown)
	s.run("orders", "J1", "o99").ends(statusUnknown).warns("job J1 has no order o99")
	require.Contains(t, s.run("__complete", "orders", "J1", "").out, o.Orders[0].Order+"\tFjord")
	s.run("help", "buy").ends(statusDone).says("countback buy 4K7")
}

// A whole engine has nothing to buy but what its own facts ask for: the demo's.
func TestBuyListOfTheDemo(t *testing.T) {
	s := demoShopOf(t)
	var r buyReport
	require.NoError(t, json.Unmarshal([]byte(s.run("buy", "4K7", "--json").out), &r))
	for _, g := range r.Groups {
		for _, l := range g.Lines {
			sum := 0
			for _, c := range l.Causes {
				sum += c.Qty
			}
			require.Equal(t, l.Need, sum, l.Kind)
		}
	}
}
