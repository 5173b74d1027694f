package engine

import (
	"strconv"

	"countback/events"
	"countback/projections/gauge"
	"countback/projections/plan"
)

// measure is how one measurement stands at one place. Readings of one size
// belong together until the verdict on it is settled: a reading inside the
// guard band wants a second, two that disagree a third; what is read after that
// is another size (rule R54).
func (g *measuring) measure(m *plan.Measurement, at events.Hole) Measure {
	out := Measure{Measurement: m.ID, Of: m.Of, At: at, Kind: m.Kind, Known: true, Limits: g.s.limitsOf(m), Gauge: m.Gauge}
	source := m
	if len(g.told[measureAt{m.ID, at}]) == 0 && len(m.From) > 0 {
		if m.Kind == plan.MeasureClearance {
			g.clearance(m, at, &out)
			g.advise(m, &out)
			return out
		}
		source = &g.s.lay.plan.Measurements[m.From[0]]
	}
	set := g.set(m, g.told[measureAt{source.ID, at}])
	var sizes []gauge.Reading
	for i := range set {
		out.Reads = append(out.Reads, set[i].reads...)
		out.Fact = set[i].fact
		size, how, why := derive(m, out.Limits, &set[i])
		if why != "" {
			out.Doubts = append(out.Doubts, why)
			continue
		}
		sizes, out.How = append(sizes, size), how
	}
	out.Verdict = out.Limits.Judge(g.s.bandOf(m), sizes...)
	if out.Size = out.Verdict.Size; !out.Size.Known() && len(sizes) > 0 {
		out.Size = sizes[len(sizes)-1]
	}
	g.neighbour(m, &out)
	g.advise(m, &out)
	return out
}

// set are the last tellings of one size.
func (g *measuring) set(m *plan.Measurement, told []telling) []telling {
	limits, band := g.s.limitsOf(m), g.s.bandOf(m)
	var set []telling
	var sizes []gauge.Reading
	for i := range told {
		if !limits.Judge(band, sizes...).Place.Open() {
			set, sizes = nil, nil
		}
		set = append(set, told[i])
		if size, _, why := derive(m, limits, &told[i]); why == "" {
			sizes = append(sizes, size)
		}
	}
	return set
}

// derive is what the readings of one telling come to, and how; or why nothing
// does.
func derive(m *plan.Measurement, limits gauge.Limits, t *telling) (size gauge.Reading, how, why string) {
	list := make([]gauge.Reading, len(t.reads))
	for i := range t.reads {
		list[i] = t.reads[i].Reading
	}
	var err error
	switch {
	case m.Kind.Round():
		return round(m, t)
	case m.Kind == plan.MeasureStretch && m.Nominal > 0:
		if nominal, bad := gauge.Of(m.Nominal, list[0].Unit()); bad == nil {
			return list[0].Minus(nominal), "length less " + nominal.String(), ""
		}
	case len(list) == 1:
	case m.Kind == plan.MeasureGap:
		size, err = gauge.Gap(list...)
		how = "feelers added up"
	case m.Kind == plan.MeasureEndPlay:
		size, err = gauge.EndPlay(list...)
		how = "indicator, most less least"
	case m.Kind == plan.MeasureWarpage:
		size, err = gauge.Warpage(list...)
		how = "greatest gap"
	case m.Kind == plan.MeasureThinning:
		size, err = gauge.EndPlay(list...)
		how = "thickest less thinnest"
	default:
		size, how = worst(limits, t)
		return size, how, ""
	}
	switch {
	case err != nil:
		return gauge.Reading{}, "", err.Error()
	case how == "":
		return list[0], "", ""
	}
	return size, how, ""
}

// worst is the point that lies nearest to a limit or farthest outside it.
func worst(limits gauge.Limits, t *telling) (gauge.Reading, string) {
	at, least := 0, limits.Judge(gauge.Reading{}, t.reads[0].Reading)
	for i := range t.reads[1:] {
		v := limits.Judge(gauge.Reading{}, t.reads[i+1].Reading)
		a, b := v.Place == gauge.Beyond, least.Place == gauge.Beyond
		if a && !b || a == b && (v.By.Compare(least.By) > 0) == a && v.By.Compare(least.By) != 0 {
			at, least = i+1, v
		}
	}
	how := ""
	if p := t.reads[at].Point; p != "" {
		how = "at " + p
	}
	return t.reads[at].Reading, how
}

// sections are the readings of a bore or a journal by height.
func sections(t *telling) []gauge.Section {
	var list []gauge.Section
	for i := range t.reads {
		r := &t.reads[i]
		if len(r.Point) < 2 {
			continue
		}
		n, err := strconv.Atoi(r.Point[1:])
		if err != nil || n < 1 || n > plan.MaxPoints {
			continue
		}
		for len(list) < n {
			list = append(list, gauge.Section{})
		}
		switch r.Point[0] {
		case 'A':
			list[n-1].A = r.Reading
		case 'B':
			list[n-1].B = r.Reading
		}
	}
	return list
}

func round(m *plan.Measurement, t *telling) (size gauge.Reading, how, why string) {
	if len(t.reads) == 1 && t.reads[0].Point == "" {
		return t.reads[0].Reading, "", "" // read as such
	}
	shape, err := gauge.Round(sections(t))
	switch {
	case err != nil:
		return size, "", err.Error()
	case m.Kind == plan.MeasureTaper && shape.Taper.Known():
		return shape.Taper, "along " + shape.TaperIn, ""
	case m.Kind == plan.MeasureOutOfRound && shape.OutOfRound.Known():
		return shape.OutOfRound, "A against B at " + itoa(shape.OutOfRoundAt), ""
	case m.Kind == plan.MeasureTaper:
		return size, "", "taper wants two heights in one direction"
	}
	return size, "", "out-of-round wants both directions at one height"
}

// clearance is bore less journal at one place, by the last readings of both.
func (g *measuring) clearance(m *plan.Measurement, at events.Hole, out *Measure) {
	var shape [2]gauge.Shape
	var warm [2]float64
	for i, f := range m.From {
		of := &g.s.lay.plan.Measurements[f]
		set := g.set(of, g.told[measureAt{of.ID, at}])
		if len(set) == 0 {
			set = g.set(of, g.told[measureAt{of.ID, ""}])
		}
		if len(set) == 0 {
			out.Reads, out.Fact = nil, 0
			return // not both are read yet
		}
		last := &set[len(set)-1]
		for _, r := range last.reads {
			one := gauge.Single(r.Reading)
			if !shape[i].Least.Known() || one.Least.Compare(shape[i].Least) < 0 {
				shape[i].Least = one.Least
			}
			if !shape[i].Most.Known() || one.Most.Compare(shape[i].Most) > 0 {
				shape[i].Most = one.Most
			}
		}
		out.Reads, out.Fact, warm[i] = append(out.Reads, last.reads...), max(out.Fact, last.fact), last.celsius
	}
	play, err := gauge.Clearance(shape[0], shape[1])
	if err != nil {
		out.Doubts = append(out.Doubts, err.Error())
		return
	}
	if play.Why != "" {
		out.Doubts = append(out.Doubts, play.Why)
	}
	g.temperature(m, shape, warm, out)
	out.How = g.s.lay.plan.Measurements[m.From[0]].ID + " less " + g.s.lay.plan.Measurements[m.From[1]].ID
	least, most := out.Limits.Judge(g.s.bandOf(m), play.Least), out.Limits.Judge(g.s.bandOf(m), play.Most)
	out.Verdict, out.Size = least, play.Least
	if worse(most, least) {
		out.Verdict, out.Size = most, play.Most
	}
	if !out.Verdict.Size.Known() {
		out.Size = play.Least
	}
}

// worse reports whether the first of two verdicts is the graver one.
func worse(a, b gauge.Verdict) bool {
	rank := func(v gauge.Verdict) int {
		switch v.Place {
		case gauge.Beyond:
			return 3
		case gauge.ReadAgain, gauge.Disagree:
			return 2
		case gauge.InService:
			return 1
		}
		return 0
	}
	return rank(a) > rank(b)
}

// growths is how much each metal grows.
var growths = map[plan.Metal]float64{plan.CastIron: gauge.CastIron, plan.Steel: gauge.Steel, plan.Aluminium: gauge.Aluminium}

// temperature doubts two sizes that were not read at one temperature.
func (g *measuring) temperature(m *plan.Measurement, shape [2]gauge.Shape, warm [2]float64, out *Measure) {
	if warm[0] == 0 || warm[1] == 0 {
		return // not said
	}
	grows := growths[g.s.lay.plan.Measurements[m.From[0]].Metal]
	if grows == 0 {
		grows = gauge.Steel
	}
	band := g.s.bandOf(m)
	if !band.Known() {
		band, _ = gauge.Of(0.001, gauge.Millimetre)
	}
	if q, ok := gauge.QuestionWarm(shape[0].Most, shape[1].Most, band, grows, warm[0], warm[1]); ok {
		out.Doubts = append(out.Doubts, q.Why)
	}
}
