package engine

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// bramble is a job on a whole engine of the plan in inch sizes.
func bramble(t testing.TB) *crew {
	text, err := os.ReadFile("../../testdata/plans/bramble-t2-42.yaml")
	require.NoError(t, err)
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.told(c.ask(OpenJob{Engine: "Bramble", Plan: string(text)}))
	return c
}

func auditTexts(a Audit) (list []string) {
	for _, l := range a.Red {
		list = append(list, l.Text)
	}
	return list
}

// Whatever part of whatever plan is told to have left while it is on by the
// book: it is off, no piece is one too many, and the first start is red until
// another is on.
func TestWhatIsThrownAwayIsNotOn(t *testing.T) {
	for _, open := range []func(testing.TB) *crew{func(t testing.TB) *crew { return newCrew(t) }, bramble} {
		n := 0
		for i := range open(t).plan().Parts {
			c := open(t)
			pt := &c.plan().Parts[i]
			if pt.Root || pt.Stays || c.s().Now().Part(plan.PartIndex(i)) != plan.PartOn {
				continue
			}
			n++
			lines := []events.Line{{Kind: events.Kind(pt.ID), Qty: pt.Count}}
			at := events.Place("bench/b2/part " + string(pt.ID))
			ev := []events.Event{events.PiecesScrapped{From: at, Lines: lines}, events.PiecesKept{From: at, Lines: lines},
				events.OwnerGiven{Part: pt.ID, From: at, Lines: lines}}[n%3]
			c.told(ev)
			require.Equal(t, plan.PartOff, c.s().Now().Part(plan.PartIndex(i)), pt.ID)
			require.Nil(t, c.s().Now().Free(plan.PartIndex(i)), "%s: what lay before it is off", pt.ID)
			require.Empty(t, c.s().OpenShorts(), pt.ID)
			a, ok := c.job.Audit("ready-to-start")
			require.True(t, ok)
			text := pt.Name + ": off"
			if _, scrap := ev.(events.PiecesScrapped); scrap {
				text += ", and thrown away"
			}
			require.Contains(t, auditTexts(a), text)
			require.NoError(t, c.s().Book().Verify(), pt.ID)
		}
		require.Greater(t, n, 20)
	}
}

// Where the old one lies here and a new one is on, the old one is thrown away.
func TestTheOldOneIsThrownAwayNotTheNewOne(t *testing.T) {
	c := newCrew(t)
	c.told(events.PartRemoved{Part: "oil-filter", To: "place/shelf"})
	c.told(events.HardwareReceived{From: "outside/supplier/fjord", To: "stock/new", Lines: []events.Line{{Kind: "oil-filter", Qty: 1}}})
	c.told(events.PartFitted{Part: "oil-filter"})
	p, _ := c.plan().Part("oil-filter")
	require.Equal(t, plan.PartOn, c.s().Now().Part(p))
	require.Equal(t, events.Place("place/shelf"), c.s().PartLies("oil-filter", ""))
	c.told(events.PiecesScrapped{From: "place/shelf", Lines: []events.Line{{Kind: "oil-filter", Qty: 1}}})
	require.Equal(t, plan.PartOn, c.s().Now().Part(p))
	require.Empty(t, c.s().PartLies("oil-filter", ""))
}

// A loan that stops turning or cranking is red at the point that the first start
// waits for, on every plan; one that stops neither falls due where it says.
func TestTheFirstStartWaitsForLoans(t *testing.T) {
	for _, open := range []func(testing.TB) *crew{func(t testing.TB) *crew { return newCrew(t) }, bramble} {
		stops, others := 0, 0
		for i := range open(t).plan().Loans {
			c := open(t)
			l := &c.plan().Loans[i]
			c.told(events.LoanIn{Loan: l.ID, Count: 1})
			a, ok := c.job.Audit("ready-to-start")
			require.True(t, ok)
			red := auditTexts(a)
			text := c.s().loanIsIn(l.ID, c.s().loans[l.ID])
			if contains(l.Stops.Acts, plan.Turning) || contains(l.Stops.Acts, plan.Cranking) {
				stops++
				require.Contains(t, red, text, l.ID)
			} else {
				others++
				require.NotContains(t, red, text, l.ID)
			}
			c.told(events.LoanOut{Loan: l.ID, Count: 1})
			a, _ = c.job.Audit("ready-to-start")
			require.NotContains(t, auditTexts(a), text)
		}
		require.Greater(t, stops, 2)
		require.Greater(t, others, 2)
	}
}

// What is counted again after a slip is back whole stands on its list.
func TestASlipCountedAgain(t *testing.T) {
	c := bramble(t)
	c.told(events.SentOut{Slip: "S2AAAAAA", Parts: []events.Part{"cylinders"}})
	c.told(events.Returned{Slip: "S2AAAAAA"})
	v, _ := c.job.SlipNow("S2AAAAAA")
	var stud SlipLine
	for _, l := range v.Lines {
		if !l.Part && l.Went > 2 {
			stud = l
			break
		}
	}
	require.NotEmpty(t, stud.Kind)
	for _, n := range []int{stud.Went - 1, stud.Went - 2, stud.Went - 2, stud.Went} {
		c.counted(events.Returned{Slip: "S2AAAAAA", Lines: []events.Line{{Kind: stud.Kind, Qty: n}}})
		v, _ = c.job.SlipNow("S2AAAAAA")
		require.Equal(t, n, slipLine(v, stud.Kind).Came)
		require.Equal(t, stud.Went-n, slipLine(v, stud.Kind).Missing)
	}
	require.NoError(t, c.s().Book().Verify())
}

// Money that is paid back is doubted before the core has left, above its deposit
// and in other money.
func TestCreditsThatAreDoubted(t *testing.T) {
	c := newCrew(t)
	eur := func(n int64) Money { return Money{Amount: n, Currency: "EUR"} }
	require.Equal(t, "No terms were agreed for the old Alternator", c.job.DoubtCredit("alternator", eur(5)))
	c.told(events.CoreAgreed{Part: "alternator", Supplier: "fjord", Deposit: 12050, Currency: "EUR"})
	require.Equal(t, "Alternator: it was not sent yet by the book", c.job.DoubtCredit("alternator", eur(12050)))
	c.told(events.PartRemoved{Part: "alternator"})
	c.told(events.CoreSent{Part: "alternator"})
	require.Empty(t, c.job.DoubtCredit("alternator", eur(12050)))
	require.Empty(t, c.job.DoubtCredit("alternator", Money{Amount: 12050}))
	require.Equal(t, "Alternator: 120.51 EUR is more than the deposit of 120.50 EUR", c.job.DoubtCredit("alternator", eur(12051)))
	require.Contains(t, c.job.DoubtCredit("alternator", Money{Amount: 5, Currency: "NOK"}), "the deposit was 120.50 EUR and this is")
}
