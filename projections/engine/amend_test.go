package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

func (b *bench) do(known events.Known, c Command) Change {
	b.t.Helper()
	ev, err := b.job.Decide(c)
	require.NoError(b.t, err)
	require.NotNil(b.t, ev)
	return b.tell(known, ev)
}

func pieces(s *State, class ledger.Class) int {
	n := 0
	for a := 1; a <= s.book.Accounts(); a++ {
		if s.book.Class(ledger.AccountID(a)) == class {
			for _, l := range s.contents(ledger.AccountID(a)) {
				n += l.Qty
			}
		}
	}
	return n
}

// A job amends its own copy of the plan while pieces are all over the shop:
// what the amendment does not speak of stays where it is.
func TestAmendmentsCarryTheStateOver(t *testing.T) {
	b, s := opened(t)
	b.tell(events.Claimed, events.PiecesOut{Joint: "mount-bracket", To: "bag/B2KP34V5", All: true})
	b.tell(events.Told, events.LoanIn{Loan: "rag", Count: 2})
	b.tell(events.Told, events.MarkMade{Mark: "checked-in"})
	bag := s.At("bag/B2KP34V5")
	fitted := pieces(s, ledger.Fitted)

	b.do(events.Told, AmendPlan{Op: "add", Section: "joints", ID: "heat-lug", Why: "this one has a lug",
		Text: "{id: heat-lug, name: Heat lug, holes: [{at: 1..2, in: block, fastener: M8x1.25x20 8.8 flange}]}"})
	s = b.job.State()
	require.Equal(t, fitted+2, pieces(s, ledger.Fitted), "the new holes are presumed full")
	require.Equal(t, bag, s.At("bag/B2KP34V5"))
	require.Equal(t, 2, s.Loans()["rag"].In)
	m, _ := s.Plan().Mark("checked-in")
	require.True(t, s.Now().Mark(m))
	br, _ := s.Plan().Part("mount-bracket")
	require.Equal(t, plan.PartOff, s.Now().Part(br))
	holesAgree(t, s)

	b.do(events.Told, AmendPlan{Op: "alter", Section: "holes", ID: "oil-pan:15", Text: "{fastener: M8x1.25x80 8.8 flange}", Why: "as found"})
	s = b.job.State()
	require.Equal(t, fitted+2, pieces(s, ledger.Fitted))
	require.Contains(t, s.SizesIn("oil-pan"), events.Kind("M8x1.25x80 8.8 flange"))
	holesAgree(t, s)

	b.do(events.Told, AmendPlan{Op: "drop", Section: "joints", ID: "heat-lug", Why: "it was another engine"})
	s = b.job.State()
	require.Equal(t, fitted, pieces(s, ledger.Fitted))
	holesAgree(t, s)

	fresh := &Job{}
	fresh.Load(b.job.Facts())
	require.Equal(t, fingerprint(s), fingerprint(fresh.State()), "the plan with its amendments folds from the facts alone")
}

func TestAmendmentsThatMakeNoSense(t *testing.T) {
	b, _ := opened(t)
	for what, c := range map[string]AmendPlan{
		"no reason":     {Op: "drop", Section: "joints", ID: "oil-pan"},
		"no such joint": {Op: "drop", Section: "joints", ID: "oil-pam", Why: "x"},
		"no such op":    {Op: "mend", Section: "joints", ID: "oil-pan", Why: "x"},
		"not yaml":      {Op: "add", Section: "joints", ID: "a", Text: "{id: ", Why: "x"},
	} {
		_, err := b.job.Decide(c)
		var no *Refusal
		require.ErrorAs(t, err, &no, what)
	}
}

func TestLayoutsAndOptionsAsSeen(t *testing.T) {
	b, s := opened(t)
	require.Equal(t, 543, pieces(s, ledger.Fitted))
	b.tell(events.Told, events.LayoutSeen{Variant: "tensioner-layout", Layout: "flange"})
	require.Equal(t, 543, pieces(s, ledger.Fitted), "one bolt more and no seal ring")
	b.tell(events.Told, events.OptionSeen{Part: "compressor", Fitted: false})
	require.Equal(t, 543-5, pieces(s, ledger.Fitted), "the compressor and its four bolts")
	holesAgree(t, s)
	b.tell(events.Told, events.OptionSeen{Part: "compressor", Fitted: true})
	require.Equal(t, 543, pieces(s, ledger.Fitted))
}

// A job without a plan teaches one, and what it taught passes the check.
func TestATeardownWithoutAPlanBecomesOne(t *testing.T) {
	b := &bench{t: t, job: &Job{}, name: "b2", at: 1_700_000_000_000_000}
	b.do(events.Told, OpenJob{Engine: "Marsh twin"})
	_, err := b.job.SavePlan()
	require.ErrorContains(t, err, "nothing came off yet")
	line := func(k events.Kind, n int) []events.Line { return []events.Line{{Kind: k, Qty: n}} }
	b.tell(events.Told, events.JointTagged{Joint: "rocker-cover", Name: "Rocker cover"})
	b.tell(events.CountedBlind, events.PiecesOut{Joint: "rocker-cover", To: "bag/B2AAAAAA", All: true, Lines: line("M6x1.0x25 8.8 flange", 6)})
	b.tell(events.Told, events.PartRemoved{Part: "rocker-cover", To: "place/shelf"})
	b.tell(events.Told, events.JointTagged{Joint: "head-nuts"})
	b.tell(events.CountedBlind, events.PiecesOut{Joint: "head-nuts", To: "bag/B2BBBBBB", All: true, Lines: line("M10x1.25 10 nut", 8)})
	b.tell(events.Told, events.PartRemoved{Part: "cylinder-head", To: "place/shelf"})
	require.Empty(t, b.job.State().OpenShorts())
	p, err := b.job.SavePlan()
	require.NoError(t, err)
	require.False(t, plan.Check(p).Broken(), plan.Check(p))
	require.Equal(t, 14, len(p.Seats))
	again, err := plan.Parse("saved", plan.Write(p))
	require.NoError(t, err)
	require.Equal(t, len(p.Steps), len(again.Steps))
}
