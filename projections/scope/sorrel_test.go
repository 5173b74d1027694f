package scope

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

func ids(p *plan.Plan, steps []plan.StepIndex) []string {
	out := []string{}
	for _, i := range steps {
		out = append(out, string(p.Steps[i].ID))
	}
	return out
}

func stepOf(t testing.TB, p *plan.Plan, id events.Step) plan.StepIndex {
	t.Helper()
	i, ok := p.Step(id)
	require.True(t, ok, "step %s", id)
	return i
}

func partOf(t testing.TB, p *plan.Plan, id events.Part) plan.PartIndex {
	t.Helper()
	i, ok := p.Part(id)
	require.True(t, ok, "part %s", id)
	return i
}

func markIDs(p *plan.Plan, marks []plan.MarkIndex) []string {
	var out []string
	for _, m := range marks {
		out = append(out, string(p.Marks[m].ID))
	}
	return out
}

// finished is an engine that was apart and is together again.
func finished(p *plan.Plan) *plan.Present {
	s := plan.NewPresent(p)
	s.Greedy(plan.Off, plan.BenchApart)
	s.Greedy(plan.BenchTogether, plan.On)
	return s
}

func camsOff(t testing.TB, p *plan.Plan) plan.Condition {
	return All(PartOff(partOf(t, p, "cam-intake")), PartOff(partOf(t, p, "cam-exhaust")))
}

// The known answers are those of the demo data's author, who found them with
// a program of his own and argued them to be least: here they are proved.

func TestSorrelCamsThroughTheBore(t *testing.T) {
	p := load(t, "sorrel-i4-20.yaml")
	s := finished(p)
	a, err := New(p).Find(s, camsOff(t, p), Options{})
	require.NoError(t, err)
	require.Equal(t, []string{
		"harness-off", "coils-off", "cam-cover-off", "one-set", "access-plug-out", "tensioner-pinned", "chain-hung", "phasers-off", "cams-off",
	}, ids(p, a.Steps))
	require.Equal(t, "proved least", a.Verdict())
	require.Equal(t, Cost{Pieces: 8, Steps: 9}, a.Cost)
	require.Len(t, a.Tally.Seats, 44)
	require.Equal(t, 45, a.Tally.Fasteners)
	require.Equal(t, 19, a.Tally.Parts)
	require.Equal(t, 8, a.Tally.Single())
	require.ElementsMatch(t, []string{"clearances-read", "two-turns", "timing-checked", "buckets-seen"}, markIDs(p, a.Tally.Void))

	require.Equal(t, "proved least", a.Back.Verdict())
	require.ElementsMatch(t, []string{
		"cams-on", "clearances", "bar-in", "phasers-on", "tensioner-released", "access-plug-on", "turn-twice", "timing-check",
		"buckets-look", "cam-cover-on", "coils-on", "harness-on",
	}, ids(p, a.Back.Steps))
	require.Equal(t, Cost{Steps: 12}, a.Back.Cost, "all that is new was used up on the way out")
	after := legal(t, s, a.Steps)
	one, _ := p.Mark("at-one")
	require.True(t, after.Mark(one), "set on the way")
	require.True(t, legal(t, after, a.Back.Steps).Equal(s), "the way back ends where it began")
}

func TestSorrelCamsByTheFrontCover(t *testing.T) {
	p := load(t, "sorrel-i4-20.yaml")
	s := finished(p)
	a, err := New(p).Find(s, camsOff(t, p), Options{Without: []plan.StepIndex{stepOf(t, p, "chain-hung")}})
	require.NoError(t, err)
	require.Equal(t, "proved least", a.Verdict())
	require.Len(t, a.Steps, 18)
	require.Contains(t, ids(p, a.Steps), "cover-off")
	require.Contains(t, ids(p, a.Steps), "chain-off")
	require.Len(t, a.Tally.Seats, 118)
	require.Equal(t, 119, a.Tally.Fasteners)
	require.Equal(t, 39, a.Tally.Parts)
	require.Equal(t, 31, a.Tally.Single())
	require.ElementsMatch(t, []string{
		"clearances-read", "two-turns", "timing-checked", "buckets-seen", "pre-oiled", "sealant-cured",
	}, markIDs(p, a.Tally.Void))
	require.Contains(t, ids(p, a.Back.Steps), "sensors-off", "pre-oil needs the hole of the oil switch")
	require.True(t, legal(t, legal(t, s, a.Steps), a.Back.Steps).Equal(s))
}

func TestSorrelRivals(t *testing.T) {
	p := load(t, "sorrel-i4-20.yaml")
	s := finished(p)
	f := New(p)
	first, err := f.Find(s, camsOff(t, p), Options{})
	require.NoError(t, err)
	rivals, err := f.Rivals(s, first, Options{})
	require.NoError(t, err)
	require.Len(t, rivals, 2, "with the chain hung from above the open cover, and with the chain off")
	require.Len(t, rivals[0].Steps, 17)
	require.Equal(t, 23, rivals[0].Cost.Pieces)
	require.Len(t, rivals[1].Steps, 18)
	require.Equal(t, 31, rivals[1].Cost.Pieces)

	c := f.Compare(first, rivals[1])
	require.Equal(t, "A", c.Less)
	require.Equal(t, []string{"access-plug-out", "chain-hung"}, c.OnlyA)
	require.Contains(t, c.OnlyB, "cover-off")
	require.Equal(t, []Line{{"seal ring 24x30", 1}}, c.UsedMoreByA)
	require.Contains(t, c.UsedMoreByB, Line{"Cam drive chain", 1})
	rows := map[string]Row{}
	for _, r := range c.Rows() {
		rows[r.What] = r
	}
	require.Equal(t, Row{"seats opened", "44", "118"}, rows["seats opened"])
	require.Equal(t, Row{"single-use pieces used up", "8", "31"}, rows["single-use pieces used up"])
	require.Equal(t, Row{"steps back", "12", "27"}, rows["steps back"])
	require.Equal(t, Row{"how sure", "proved least", "proved least"}, rows["how sure"])
	require.Equal(t, Row{"waiting", "0s", "2h0m0s"}, rows["waiting"])
	require.NotContains(t, rows, "hours there and back", "no step of this plan says how long it takes")
}

// TestSorrelEarlyAgainstLate asks the same while the engine is still open.
func TestSorrelEarlyAgainstLate(t *testing.T) {
	p := load(t, "sorrel-i4-20.yaml")
	late := finished(p)
	early := plan.NewPresent(p)
	early.Greedy(plan.Off, plan.BenchApart)
	cover := stepOf(t, p, "cover-on")
	for _, i := range func() []plan.StepIndex { did, _ := early.Clone().Greedy(plan.BenchTogether, plan.On); return did }() {
		if i == cover {
			break
		}
		early.Do(i)
	}
	f := New(p)
	now, err := f.Find(early, camsOff(t, p), Options{})
	require.NoError(t, err)
	then, err := f.Find(late, camsOff(t, p), Options{})
	require.NoError(t, err)
	c := f.Compare(now, then)
	require.Equal(t, "A", c.Less)
	require.Less(t, c.A.Seats, c.B.Seats)
	require.Equal(t, 2, c.A.Single, "the phaser bolts are used up either way")
	require.NotContains(t, c.A.Steps, "cam-cover-off")
}

// TestSorrelEveryPart asks for every part to come off the finished engine.
func TestSorrelEveryPart(t *testing.T) {
	p := load(t, "sorrel-i4-20.yaml")
	s := finished(p)
	f := New(p)
	for i := range p.Parts {
		a, err := f.out(s, PartOff(plan.PartIndex(i)), Options{})
		if p.Parts[i].Root || p.Parts[i].Stays {
			var no *NoWay
			require.ErrorAs(t, err, &no)
			require.True(t, no.Proved)
			continue
		}
		require.NoError(t, err, p.Parts[i].ID)
		require.Equal(t, "proved least", a.Verdict(), p.Parts[i].ID)
		way, ok := s.Way(PartOff(plan.PartIndex(i)), plan.Off, plan.BenchApart)
		require.True(t, ok)
		require.False(t, costOf(s, way).Less(a.Cost), "%s: the plan's own way costs %v, less than %v", p.Parts[i].ID, costOf(s, way), a.Cost)
		require.True(t, isOff(legal(t, s, a.Steps), plan.PartIndex(i)))
	}
}

// isOff reports whether a part is off.
func isOff(s *plan.Present, i plan.PartIndex) bool {
	goal := PartOff(i)
	return goal.Eval(s)
}
