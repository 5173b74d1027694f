package engine

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func TestSendOut(t *testing.T) {
	c := newCrew(t)
	refuse := func(code Code, fact string, cmd SendOut) {
		t.Helper()
		no := c.refused(cmd)
		require.Equal(t, code, no.Code)
		require.Contains(t, no.Fact, fact)
	}
	head := SendOut{Slip: "S2AAAAAA", Parts: []events.Part{"head"}, Shop: "the machine shop"}
	refuse(Malformed, "a slip without a label", SendOut{Parts: []events.Part{"head"}})
	refuse(Malformed, "or without parts", SendOut{Slip: "S2AAAAAA"})
	refuse(Malformed, "a number below zero", SendOut{Slip: "S2AAAAAA", Parts: []events.Part{"head"}, Stays: []events.Line{{Kind: "locks", Qty: -1}}})
	refuse(Unknown, "this job has no part ghost", SendOut{Slip: "S2AAAAAA", Parts: []events.Part{"ghost"}})
	refuse(Conflict, "over Head", head)
	for _, id := range []events.Step{"check-in", "flywheel-off", "stand-on", "drain", "accessories-off", "bracket-off", "harness-off", "coils-off", "sparks-off",
		"sensors-off", "oil-control-off", "rail-off", "throttle-off", "intake-off", "exhaust-off", "lift-brackets-off", "cam-cover-off", "one-set", "pulley-off",
		"pump-off", "thermostat-off", "pan-off", "cover-off", "access-plug-out", "tensioner-pinned", "tensioner-off", "chain-off", "phasers-off", "cams-off", "buckets-out", "head-off"} {
		c.do(id)
	}
	refuse(Conflict, "Spark hole plugs, 4 in since", head)
	for _, l := range []events.Loan{"spark-hole-plug", "intake-port-plug", "exhaust-port-plug"} {
		c.told(events.LoanOut{Loan: l, Count: 4})
	}
	refuse(Conflict, "Head lifting handles, 2 in since", head)
	c.told(c.ask(Override{Ask: "part head", Operator: "Marit", Second: "Ole", Why: "they lift it with them"}))
	c.told(events.HoldSet{Hold: "h1", On: "part head", Why: "ask the owner"})
	refuse(Conflict, "Hold on Head since", head)
	c.told(c.ask(ReleaseHold{Hold: "h1"}))
	c.told(c.ask(head))
	require.Nil(t, c.ask(head), "it is away on this slip")
	refuse(Conflict, "slip S2AAAAAA went out on", SendOut{Slip: "S2AAAAAA", Parts: []events.Part{"oil-pan"}})
	refuse(Conflict, "Head is away already", SendOut{Slip: "S2BBBBBB", Parts: []events.Part{"head"}})
	refuse(Conflict, "Cylinder block", SendOut{Slip: "S2BBBBBB", Parts: []events.Part{"block"}})
	require.Equal(t, Unknown, c.refused(ReleaseHold{Hold: "h9"}).Code)
	require.Nil(t, c.ask(ReleaseHold{Hold: "h1"}))
}

func TestBagAsks(t *testing.T) {
	c := coverOff(t)
	bag, other := c.bagOf("coils"), c.bagOf("water-pump")
	no := c.refused(RetireBag{Bag: bag})
	require.Equal(t, "bag "+string(bag)+" still holds 4 M6x1.0x25 by the book: scan it EMPTY, or count it", no.Error())
	require.Equal(t, Unknown, c.refused(RetireBag{Bag: "B9ZZZZZZ"}).Code)
	require.Equal(t, Unknown, c.refused(MergeBags{From: "B9ZZZZZZ", Into: bag}).Code)
	require.Equal(t, Malformed, c.refused(MergeBags{From: bag, Into: bag}).Code)
	require.Equal(t, Malformed, c.refused(PutIn{From: "stock/box", Lines: []events.Line{{Kind: "x", Qty: 1}}}).Code)
	require.Equal(t, Malformed, c.refused(PutIn{To: "stock/box", From: "stock/box"}).Code)
	require.Equal(t, Malformed, c.refused(PutIn{To: "bag/" + events.Place(bag), From: "stock/box", Lines: []events.Line{{Kind: "", Qty: 1}}}).Code)
	require.Equal(t, Conflict, c.refused(PutIn{To: "bag/" + events.Place(bag), From: "place/nowhere"}).Code)

	c.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "stock/box", Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 2}}})
	put := PutIn{To: "bag/" + events.Place(bag), From: "stock/box", Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 2}}}
	no = c.refused(put)
	require.Equal(t, "bag "+string(bag)+" holds old M6x1.0x25, and these are new: take another bag", no.Error())
	c.told(events.BagLabelled{Bag: "B9NEW000", Joint: "coils"})
	put.To = "bag/B9NEW000"
	c.told(c.ask(put))
	require.Equal(t, Conflict, c.refused(MergeBags{From: "B9NEW000", Into: bag}).Code)
	require.Equal(t, Conflict, c.refused(MergeBags{From: bag, Into: "B9NEW000"}).Code)
	c.told(c.ask(MergeBags{From: other, Into: bag}))
	require.Nil(t, c.ask(MergeBags{From: other, Into: bag}), "it is merged and retired")
	require.Equal(t, Conflict, c.refused(MergeBags{From: bag, Into: other}).Code)
	require.Equal(t, Conflict, c.refused(PutIn{To: "bag/" + events.Place(other), From: "stock/box", Lines: []events.Line{{Kind: "front-seal", Qty: 1}}}).Code)
	c.told(events.PiecesScrapped{From: "bag/B9NEW000", Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 2}}})
	c.told(c.ask(RetireBag{Bag: "B9NEW000"}))
	require.Nil(t, c.ask(RetireBag{Bag: "B9NEW000"}))
}

func TestGates(t *testing.T) {
	c := newCrew(t)
	require.Empty(t, c.job.Red(), "an engine as it came owes no second count")
	c.takeApart()
	c.buy()
	require.Equal(t, Conflict, c.refused(CheckBySecond{Step: "plugs-in", Second: "Ole", Total: 5}).Code, "it is not in")
	require.Equal(t, Unknown, c.refused(CheckBySecond{Step: "shells-in", Second: "Ole", Total: 5}).Code)
	require.Equal(t, Unknown, c.refused(CheckBySecond{Step: "nothing", Second: "Ole", Total: 5}).Code)
	c.together(&c.plan().Steps[c.step("plugs-in")])
	require.True(t, hasCode(c.job, RedGate))
	require.Contains(t, texts(c.job.Can("shells-in")), "Core plugs pressed, block plugs in, counted: not checked by a second person since")
	require.Equal(t, Malformed, c.refused(CheckBySecond{Step: "plugs-in", Second: "Ole", Total: -1}).Code)
	require.Equal(t, Malformed, c.refused(CheckBySecond{Step: "plugs-in", Second: "Ole"}).Code, "no number")
	require.Equal(t, NeedsTwo, c.refused(CheckBySecond{Step: "plugs-in", Total: 5}).Code)
	require.Equal(t, NeedsTwo, c.refused(CheckBySecond{Step: "plugs-in", Second: "Marit", Total: 5}).Code, "she did it")
	require.Equal(t, []events.Kind{"seal ring 16x22", "M16x1.5 plug", "M12x1.5 plug", "R1/4 plug", "core-plugs"}, c.s().GateKinds("plugs-in"))

	// a count that differs is stored, and the gate stays shut
	ev := c.ask(CheckBySecond{Step: "plugs-in", Second: "Ole", Total: 4}).(events.SecondChecked)
	require.False(t, ev.Agreed)
	c.counted(ev)
	require.Contains(t, texts(c.job.Can("shells-in")), "the second count of Ole on 12 May")
	ev = c.ask(CheckBySecond{Step: "plugs-in", Second: "Ole", Lines: []events.Line{{Kind: "seal ring 16x22", Qty: 1}, {Kind: "M16x1.5 plug", Qty: 1},
		{Kind: "M12x1.5 plug", Qty: 1}, {Kind: "R1/4 plug", Qty: 1}, {Kind: "core-plugs", Qty: 1}}}).(events.SecondChecked)
	require.False(t, ev.Agreed)

	// numbers cannot be tried: right or wrong, the next one does not count, before
	// one of those who did the work has counted again (R77)
	ev = c.ask(CheckBySecond{Step: "plugs-in", Second: "Ole", Total: 5}).(events.SecondChecked)
	require.False(t, ev.Agreed)
	require.True(t, ev.Early)
	c.counted(ev)
	require.True(t, hasCode(c.job, RedGate))
	for _, n := range []int{4, 5} {
		ev = c.ask(CheckBySecond{Step: "plugs-in", Second: "Marit", Total: n, Alone: true}).(events.SecondChecked)
		require.Equal(t, events.SecondChecked{Step: "plugs-in", Second: "Marit", Total: n, First: true, Agreed: n == 5}, ev)
		c.counted(ev)
		require.True(t, hasCode(c.job, RedGate), "the one who did it passes no gate")
	}
	require.Equal(t, NeedsTwo, c.refused(CheckBySecond{Step: "plugs-in", Second: "Marit", Total: 5}).Code, "she counted again already")
	ev = c.ask(CheckBySecond{Step: "plugs-in", Second: "Ole", Total: 5}).(events.SecondChecked)
	require.True(t, ev.Agreed)
	c.counted(ev)
	require.Empty(t, c.job.Can("shells-in"))
	require.Nil(t, c.ask(CheckBySecond{Step: "plugs-in", Second: "Ole", Total: 5}), "the gate is passed")

	// later work on what it checked shuts it again
	c.told(events.PiecesOut{Joint: "block-plugs", Holes: []events.Hole{"3"}})
	c.told(events.PiecesFitted{Joint: "block-plugs", Holes: []events.Hole{"3"}, All: true})
	require.True(t, hasCode(c.job, RedGate))
	c.told(c.ask(Override{Ask: "gate plugs-in", Operator: "Marit", Second: "Ole", Why: "saw it go in"}))
	require.False(t, hasCode(c.job, RedGate))
}

func TestAloneAfterAGapOfHours(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.together(&c.plan().Steps[c.step("plugs-in")])
	last := c.s().gate(c.step("plugs-in")).Since
	done := c.s().Fact(last).At
	ask := CheckBySecond{Step: "plugs-in", Second: "Marit", Total: 5, Alone: true, Now: done + int64(3*time.Hour/time.Microsecond)}
	no := c.refused(ask)
	require.Equal(t, NeedsTwo, no.Code)
	require.Equal(t, "Marit did this work 3 h ago, and alone asks for 4 h between", no.Fact)
	ask.Gap = 2 * time.Hour
	require.True(t, c.ask(ask).(events.SecondChecked).Alone)
	ask.Gap, ask.Now = 0, done+int64(4*time.Hour/time.Microsecond)
	c.counted(c.ask(ask))
	require.False(t, hasCode(c.job, RedGate))
}

func TestEndJob(t *testing.T) {
	c := newCrew(t)
	require.Equal(t, Malformed, c.refused(EndJob{How: "gone"}).Code)
	require.Equal(t, Malformed, c.refused(EndJob{How: events.Suspended}).Code)
	require.Contains(t, c.refused(EndJob{How: events.Released}).Fact, "Audit Ready to start is not signed")
	require.Equal(t, Conflict, func() Code { _, err := (&Job{}).Decide(EndJob{How: events.Released}); return err.(*Refusal).Code }())
	c.do("check-in")
	c.do("accessories-off")
	require.Contains(t, c.refused(EndJob{How: events.HandedBack}).Fact, "Shelf was not counted since a hand was last at it")
	c.counted(events.Counted{Place: "place/shelf", Lines: c.s().At("place/shelf"), All: true})
	require.NotNil(t, c.ask(EndJob{How: events.HandedBack}), "the bags were counted as they were filled")
	c.told(events.PiecesMoved{From: events.Place("bag/" + c.bagOf("alternator")), To: "place/shelf", Lines: []events.Line{{Kind: "M8x1.25x85 8.8 flange", Qty: 1}}})
	no := c.refused(EndJob{How: events.HandedBack})
	require.Contains(t, no.Fact, "was not counted since a hand was last at it")
	c.told(c.ask(Override{Ask: "job handed-back", Operator: "Marit", Second: "Ole", Why: "the owner counted it himself"}))
	ev := c.ask(EndJob{How: events.HandedBack})
	c.told(ev)
	require.Nil(t, c.ask(EndJob{How: events.HandedBack}))
	c.told(events.JobResumed{Why: "more money"})
	require.Nil(t, c.s().Ended)
	c.told(c.ask(EndJob{How: events.Suspended, Why: "waits for parts"}))
	require.Equal(t, events.Suspended, c.s().Ended.How)
}

func TestCorrect(t *testing.T) {
	c := newCrew(t)
	c.do("check-in")
	c.do("accessories-off")
	bag := events.Place("bag/" + c.bagOf("alternator"))
	c.counted(events.Counted{Place: bag, Lines: []events.Line{{Kind: "M8x1.25x85 8.8 flange", Qty: 1}, {Kind: "M10x1.5x85 8.8 flange", Qty: 1}}, All: true})
	wrong := events.FactID{Terminal: "b2", N: c.n}
	require.Len(t, c.job.Differences(), 1)
	instead := events.Counted{Place: bag, Lines: []events.Line{{Kind: "M8x1.25x85 8.8 flange", Qty: 1}, {Kind: "M10x1.5x85 8.8 flange", Qty: 2}}, All: true}
	require.Equal(t, Malformed, c.refused(Correct{Wrong: wrong, Instead: instead}).Code, "no reason")
	require.Equal(t, Unknown, c.refused(Correct{Wrong: events.FactID{Terminal: "b1", N: 1}, Why: "x"}).Code, "nobody here has seen it")
	require.Equal(t, Conflict, c.refused(Correct{Wrong: events.FactID{Terminal: "b2", N: 1}, Why: "x"}).Code, "the opening")
	require.Equal(t, Malformed, c.refused(Correct{Wrong: wrong, Instead: events.Counted{Place: bag, Lines: []events.Line{{Kind: "x", Qty: -1}}}, Why: "x"}).Code)
	deep := events.Event(events.Corrected{Wrong: wrong})
	for range events.MaxNest {
		deep = events.Corrected{Wrong: wrong, Instead: deep}
	}
	require.Equal(t, Malformed, c.refused(Correct{Wrong: wrong, Instead: deep, Why: "x"}).Code)
	require.Nil(t, c.ask(Correct{Wrong: wrong, Instead: events.Counted{Place: bag, Lines: []events.Line{{Kind: "M8x1.25x85 8.8 flange", Qty: 1}, {Kind: "M10x1.5x85 8.8 flange", Qty: 1}}, All: true}, Why: "x"}),
		"that is what stands")

	cor := c.ask(Correct{Wrong: wrong, Instead: instead, Why: "miscount"}).(events.Corrected)
	before := fingerprint(c.s())
	e := c.job.Preview(cor, nil)
	require.Len(t, e.Closed, 1)
	require.Empty(t, e.Opened)
	require.Empty(t, e.Gates)
	require.Empty(t, e.Acted)
	same(t, before, fingerprint(c.s()))
	c.told(cor)
	require.Empty(t, c.job.Differences())
	require.Nil(t, c.ask(Correct{Wrong: wrong, Instead: instead, Why: "miscount"}), "corrected already")
}

func TestPreviewShowsWhatLosesItsGround(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.build("first-start")
	var fitted events.FactID
	for _, r := range c.job.Facts() {
		if e, ok := r.Event.(events.PiecesFitted); ok && e.Joint == "oil-pan" {
			fitted = r.ID()
		}
	}
	c.told(c.ask(SignAudit{Point: "ready-to-start", Operator: "Marit", Second: "Ole"}))
	e := c.job.Preview(events.Corrected{Wrong: fitted, Why: "wrong job"}, nil)
	require.Contains(t, e.Gates, events.Step("pan-on"))
	require.Equal(t, []events.AuditPoint{"ready-to-start"}, e.Signatures)
	require.Contains(t, e.Acted[0], "the record of Ready to start was signed")
	// the slip went out before the pan went on: it keeps its lines
	require.Len(t, e.Acted, 1)
	var valves events.FactID
	for _, r := range c.job.Facts() {
		if e, ok := r.Event.(events.PartRemoved); ok && e.Part == "valves-exhaust" {
			valves = r.ID()
		}
	}
	e = c.job.Preview(events.Corrected{Wrong: valves, Why: "wrong job"}, nil)
	require.Contains(t, wordList(e.Acted), "slip S2AAAAAA went out")
}

func TestExchange(t *testing.T) {
	c := newCrew(t)
	require.Equal(t, Malformed, c.refused(Exchange{Part: "head"}).Code)
	require.Equal(t, Unknown, c.refused(Exchange{Part: "ghost", Why: "x"}).Code)
	require.Equal(t, Conflict, c.refused(Exchange{Part: "head-gasket", Why: "x"}).Code, "no holes of its own")
	require.Equal(t, Conflict, c.refused(Exchange{Part: "head", Why: "x"}).Code, "it is on")
	c.takeApart()
	ev := c.ask(Exchange{Part: "head", Why: "cracked"}).(events.Exchanged)
	require.Equal(t, events.Exchanged{Part: "head", Old: "head 1", New: "head 2", Why: "cracked"}, ev)
	c.told(ev)
	require.Equal(t, events.Host("head 3"), c.ask(Exchange{Part: "head", Why: "cracked too"}).(events.Exchanged).New)
}
