package plan

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/fastener"
)

const sorrelFile = "../../testdata/plans/sorrel-i4-20.yaml"

func sorrel(t testing.TB) *Plan {
	t.Helper()
	p, err := Load(sorrelFile)
	require.NoError(t, err)
	return p
}

func part(t testing.TB, p *Plan, id events.Part) PartIndex {
	t.Helper()
	i, ok := p.Part(id)
	require.True(t, ok, "part %s", id)
	return i
}

func seat(t testing.TB, p *Plan, id events.Seat) SeatIndex {
	t.Helper()
	i, ok := p.Seat(id)
	require.True(t, ok, "seat %s", id)
	return i
}

func stepsOfPlan(t testing.TB, p *Plan, ids ...string) []StepIndex {
	t.Helper()
	var out []StepIndex
	for _, id := range ids {
		i, ok := p.Step(events.Step(id))
		require.True(t, ok, "step %s", id)
		out = append(out, i)
	}
	return out
}

func stepIDs(p *Plan, steps []StepIndex) []string {
	var out []string
	for _, i := range steps {
		out = append(out, string(p.Steps[i].ID))
	}
	return out
}

// apart is the Sorrel with everything off that a step takes off, its head at
// the machine shop.
func apart(t testing.TB, p *Plan) *Present {
	t.Helper()
	s := NewPresent(p)
	s.Greedy(Off, BenchApart)
	return s
}

// finished is the Sorrel after it was apart and together again.
func finished(t testing.TB, p *Plan) *Present {
	t.Helper()
	s := apart(t, p)
	s.Greedy(BenchTogether, On)
	return s
}

// The known answers below are those of the demo data's author, worked out
// with a program of his own.

func TestSorrelTotals(t *testing.T) {
	p := sorrel(t)
	sum := NewPresent(p).Sum()
	require.Equal(t, 220, sum.Threaded)
	require.Equal(t, 11, sum.Studs)
	require.Equal(t, 11, sum.Nuts)
	require.Equal(t, 8, sum.Washers)
	require.Equal(t, 231, sum.Seats)
	require.Equal(t, 250, sum.Fasteners)
	require.Equal(t, 293, sum.Parts)
	require.Equal(t, 543, sum.Pieces)
	for kind, n := range map[events.Kind]int{"locks": 32, "buckets": 16, "main-shells-upper": 5, "main-shells-lower": 5} {
		require.Equal(t, n, sum.ByKind[kind], kind)
	}
	require.Equal(t, 16, sum.ByKind["valves-intake"]+sum.ByKind["valves-exhaust"])
	require.Len(t, p.Parts, 127)
	require.Len(t, p.Loans, 29)
	require.Len(t, p.Marks, 16)
	require.Len(t, p.Cavities, 11)
	var sections [4]int
	for i := range p.Steps {
		sections[p.Steps[i].Section]++
	}
	require.Equal(t, 44, sections[Off])
	require.Equal(t, 28, sections[BenchApart]+sections[BenchTogether])
	require.Equal(t, 57, sections[On])
}

func TestSorrelByThreadAndLength(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	threads, lengths := map[string]int{}, map[float64]int{}
	for i := range p.Seats {
		if s.Seat(SeatIndex(i)) == SeatAbsent {
			continue
		}
		for _, m := range p.Seats[i].Members {
			if m.Role == RoleWasher {
				continue
			}
			threads[m.Spec.Thread.String()]++
			if mm, ok := m.Spec.Length().Mm(); ok && m.Role != RoleNut {
				lengths[mm]++
			} else if m.Role == RoleNut {
				lengths[-1]++
			} else {
				lengths[0]++
			}
		}
	}
	require.Equal(t, map[string]int{
		"M6x1.0": 92, "M8x1.25": 78, "M10x1.5": 32, "M8x1.0": 8, "M10x1.0": 8, "M12x1.25": 6, "M10x1.25": 4, "M14x1.25": 4,
		"M14x1.5": 3, "M12x1.5": 2, "M30x1.5": 1, "M24x1.5": 1, "R1/8": 1, "M16x1.5": 1, "R1/4": 1,
	}, threads)
	require.Equal(t, map[float64]int{
		12: 8, 16: 16, 20: 33, 22: 8, 25: 22, 30: 12, 35: 15, 40: 32, 45: 17, 50: 8, 60: 5, 65: 5, 70: 2, 75: 2, 80: 4,
		85: 7, 95: 10, 110: 2, 150: 10, -1: 11, 0: 13,
	}, lengths)
}

func TestSorrelFlangeLayout(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	v, ok := p.Variant("tensioner-layout")
	require.True(t, ok)
	s.SetVariant(v, slices.IndexFunc(p.Variants[v].Options, func(o Option) bool { return o.ID == "flange" }))
	sum := s.Sum()
	require.Equal(t, 221, sum.Threaded, "one bolt more")
	require.Equal(t, 7, sum.Washers, "no seal ring")
	require.Equal(t, 543, sum.Pieces)
	s.SetVariant(v, p.Variants[v].Default)
	require.True(t, s.Equal(NewPresent(p)))
}

func TestSorrelOptionalParts(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	s.SetAbsent(part(t, p, "compressor"), true)
	s.SetAbsent(part(t, p, "friction-washer"), true)
	sum := s.Sum()
	require.Equal(t, 543-1-4-1, sum.Pieces, "the compressor, its four bolts, the washer")
	_, never := s.Greedy(Off, BenchApart)
	require.Equal(t, []string{"chain-hung"}, stepIDs(p, never))
	_, never = s.Greedy(BenchTogether, On)
	require.Equal(t, []string{"bar-in"}, stepIDs(p, never))
}

func TestSorrelFullyApartAndTogether(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	_, never := s.Greedy(Off, BenchApart)
	require.Equal(t, []string{"chain-hung"}, stepIDs(p, never))
	var on []string
	pieces := 0
	for i := range p.Parts {
		if s.there(PartIndex(i)) {
			on = append(on, string(p.Parts[i].ID))
			if p.Parts[i].Stays {
				pieces += p.Parts[i].Count
			}
		}
	}
	require.Equal(t, []string{"block", "bedplate-dowels", "head-dowels"}, on)
	require.Equal(t, 4, pieces, "dowels")
	studs := 0
	for i := range p.Seats {
		if s.held(SeatIndex(i)) {
			require.Equal(t, events.Seat("gallery-plug:1"), p.Seats[i].ID)
		}
		for _, m := range p.Seats[i].Members {
			if m.Stays && m.Role == RoleStud {
				studs++
			}
		}
	}
	require.Equal(t, 11, studs)

	_, never = s.Greedy(BenchTogether, On)
	require.Equal(t, []string{"bar-in"}, stepIDs(p, never))
	for i := range p.Loans {
		require.Zero(t, s.Loan(LoanIndex(i)), "loan %s is left in", p.Loans[i].ID)
	}
	for i := range p.Seats {
		if len(p.Seats[i].Members) > 0 && s.Seat(SeatIndex(i)) != SeatAbsent {
			require.Equal(t, SeatFinished, s.Seat(SeatIndex(i)), p.Seats[i].ID)
		}
	}
	for i := range p.Parts {
		require.Equal(t, PartOn, s.Part(PartIndex(i)), p.Parts[i].ID)
	}
}

func TestSorrelWhileTheHeadIsAway(t *testing.T) {
	p := sorrel(t)
	s := apart(t, p)
	back := stepsOfPlan(t, p, "head-back")[0]
	var did []string
	for again := true; again; {
		again = false
		for i := range p.Steps {
			step := StepIndex(i)
			if step != back && !p.Steps[i].Section.Apart() && !s.IsDone(step) && s.Can(step) && !slices.Contains(did, string(p.Steps[i].ID)) {
				s.Do(step)
				did = append(did, string(p.Steps[i].ID))
				again = true
			}
		}
	}
	require.ElementsMatch(t, []string{
		"piston-1-built", "piston-2-built", "piston-3-built", "piston-4-built", "bedplate-shells-in", "rear-seal-in",
		"front-seal-in", "pump-build", "cam-cover-build", "intake-build", "rail-build",
		"plugs-in", "shells-in", "crank-on", "mains-tried", "bedplate-on", "end-play", "rear-seal-on", "liners-clamped",
		"rod-1-on", "rod-2-on", "rod-3-on", "rod-4-on", "pickup-on", "balance-on", "sprocket-on", "holes-dried", "thermostat-on",
	}, did)
}

var (
	boreOut   = []string{"harness-off", "coils-off", "cam-cover-off", "one-set", "access-plug-out", "tensioner-pinned", "chain-hung", "phasers-off", "cams-off"}
	boreBack  = []string{"cams-on", "clearances", "bar-in", "phasers-on", "tensioner-released", "access-plug-on", "turn-twice", "timing-check", "buckets-look", "cam-cover-on", "coils-on", "harness-on"}
	coverOut  = []string{"harness-off", "flywheel-off", "stand-on", "drain", "accessories-off", "bracket-off", "coils-off", "cam-cover-off", "one-set", "pulley-off", "pump-off", "pan-off", "cover-off", "tensioner-pinned", "tensioner-off", "chain-off", "phasers-off", "cams-off"}
	boreVoid  = []string{"clearances-read", "two-turns", "timing-checked", "buckets-seen"}
	coverVoid = append([]string{"pre-oiled", "sealant-cured"}, boreVoid...)
)

// legal demands that each step can be done when its turn comes.
func legal(t *testing.T, s *Present, steps []StepIndex) {
	t.Helper()
	now := s.Clone()
	for _, i := range steps {
		require.True(t, now.Can(i), "%s: %v", s.p.Steps[i].ID, now.CanDo(i))
		require.False(t, now.IsDone(i), s.p.Steps[i].ID)
		now.Do(i)
		require.True(t, now.IsDone(i), s.p.Steps[i].ID)
	}
}

func markIDs(p *Plan, marks []MarkIndex) []string {
	var out []string
	for _, m := range marks {
		out = append(out, string(p.Marks[m].ID))
	}
	return out
}

func TestSorrelCamsOutThroughTheBore(t *testing.T) {
	p := sorrel(t)
	s := finished(t, p)
	before := s.Clone()
	steps := stepsOfPlan(t, p, boreOut...)
	legal(t, s, steps)
	tally := s.Tally(steps)
	require.Equal(t, 9, tally.Steps)
	require.Len(t, tally.Seats, 44)
	require.Equal(t, 45, tally.Fasteners)
	require.Equal(t, 19, tally.Parts)
	require.Equal(t, 8, tally.Single(), "%v", tally.Used)
	require.ElementsMatch(t, boreVoid, markIDs(p, tally.Void))
	one, _ := p.Mark("at-one")
	require.True(t, s.Mark(one))

	back := stepsOfPlan(t, p, boreBack...)
	legal(t, s, back)
	for _, i := range back {
		s.Do(i)
	}
	require.True(t, s.Equal(before), "the way back ends where it began")
}

func TestSorrelCamsOutByTheFrontCover(t *testing.T) {
	p := sorrel(t)
	s := finished(t, p)
	steps := stepsOfPlan(t, p, coverOut...)
	legal(t, s, steps)
	tally := s.Tally(steps)
	require.Equal(t, 18, tally.Steps)
	require.Len(t, tally.Seats, 118)
	require.Equal(t, 119, tally.Fasteners)
	require.Equal(t, 39, tally.Parts)
	require.Equal(t, 31, tally.Single(), "%v", tally.Used)
	require.ElementsMatch(t, coverVoid, markIDs(p, tally.Void))

	preOil := stepsOfPlan(t, p, "pre-oil")[0]
	blocked := s.Clone()
	blocked.Greedy(BenchTogether, On)
	require.False(t, blocked.IsDone(preOil), "the oil switch is in the way")
	require.Contains(t, blocked.CanDo(preOil)[0].Text, "Sensors and switches oil")

	s.Do(stepsOfPlan(t, p, "sensors-off")[0])
	s.Greedy(BenchTogether, On)
	require.True(t, s.Equal(finished(t, p)))
}

func TestSorrelWindows(t *testing.T) {
	p := sorrel(t)
	for i := range p.Seats {
		if v, ok := p.Seats[i].Window(); ok {
			require.False(t, v.Refused(), "%s: %s", p.Seats[i].ID, v)
		}
	}
	faults := Check(p)
	require.False(t, faults.Broken(), faults.Error())
	var short []Fault
	for _, f := range faults {
		if f.Code == CodeEngages {
			short = append(short, f)
		}
	}
	require.Len(t, short, 1)
	require.Contains(t, short[0].Text, "heat-shield hole 1, 2, 3, 4")
	require.Contains(t, short[0].Text, "10.5 mm")

	long, err := fastener.Parse("M8x1.25x45 8.8 flange")
	require.NoError(t, err)
	v := fastener.Window(p.Seats[seat(t, p, "front-cover:3")].Geometry(), long)
	require.Equal(t, fastener.Bottoms, v.Outcome)
	require.InDelta(t, 14.5, v.ByMm, 1e-9)
	stubby, err := fastener.Parse("M8x1.25x30 8.8 flange")
	require.NoError(t, err)
	v = fastener.Window(p.Seats[seat(t, p, "front-cover:18")].Geometry(), stubby)
	enters, ok := v.EntersMm.Mm()
	require.True(t, ok)
	require.InDelta(t, 1, enters, 1e-9)
}

func TestSorrelConfusableKinds(t *testing.T) {
	p := sorrel(t)
	specs := map[events.Kind]fastener.Spec{}
	for i := range p.Seats {
		for _, m := range p.Seats[i].Members {
			specs[m.Kind] = m.Spec
		}
	}
	confused := func(a, b events.Kind) {
		t.Helper()
		require.Contains(t, specs, a)
		require.Contains(t, specs, b)
		require.True(t, fastener.Confusable(specs[a], specs[b]).Yes(), "%s and %s", a, b)
	}
	for thread, lengths := range map[string][]string{
		"M6x1.0":  {"12 8.8", "16 8.8", "20 8.8", "25 8.8", "40 8.8"},
		"M10x1.5": {"50 8.8", "60 8.8", "85 8.8"},
		"M8x1.25": {"20 8.8", "25 8.8", "30 8.8", "35 8.8", "40 8.8", "45 8.8", "50 8.8", "70 8.8", "80 8.8", "85 8.8"},
	} {
		for _, a := range lengths {
			for _, b := range lengths {
				if a != b {
					confused(events.Kind(thread+"x"+a+" flange"), events.Kind(thread+"x"+b+" flange"))
				}
			}
		}
	}
	confused("M12x1.25x45 10.9 12pt (hollow with a filter)", "M12x1.25x45 10.9 12pt (solid)")
	confused("M6x1.0x20 8.8 flange (thread-lock patch)", "M6x1.0x20 8.8 flange")
	confused("M10x1.5x150 10.9 12pt (captive washer)", "M10x1.5x150 10.9 12pt")
	confused("M8x1.25 copper nut", "M8x1.25 8 flange nut")
	confused("M14x1.5 plug (magnet)", "M14x1.5 plug (hexagon socket)")
	confused("M8x1.25x45 8.8 flange", "M8x1.25x45 8.8 stud")
	confused("M6x1.0x12 8.8 flange", "M6x1.0x12 A2-70 flange")
	confused("M8x1.25x25 8.8 flange", "M8x1.25x25 8.8 shoulder (shoulder 12)")
	confused("M12x1.5 plug", "M12x1.5 coolant sensor")
	confused("M10x1.5x75 10.9 flange", "M10x1.5x110 10.9 flange")
	confused("M10x1.5x95 10.9 12pt", "M10x1.5x150 10.9 12pt")
	confused("M10x1.5x60 8.8 flange", "M10x1.25x60 8.8 flange")
	confused("M8x1.25x40 8.8 flange", "M8x1.0x40 10.9 12pt")
	require.False(t, fastener.Confusable(specs["M6x1.0x20 8.8 flange"], specs["M8x1.25x20 8.8 flange"]).Yes(), "another size is seen at once")

	joints := map[JointIndex]bool{}
	n := 0
	for i := range p.Seats {
		for _, m := range p.Seats[i].Members {
			if m.Spec.Size() == "M6x1.0x20" {
				n++
				joints[p.Seats[i].Joint] = true
			}
		}
	}
	require.Len(t, joints, 6, "the most frequent kind")
	require.Equal(t, 29, n)
}

func TestSorrelSharedHolesCountOnce(t *testing.T) {
	p := sorrel(t)
	j, _ := p.Joint("mount-bracket")
	require.Equal(t, 4, p.Joints[j].Own)
	require.Len(t, p.Joints[j].Seats, 8)
	s := seat(t, p, "front-cover:8")
	require.Contains(t, p.Joints[j].Seats, s)
	require.Equal(t, []JointIndex{j}, p.Seats[s].SharedBy)
	shared, ok := p.Hole("mount-bracket", "8")
	require.True(t, ok)
	require.Equal(t, s, shared, "a shared hole has its name in both joints")
	own, ok := p.Hole("mount-bracket", "2")
	require.True(t, ok)
	require.Equal(t, events.Seat("mount-bracket:2"), p.Seats[own].ID, "its own hole goes first")
}

func TestSorrelOneBoltedToTwoHosts(t *testing.T) {
	p := sorrel(t)
	pan, cover := part(t, p, "oil-pan"), part(t, p, "front-cover")
	require.Contains(t, p.Over(cover), pan, "the pan is bolted to the cover too")
	require.Contains(t, p.Ties(cover), seat(t, p, "oil-pan:13"))
	require.NotContains(t, p.Ties(cover), seat(t, p, "oil-pan:1"))
	require.Contains(t, p.Below(pan), cover)
	text := ""
	for _, u := range NewPresent(p).Free(cover) {
		text += u.Text + "\n"
	}
	require.Contains(t, text, "Oil pan: on, over Front cover")
	require.Contains(t, text, "Oil pan 12, 13, 14")
	require.False(t, strings.Contains(text, "Oil pump"), "what travels with the cover does not hold it")
}

func TestSorrelPositions(t *testing.T) {
	p := sorrel(t)
	for id, want := range map[events.Part]Position{"buckets": {"2Ia", 1}, "locks": {"4Eb", 2}, "thrust-washers": {"3", 2}, "cam-cover": {"1", 1}} {
		x := &p.Parts[part(t, p, id)]
		require.Contains(t, x.Positions, want, id)
		n := 0
		for _, pos := range x.Positions {
			n += pos.Count
		}
		require.Equal(t, x.Count, n)
	}
	b := &p.Parts[part(t, p, "buckets")]
	require.Len(t, b.Positions, 16)
	require.Equal(t, events.Seat("buckets:1Ia"), b.Seat(b.Positions[0]))
}
