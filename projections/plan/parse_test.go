package plan

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// slowDistance is the optimal string alignment distance by its definition.
func slowDistance(a, b string) int {
	switch {
	case a == "":
		return len(b)
	case b == "":
		return len(a)
	}
	cost := 1
	if a[len(a)-1] == b[len(b)-1] {
		cost = 0
	}
	least := min(slowDistance(a[:len(a)-1], b)+1, slowDistance(a, b[:len(b)-1])+1, slowDistance(a[:len(a)-1], b[:len(b)-1])+cost)
	if len(a) > 1 && len(b) > 1 && a[len(a)-1] == b[len(b)-2] && a[len(a)-2] == b[len(b)-1] {
		least = min(least, slowDistance(a[:len(a)-2], b[:len(b)-2])+1)
	}
	return least
}

func TestDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.StringMatching(`[abc]{0,6}`).Draw(t, "a")
		b := rapid.StringMatching(`[abc]{0,6}`).Draw(t, "b")
		limit := rapid.IntRange(0, 7).Draw(t, "limit")
		require.Equal(t, min(slowDistance(a, b), limit+1), distance(a, b, limit))
	})
}

func TestNearest(t *testing.T) {
	for _, row := range []struct{ word, want string }{
		{"covr", "cover"}, {"udner", "under"}, {"cover-of", "cover-off"}, {"1", ""}, {"flywheel", ""}, {"", ""},
	} {
		require.Equal(t, row.want, Nearest(row.word, []string{"under", "cover", "cover-off", "2"}), row.word)
	}
}

func TestSpread(t *testing.T) {
	for _, row := range []struct {
		word string
		want string
		ok   bool
	}{
		{"1..4", "1 2 3 4", true}, {"I1..I3", "I1 I2 I3", true}, {"I1..3", "I1 I2 I3", true}, {"cap-9..11", "cap-9 cap-10 cap-11", true},
		{"7", "7", true}, {"1Ia", "1Ia", true}, {"4..1", "", false}, {"I1..E3", "", false}, {"1..5000", "", false},
	} {
		words, ok := spread(row.word)
		require.Equal(t, row.ok, ok, row.word)
		require.Equal(t, row.want, strings.Join(words, " "), row.word)
	}
}

func TestParseCollectsEveryFault(t *testing.T) {
	src, err := os.ReadFile(smallFile)
	require.NoError(t, err)
	text := strings.ReplaceAll(string(src), "mating: [cover]", "mating: [covr]")
	text = strings.ReplaceAll(text, "sets: [turned]", "sets: [turnd]")
	_, err = Parse("x.yaml", []byte(text))
	var faults Faults
	require.True(t, errors.As(err, &faults))
	require.Len(t, faults, 2)
	require.Equal(t, `x.yaml:13: part bracket: mating: no part "covr" in this plan; did you mean "cover"?`, faults[0].String())
	require.Equal(t, "turned", faults[1].Nearest)
	require.True(t, faults.Broken())
}

func TestParseKnowsWhatItRead(t *testing.T) {
	p := sorrel(t)
	require.Equal(t, "Sorrel I4-20", p.Family)
	require.Equal(t, 3, p.Edition)
	require.True(t, p.Demo)
	require.Len(t, p.Hash, 64)
	require.Equal(t, sorrelFile+":3", p.At(3))

	cover := p.Parts[part(t, p, "front-cover")]
	require.Equal(t, Sealant{Used: true, Lot: "any", OpenTime: 5 * time.Minute}, cover.Sealant)
	require.Equal(t, cavityOf(t, p, "timing-case"), cover.Cavity)
	require.Equal(t, OwnSeatMeasure, p.Parts[part(t, p, "buckets")].OwnSeat)
	require.Equal(t, "Crank sprocket", p.Parts[part(t, p, "crank-sprocket")].Name, "the id in words")

	stud := p.Seats[seat(t, p, "exhaust:9")]
	require.Len(t, stud.Members, 2)
	require.Equal(t, []Role{RoleStud, RoleNut}, []Role{stud.Members[0].Role, stud.Members[1].Role})
	require.True(t, stud.Members[0].Stays)
	require.Equal(t, ReuseNewIfOut, stud.Members[0].Reuse.Rule)
	require.Equal(t, []PartIndex{part(t, p, "exhaust-gasket"), part(t, p, "exhaust-manifold")}, stud.Clamps)
	washer := p.Seats[seat(t, p, "head:9")]
	require.Equal(t, RoleWasher, washer.Members[0].Role)
	require.Equal(t, ReuseMeasure, washer.Members[1].Reuse.Rule)
	require.Equal(t, "head-bolt-thinning", p.Measurements[washer.Members[1].Reuse.Measure].ID)
	require.False(t, p.Seats[seat(t, p, "gallery-plug:1")].Moves())
	require.Empty(t, p.Seats[seat(t, p, "bellhousing:3")].Members)

	var rods, head Tightening
	for _, x := range p.Tightening {
		switch x.ID {
		case "rod-caps":
			rods = x
		case "head":
			head = x
		}
	}
	require.Len(t, rods.Groups[0].Holes, 8)
	require.Len(t, rods.Groups[0].Editions, 2)
	angle := rods.Groups[0].Editions[0].Stages[1]
	require.Equal(t, []float64{90, 94}, []float64{angle.Min, angle.Max})
	stretch := rods.Groups[0].Editions[1].Stages[1]
	require.Equal(t, StageStretch, stretch.Kind)
	require.InDelta(t, 0.14, stretch.Min, 1e-12)
	require.Equal(t, "2", head.Groups[0].Editions[0].Edition)
	require.Len(t, head.Order, 10)

	rag := p.Loans[loan(t, p, "rag")]
	require.Zero(t, rag.Count)
	require.True(t, rag.AnyCavity)
	require.Equal(t, []PartIndex{part(t, p, "head")}, rag.Reminds.Removal)
	require.Contains(t, rag.Stops.Acts, Turning)
	start, _ := p.AuditPoint("ready-to-start")
	require.Contains(t, p.AuditPoints[start].Needs, CavitiesClosed)
	require.Equal(t, start, p.Steps[stepsOfPlan(t, p, "first-start")[0]].Audit)
	require.Equal(t, 2*time.Hour, p.Steps[stepsOfPlan(t, p, "sealant-wait")[0]].Wait)
	require.True(t, p.Steps[stepsOfPlan(t, p, "bar-in")[0]].Optional)
}

func TestClosedByIsTheOtherSideOfOpenWhen(t *testing.T) {
	p := small(t)
	sump := cavityOf(t, p, "sump")
	s := NewPresent(p)
	require.False(t, s.Open(sump))
	s.SetSeat(seat(t, p, "drain:1"), SeatEmpty)
	require.True(t, s.Open(sump))
	s.SetSeat(seat(t, p, "drain:1"), SeatFilled)
	require.False(t, s.Open(sump))
	s.SetPart(part(t, p, "cover"), PartPartly)
	require.True(t, s.Open(sump), "hanging on one bolt is not closed")
	c := Condition{Op: OfCavity, Cavity: sump, Is: IsOpen}
	s.SetPart(part(t, p, "cover"), PartOn)
	why := c.Explain(s)
	require.Equal(t, "Sump: closed", why[0].Text)
	require.Equal(t, []string{"cover-off", "plug-out"}, stepIDs(p, why[0].By))
}

func TestConditionSaysWhy(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	when := func(step string) *Condition { return &p.Steps[stepsOfPlan(t, p, step)[0]].When }
	why := when("phasers-off").Explain(s)
	require.Len(t, why, 3)
	require.Equal(t, "Crank at one: not done, or void", why[0].Text)
	require.Equal(t, "Cam bar: not in", why[1].Text)
	require.Equal(t, "Cam drive chain: on, or Tensioner lock pin: not in and Chain hanger: not in", why[2].Text)
	require.Len(t, why[2].Any, 2)
	require.Len(t, why[2].Any[1], 2)
	require.Contains(t, why[2].Clear, "do chain-off; or do ")

	s.SetPart(part(t, p, "chain"), PartOff)
	require.Len(t, when("phasers-off").Explain(s), 2, "one way in is enough")
	require.Nil(t, when("check-in").Explain(s))
}

// Whatever the bytes, Parse gives a plan or faults, soon, and a plan that it
// gives can be asked everything.
func FuzzParse(f *testing.F) {
	files, err := filepath.Glob("../../testdata/plans/*.yaml")
	require.NoError(f, err)
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(src)
	}
	f.Add([]byte("plan: {id: x}\nparts: [{id: a, in: b}, {id: b, in: a}]"))
	f.Add([]byte("a: &a [*a]"))
	f.Add([]byte("plan: {id: x}\nsteps: {off: [{id: s, for: 1..64, when: ['s']}]}"))
	f.Add([]byte(strings.Repeat("[", 2000)))
	f.Add([]byte("\xff\xfe\x00"))
	f.Fuzz(func(t *testing.T, src []byte) {
		if len(src) > 100_000 {
			return
		}
		p, err := Parse("fuzz", src)
		if err != nil {
			var faults Faults
			require.True(t, errors.As(err, &faults))
			require.NotEmpty(t, faults)
			require.NotPanics(t, func() { CheckSource("fuzz", src) })
			return
		}
		q, err := Parse("fuzz", Write(p))
		require.NoError(t, err, "what is written is read")
		require.Equal(t, len(p.Seats), len(q.Seats))
		s := NewPresent(p)
		for i := range p.Steps {
			require.Equal(t, s.Can(StepIndex(i)), s.CanDo(StepIndex(i)) == nil)
			s.Do(StepIndex(i))
		}
		Check(p)
	})
}
