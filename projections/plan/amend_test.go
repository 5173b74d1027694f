package plan

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func small(t testing.TB) *Plan {
	t.Helper()
	p, err := Load(smallFile)
	require.NoError(t, err)
	return p
}

// says is everything that a plan says: its exported fields, less lines and
// where the text came from.
func says(p *Plan) Plan {
	c := *p
	c.File, c.Hash, c.Source = "", "", nil
	c.names, c.guide, c.clears = names{}, guide{}, clears{}
	return strip(reflect.ValueOf(c)).Interface().(Plan)
}

// strip copies a value with every Line zero and unexported fields left out.
func strip(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.Struct:
		if v.Type().PkgPath() != reflect.TypeFor[Plan]().PkgPath() {
			out.Set(v)
			break
		}
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if f.IsExported() && f.Name != "Line" {
				out.Field(i).Set(strip(v.Field(i)))
			}
		}
	case reflect.Slice:
		if v.Len() > 0 {
			out.Set(reflect.MakeSlice(v.Type(), 0, v.Len()))
		}
		for i := range v.Len() {
			out.Set(reflect.Append(out, strip(v.Index(i))))
		}
	default:
		out.Set(v)
	}
	return out
}

func TestWriteReadsBackToTheSamePlan(t *testing.T) {
	for _, file := range []string{sorrelFile, smallFile} {
		p, err := Load(file)
		require.NoError(t, err)
		text := Write(p)
		q, err := Parse(p.File, text)
		require.NoError(t, err)
		require.Equal(t, says(p), says(q))
		require.Equal(t, string(text), string(Write(q)), "written twice is written alike")
		require.False(t, strings.Contains(string(text), "#"), "comments are left out")
		require.True(t, strings.Contains(string(text), `is: "off"`), "a word, for readers that would take it for a boolean")
		require.Greater(t, strings.Count(string(text), "\n"), len(p.Parts))
		before, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, before, p.Source, "writing leaves the plan alone")
	}
}

func amended(t *testing.T, p *Plan, list ...Amendment) *Plan {
	t.Helper()
	for _, a := range list {
		q, err := Amend(p, a)
		require.NoError(t, err)
		p = q
	}
	return p
}

func TestAmendAddsAltersAndDrops(t *testing.T) {
	base := small(t)
	before := string(base.Source)
	p := amended(t, base,
		Amendment{"add", "parts", "shield", "{in: cover, reuse: new, after: bracket}"},
		Amendment{"add", "holes", "cover:6", "{in: cover, clamps: [shield], fastener: M6x1.0x12 8.8 flange, grip: 2, depth: 12, thread-in: steel}"},
		Amendment{"add", "steps", "shield-off", "{section: off, takes-out: {cover: [6]}, removes: [shield], after: drained}"},
		Amendment{"add", "steps", "shield-on", "{section: 'on', fits: [shield], fastens: {cover: [6]}, when: [bracket-on]}"},
		Amendment{"add", "conditions", "cover-off", "shield-off"},
	)
	var broken Faults
	for _, f := range Check(p) {
		if f.Level == Broken {
			broken = append(broken, f)
		}
	}
	require.Len(t, broken, 1, "the order of the cover's bolts names them, and the new one has no place in it")
	require.Contains(t, broken[0].Text, "it misses 6")
	require.Zero(t, p.Totals, "what was counted by hand holds no more")
	i := part(t, p, "shield")
	require.Equal(t, part(t, p, "bracket")+1, i, "it stands behind the bracket")
	off := stepsOfPlan(t, p, "shield-off")[0]
	require.Equal(t, Off, p.Steps[off].Section)
	require.Equal(t, off, stepsOfPlan(t, p, "drained")[0]+1)
	s := NewPresent(p)
	s.Do(stepsOfPlan(t, p, "drained")[0])
	s.Do(stepsOfPlan(t, p, "bracket-off")[0])
	require.False(t, s.Can(stepsOfPlan(t, p, "cover-off")[0]))
	s.Do(off)
	require.True(t, s.Can(stepsOfPlan(t, p, "cover-off")[0]))

	back := amended(t, p,
		Amendment{"drop", "conditions", "cover-off", "shield-off"},
		Amendment{"drop", "steps", "shield-on", ""},
		Amendment{"drop", "steps", "shield-off", ""},
		Amendment{"drop", "holes", "cover:6", ""},
		Amendment{"drop", "parts", "shield", ""},
	)
	was := says(base)
	was.Totals = Totals{}
	require.Equal(t, was, says(back), "added and dropped again")
	require.Equal(t, before, string(base.Source), "the plan itself stays as it is")
}

// A job can have no plan at all, and be told to amend it.
func TestAmendOfNoPlan(t *testing.T) {
	for _, p := range []*Plan{{}, {Source: []byte(" \n")}} {
		_, err := Amend(p, Amendment{Op: "drop", Section: "holes", ID: "oil-pan:3"})
		require.EqualError(t, err, "amendment drop holes oil-pan:3: there is no plan to amend")
	}
}

func TestAmendOneHoleOfSeveral(t *testing.T) {
	p := amended(t, small(t), Amendment{"alter", "holes", "cover:2", "{fastener: M8x1.25x35 8.8 flange, depth: unknown, note: insert fitted}"})
	require.Equal(t, events.Kind("M8x1.25x35 8.8 flange"), p.Seats[seat(t, p, "cover:2")].Members[0].Kind)
	require.Equal(t, events.Kind("M8x1.25x30 8.8 flange"), p.Seats[seat(t, p, "cover:3")].Members[0].Kind)
	require.False(t, p.Seats[seat(t, p, "cover:2")].Depth.Known())
	require.Len(t, p.Seats, len(small(t).Seats))

	p = amended(t, p, Amendment{"drop", "holes", "cover:2", ""})
	_, ok := p.Seat("cover:2")
	require.False(t, ok)
	require.Len(t, p.Steps[stepsOfPlan(t, p, "cover-off")[0]].TakesOut, 2, "no step names it any more")
	p = amended(t, p, Amendment{"drop", "holes", "cover:5", ""})
	j, _ := p.Joint("bracket")
	require.Len(t, p.Joints[j].Seats, 2, "nor does the joint that shared it")
}

func TestAmendWritesOutARepetition(t *testing.T) {
	p := amended(t, sorrel(t),
		Amendment{"alter", "parts", "rod-2", "{note: bent, graded: by weight}"},
		Amendment{"alter", "holes", "rod-3-cap:1", "{reuse: new}"})
	require.Equal(t, "bent", p.Parts[part(t, p, "rod-2")].Note)
	require.Empty(t, p.Parts[part(t, p, "rod-1")].Note)
	require.Equal(t, ReuseNew, p.Seats[seat(t, p, "rod-3-cap:1")].Members[0].Reuse.Rule)
	require.Equal(t, ReuseMeasure, p.Seats[seat(t, p, "rod-3-cap:2")].Members[0].Reuse.Rule)
	require.Len(t, p.Parts, 127)
}

func TestAmendDropsEveryMention(t *testing.T) {
	p := amended(t, sorrel(t),
		Amendment{"drop", "loans", "crank-pin", ""},
		Amendment{"drop", "marks", "balance-timed", ""},
		Amendment{"drop", "measurements", "guide-groove", ""},
		Amendment{"drop", "cavities", "intake-runners", ""},
		Amendment{"drop", "steps", "buckets-look", ""},
		Amendment{"drop", "joints", "compressor", ""},
		Amendment{"drop", "parts", "compressor", ""},
	)
	text := string(Write(p))
	for _, word := range []string{"crank-pin", "balance-timed", "guide-groove", "intake-runners", "buckets-look", "compressor"} {
		require.False(t, strings.Contains(text, word), word)
	}
}

func TestAmendRefuses(t *testing.T) {
	p := small(t)
	for _, row := range []struct {
		a    Amendment
		want string
	}{
		{Amendment{"add", "parts", "cover", "{in: block}"}, "the plan has it already; alter it"},
		{Amendment{"alter", "parts", "covr", "{in: block}"}, "the plan has no such entry"},
		{Amendment{"drop", "parts", "covr", ""}, "the plan has no such entry"},
		{Amendment{"change", "parts", "cover", "{in: block}"}, `op "change" is none of add, drop, alter`},
		{Amendment{"add", "part", "lid", "{in: block}"}, `section "part" is none of parts`},
		{Amendment{"add", "parts", "lid", "in block"}, "text: a mapping is wanted"},
		{Amendment{"add", "parts", "lid", "{in: [}"}, "text: "},
		{Amendment{"add", "parts", "lid", "{in: blok}"}, `no part "blok" in this plan; did you mean "block"?`},
		{Amendment{"add", "steps", "lid-off", "{removes: [cover]}"}, "off, bench or on is wanted"},
		{Amendment{"add", "parts", "lid", "{in: block, after: lidd}"}, `after: no "lidd"`},
		{Amendment{"alter", "parts", "cover", "{id: lid}"}, "an id cannot be altered"},
		{Amendment{"add", "holes", "cover", "{}"}, "joint:hole is wanted"},
		{Amendment{"add", "holes", "lid:1", "{}"}, `no joint "lid"`},
		{Amendment{"alter", "holes", "cover:9", "{depth: 3}"}, "no such hole"},
		{Amendment{"add", "holes", "cover:1", "{depth: 3}"}, "has this hole already"},
		{Amendment{"drop", "conditions", "cover-off", "shaft-off"}, "no such condition"},
		{Amendment{"drop", "parts", "block", ""}, "part is missing: what lies on the bench"},
	} {
		_, err := Amend(p, row.a)
		require.ErrorContains(t, err, row.want, "%+v", row.a)
		require.ErrorContains(t, err, "amendment "+row.a.Op, "the amendment is named")
	}
}

func TestEmptyGrowsByAmendments(t *testing.T) {
	p := Empty("Old pump, Åse's")
	require.Equal(t, "Old pump, Åse's", p.Family)
	require.Empty(t, p.Parts)
	require.Empty(t, Check(p))
	p = amended(t, p,
		Amendment{"add", "joints", "J1", "{name: Lid, holes: [{at: 1..8, fastener: M6x1.0x20 8.8 flange}, {at: 9, fastener: unknown}]}"},
		Amendment{"add", "parts", "lid", "{}"},
		Amendment{"alter", "holes", "J1:9", "{fastener: M6x1.0x40 8.8 flange}"},
	)
	require.Equal(t, SeatIndex(8), seat(t, p, "J1:9"))
	require.Equal(t, 9, NewPresent(p).Sum().Fasteners)
	require.False(t, Check(p).Broken())
	for _, name := range []string{"", "  ", "ø", strings.Repeat("x", 300), "a\x00b: {", "\xff"} {
		require.NotPanics(t, func() { Empty(name) }, "%q", name)
	}
}

func TestFromRecord(t *testing.T) {
	rec := Recorded{
		ID: "Job 4K7", Family: "Some old twin",
		Joints: []RecordedJoint{
			{ID: "shroud", Name: "Shroud", Holes: []RecordedHole{{"1", "M6x1.0x16 8.8 flange"}, {"2", "M6x1.0x16 8.8 flange"}, {"3", ""}}},
			{ID: "drain", Holes: []RecordedHole{{"1", "M14x1.5 plug"}}},
			{ID: "pan", Holes: []RecordedHole{{"1", "M6x1.0x20 8.8 flange"}}},
		},
		Parts: []RecordedPart{
			{ID: "shroud", Freed: []events.Joint{"shroud"}},
			{ID: "gasket-like thing", Count: 2},
			{ID: "pan", Freed: []events.Joint{"pan"}},
		},
	}
	_, err := FromRecord(rec)
	require.ErrorContains(t, err, `id is "gasket-like thing"`)
	rec.Parts[1].ID = "shims"
	p, err := FromRecord(rec)
	require.NoError(t, err)
	var off, on []string
	for i := range p.Steps {
		if p.Steps[i].Section == Off {
			off = append(off, string(p.Steps[i].ID))
		} else {
			on = append([]string{strings.TrimSuffix(string(p.Steps[i].ID), "-on") + "-off"}, on...)
		}
	}
	require.Equal(t, []string{"shroud-off", "shims-off", "drain-off", "pan-off"}, off)
	require.Equal(t, off, on, "on is the reverse of off")
	faults := Check(p)
	require.False(t, faults.Broken(), faults.Error())
	require.Contains(t, faults.Error(), "unknown")
	require.Contains(t, faults.Error(), "joint shroud hole 3")
	require.Equal(t, UnknownKind, p.Seats[seat(t, p, "shroud:3")].Members[0].Kind)
	require.Equal(t, 2, p.Parts[part(t, p, "shims")].Count)
	s := NewPresent(p)
	require.NotEmpty(t, s.Free(part(t, p, "pan")))
	steps, ok := s.PresumedBefore(part(t, p, "pan"))
	require.True(t, ok)
	require.Equal(t, off, stepIDs(p, steps))

	rec.Parts[2].Freed = []events.Joint{"pann"}
	_, err = FromRecord(rec)
	require.ErrorContains(t, err, `part pan: joint "pann" was never recorded`)
}
