package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// late is a fact of bench 1 that lies before the facts of the crew from a moment
// on, and that arrives now: bench 1 was cut off and had seen only what is given.
func (c *crew) late(at int64, n uint32, seen events.Seen, ev events.Event) events.Record {
	r := events.Record{Shop: "hill", Job: "4K7", Terminal: "b1", N: n, Time: at, At: at, Seen: seen, Operator: "Ole", Event: ev}
	c.job.Apply(&r)
	return r
}

func notesOf(s *State, what NoteKind) []Note {
	var list []Note
	for _, n := range s.Notes() {
		if n.What == what {
			list = append(list, n)
		}
	}
	return list
}

func TestAGatePassedWithoutKnowing(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.build("crank-on") // the plugs are in and counted by the second person
	seen, at := events.Seen("b2:1"), int64(0)
	for _, r := range c.job.Facts() {
		if e, ok := r.Event.(events.SecondChecked); ok && e.Step == "plugs-in" {
			at = r.At - 1
		}
	}
	require.NotZero(t, at)
	// what another bench did elsewhere says nothing about the plugs
	c.late(at-1, 1, seen, events.BagOpened{Bag: "B2ZZZZZZ"})
	c.late(at-1, 2, seen, events.PiecesOut{Joint: "spark-plugs", Holes: []events.Hole{"1"}})
	require.Empty(t, notesOf(c.s(), Unseen))
	// but a plug taken out again does
	r := c.late(at, 3, seen, events.PiecesOut{Joint: "block-plugs", Holes: []events.Hole{"3"}})
	require.Len(t, notesOf(c.s(), Unseen), 1)
	require.Contains(t, notesOf(c.s(), Unseen)[0].Text, factName(r.ID()))
	require.True(t, redSays(t, c.job, RedUnseen, "Core plugs pressed, block plugs in, counted passed without knowing of: b1-3"))
	require.Len(t, c.s().checks, 1, "it withdraws no check")
	c.told(events.PiecesFitted{Joint: "block-plugs", Holes: []events.Hole{"3"}, All: true})
	c.pass("plugs-in")
	require.False(t, hasCode(c.job, RedUnseen))
}

func TestACorrectionAfterTheGateIsNotKnownThereEither(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.build("crank-on")
	var fitted events.FactID
	for _, r := range c.job.Facts() {
		if e, ok := r.Event.(events.PiecesFitted); ok && e.Joint == "block-plugs" {
			fitted = r.ID()
		}
	}
	c.told(c.ask(Correct{Wrong: fitted, Instead: events.PiecesFitted{Joint: "block-plugs", Holes: []events.Hole{"1", "3"}, All: true}, Why: "miscount"}))
	require.Len(t, notesOf(c.s(), Unseen), 1)
	require.True(t, hasCode(c.job, RedUnseen))
	require.True(t, hasCode(c.job, RedGate), "and it counted what is not there")
}

func signedOut(t *testing.T) *crew {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.build("first-start")
	c.scrapOld()
	c.told(c.ask(SignAudit{Point: "ready-to-start", Operator: "Marit", Second: "Ole"}))
	for _, id := range []events.Step{"first-start", "run-in", "cold-check"} {
		c.do(id)
	}
	c.told(c.ask(Override{Ask: "audit released", Operator: "Marit", Second: "Ole", Why: "the rest is done in the vehicle"}))
	c.told(c.ask(SignAudit{Point: "released", Operator: "Marit", Second: "Ole"}))
	c.told(c.ask(EndJob{How: events.Released}))
	require.NotNil(t, c.s().Ended)
	return c
}

func TestAnEndedJobIsOpenedByWhatItDidNotKnow(t *testing.T) {
	c := signedOut(t)
	at := c.job.LatestAt()
	c.late(at-3, 1, "b2:1", events.CavityLooked{Cavity: "sump", Found: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 1}}})
	require.Nil(t, c.s().Ended)
	require.Len(t, notesOf(c.s(), Reopened), 1)
	require.True(t, hasCode(c.job, RedReopened))
	require.True(t, redSays(t, c.job, RedUnseen, "Job passed without knowing of: b1-1, Sump looked into: found 1 M6x1.0x20"))
	require.Len(t, c.s().signed, 2, "no signature is withdrawn")
	// a new record is chained to the old one
	c.told(events.ShortEnded{Short: c.s().ShortID(1), How: events.PlanWrong, Why: "it is the old sump's"})
	c.told(events.PiecesScrapped{From: "bench/b1/found in sump", Lines: []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: 1}}})
	for _, p := range []events.AuditPoint{"ready-to-start", "released"} {
		a, _ := c.job.Audit(p)
		require.NotContains(t, codes(a.Red), RedReopened, "a new signature answers it")
		if len(a.Red) > 0 {
			c.told(c.ask(Override{Ask: "audit " + string(p), Operator: "Marit", Second: "Ole", Why: "looked again"}))
		}
		c.told(c.ask(SignAudit{Point: p, Operator: "Marit", Second: "Ole"}))
	}
	require.False(t, hasCode(c.job, RedReopened))
	c.told(c.ask(EndJob{How: events.Released}))
	require.False(t, hasCode(c.job, RedUnseen), "%v", c.job.Red())
}

func TestWorkOnAnEndedJobOpensIt(t *testing.T) {
	c := signedOut(t)
	c.told(events.TagsIssued{Tags: []events.Tag{{Code: "P2AAAAAA", Noun: "part head"}}})
	require.NotNil(t, c.s().Ended, "a label is no work")
	c.told(events.PiecesOut{Joint: "coils", Holes: []events.Hole{"1"}})
	require.Nil(t, c.s().Ended)
	require.True(t, redSays(t, c.job, RedReopened, "The job had ended and is open again: Coils 1 out, loose on the bench"))
	next, ok := c.job.NextAudit()
	require.True(t, ok)
	require.EqualValues(t, "ready-to-start", next, "work takes the ground of a signature away")
}

func TestAuditsOfAJobWithoutAPlan(t *testing.T) {
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	require.Equal(t, Conflict, c.refused(SignAudit{Point: "ready-to-start", Operator: "Marit", Second: "Ole"}).Code, "nothing is open")
	c.told(c.ask(OpenJob{Engine: "a pump"}))
	require.Len(t, c.s().AuditPoints(), 2)
	c.told(events.LoanIn{Loan: "rag", Count: 2})
	no := c.refused(SignAudit{Point: "ready-to-start", Operator: "Marit", Second: "Ole"})
	require.Contains(t, no.Fact, "rag, 2 in since")
	require.Equal(t, Unknown, c.refused(SignAudit{Point: "blessed", Operator: "Marit", Second: "Ole"}).Code)
	o := c.ask(Override{Ask: "audit ready-to-start", Operator: "Marit", Second: "Ole", Why: "they keep the dust out"})
	c.told(o)
	ev := c.ask(SignAudit{Point: "ready-to-start", Operator: "Marit", Second: "Ole"}).(events.AuditSigned)
	require.Equal(t, []string{"rag, 2 in since 11 May"}, ev.Red)
	a, _ := c.job.Audit("ready-to-start")
	require.Equal(t, a.Hash, ev.Hash)
	require.Contains(t, a.Record, "they keep the dust out")
	c.told(ev)
	again := SignAudit{Point: "ready-to-start", Operator: "Marit", Second: "Ole"}
	require.Nil(t, c.ask(again), "signed already, and nothing has changed")
	c.told(events.TagsIssued{Tags: []events.Tag{{Code: "P2AAAAAA", Noun: "part pump"}}})
	require.Nil(t, c.ask(again), "paper changes nothing")
	c.told(events.HoldSet{Hold: "h1", On: "step nowhere", Why: "on order"})
	c.told(events.HoldReleased{Hold: "h1", Why: "came"})
	require.NotNil(t, c.ask(again), "something was told since")
	require.Contains(t, c.refused(SignAudit{Point: "released", Operator: "Marit", Second: "Ole"}).Fact, "Released is red in 1 lines; the first is: rag, 2 in since 11 May")
	c.told(events.LoanOut{Loan: "rag", Count: 2})
	require.Equal(t, NeedsTwo, c.refused(SignAudit{Point: "released", Second: "Ole"}).Code)
	c.told(c.ask(SignAudit{Point: "released", Operator: "Marit", Second: "Ole"}))
}
