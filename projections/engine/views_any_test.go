package engine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// everything writes down what every view says of a job.
func everything(j *Job) string {
	var b strings.Builder
	s := j.State()
	fmt.Fprintf(&b, "now %+v\nmissing %+v\nred %+v\n", j.WhatNow(), j.Missing(), j.Red())
	fmt.Fprintf(&b, "differences %+v\nexplain %+v\nintake %+v\n", j.Differences(), j.Explain(), j.Intake())
	for _, p := range s.AuditPoints() {
		a, _ := j.Audit(p.ID)
		fmt.Fprintf(&b, "audit %+v %+v %s\n", a.Red, a.Carried, a.Record)
	}
	for _, act := range []events.Act{events.Turning, events.Cranking, events.Heating, "flying"} {
		fmt.Fprintf(&b, "may %s %v\n", act, j.MayDo(act))
	}
	for _, n := range []string{"part buckets", "part head", "hole front-cover:18", "joint front-cover", "joint nowhere", "bag B2AAAAAA", "loan rag",
		"cavity sump", "case C2AAAAAA", "kind M8x1.25x45 8.8 flange", "thing", "", "mark two-turns"} {
		w := j.Where(n)
		if w.Hole != nil {
			fmt.Fprintf(&b, "hole %+v\n", *w.Hole)
			w.Hole = nil
		}
		fmt.Fprintf(&b, "where %+v\n", w)
	}
	for _, jt := range anyJoint {
		for _, h := range anyHole {
			for _, k := range anyKind[:4] {
				fmt.Fprintln(&b, j.ThisOne(jt, h, k, "bag/B2AAAAAA"))
			}
		}
	}
	for _, c := range anyCase {
		a, ok := j.Ladder(c, NotInLine)
		fmt.Fprintln(&b, a, ok)
	}
	for _, g := range s.Gates() {
		if g.Check != nil {
			fmt.Fprintf(&b, "check %+v\n", *g.Check)
			g.Check = nil
		}
		fmt.Fprintf(&b, "gate %+v\n", g)
	}
	return b.String()
}

// same compares two long texts and shows only the first lines that differ.
func same(t require.TestingT, a, b string, args ...any) {
	if a == b {
		return
	}
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		require.Equal(t, x[i], y[i], args...)
	}
	require.Equal(t, len(x), len(y), args...)
}

// Whatever is told, in whatever order it arrives, every view answers, and
// answers the same; none of them changes the state.
func TestEveryViewAnswersWhateverIsTold(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := draw{rt}
		facts := history(d, text, 12)
		live := &Job{}
		live.Load(facts)
		before := fingerprint(live.State())
		said := everything(live)
		same(rt, said, everything(live))
		same(rt, before, fingerprint(live.State()))
		require.NoError(rt, live.State().Book().Verify())
		other := &Job{}
		for _, i := range rapid.Permutation(indices(len(facts))).Draw(rt, "order") {
			other.Apply(&facts[i])
		}
		same(rt, said, everything(other))
	})
}

// What is refused is refused with the fact and the next action, and what is
// allowed can be stored: it is what the rule says of the state, nothing else.
func TestAsksNeverPanic(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := draw{rt}
		j := &Job{}
		j.Load(history(d, text, 10))
		before := fingerprint(j.State())
		for _, c := range anyAsks(d) {
			ev, err := j.Decide(c)
			if err != nil {
				no, ok := err.(*Refusal)
				require.True(rt, ok, "%T %v", c, err)
				require.Nil(rt, ev)
				require.NotEmpty(rt, no.Fact)
				require.NotEmpty(rt, no.Next)
				require.NotEmpty(rt, no.Code)
			}
			same(rt, before, fingerprint(j.State()), "%T changed the state", c)
		}
	})
}

func anyAsks(d draw) []Command {
	badge := func(l string) events.Badge { return pick(d, []events.Badge{"", "Marit", "Ole"}, l) }
	code := pick(d, anyBag, "bag")
	other := pick(d, anyBag, "other")
	c := pick(d, anyCase, "case")
	part := pick(d, anyPart, "part")
	return []Command{
		SendOut{Slip: code, Parts: []events.Part{part}}, SendOut{},
		SignAudit{Point: pick(d, []events.AuditPoint{"ready-to-start", "released", "nothing"}, "point"), Operator: badge("o"), Second: badge("s")},
		EndJob{How: pick(d, []events.JobEnd{events.Released, events.HandedBack, events.Suspended, "gone"}, "how"), Why: "so"},
		CheckBySecond{Step: pick(d, []events.Step{"cover-on", "plugs-in", "shells-in", "nothing"}, "step"), Second: badge("s2"), Total: d.n("total")},
		RetireBag{Bag: code}, MergeBags{From: code, Into: other}, PutIn{To: pick(d, anyPlace, "to"), From: pick(d, anyPlace, "from"), Lines: d.lines()},
		WriteOff{Short: d.short(), Operator: badge("o3"), Second: badge("s3"), Why: "looked"},
		TryExtraction{Case: c, Method: pick(d, []string{Soak, WeldNut, "axe"}, "method"), Minutes: d.n("minutes")},
		ExtractStud{Case: c, Hole: pick(d, []events.HoleState{events.HoleInsert, events.HoleOriginal, "gone"}, "hole"), DepthMm: float64(d.n("depth"))},
		Override{Ask: pick(d, []string{"step cover-on", "audit released", "act turning", "case C2AAAAAA", "cavity sump", "part head", "job released", "joint oil-pan", "x"}, "ask"),
			Operator: badge("o4"), Second: badge("s4"), Why: "so"},
		Correct{Wrong: d.fact(), Why: "test"}, Correct{Wrong: d.fact(), Instead: events.BagOpened{Bag: code}, Why: "wrong bag"},
		Settle{Facts: []events.FactID{d.fact(), d.fact()}, Falls: d.fact()},
		Exchange{Part: part, Why: "cracked"}, ReleaseHold{Hold: "h1"},
		Tell{Event: events.Counted{Place: "bag/B2AAAAAA", Lines: d.lines(), All: true}},
	}
}
