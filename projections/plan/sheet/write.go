package sheet

import (
	"strconv"
	"strings"
	"time"

	"countback/projections/plan"
)

// Write is a plan as sheets: CSV by file name. Read makes a plan of them that
// says the same in the same order, and Write of that gives the same bytes.
// Sheets without rows are left out.
func Write(p *plan.Plan, f Format) map[string][]byte {
	w := newWriter(p, f)
	out := map[string][]byte{}
	for name, rows := range map[string][]map[string]string{
		"plan": w.header(), "parts": w.parts(), "joints": w.joints(), "holes": w.holes(), "variants": w.variants(),
		"cavities": w.cavities(), "marks": w.marks(), "loans": w.loans(), "gates": w.gates(), "audit-points": w.audits(),
		"tightening": w.tightening(), "measurements": w.measurements(), "kits": w.kits(), "prices": w.prices(), "run-readings": w.runReadings(), "obligations": w.obligations(), "steps": w.steps(),
	} {
		if t, _ := tableOf(name); len(rows) > 0 {
			out[name+".csv"] = w.csv(t, rows)
		}
	}
	return out
}

func (w *writer) header() []map[string]string {
	p := w.p
	var out []map[string]string
	add := func(key, value string) {
		if value != "" {
			out = append(out, map[string]string{"key": key, "value": value})
		}
	}
	add("id", p.ID)
	add("family", p.Family)
	add("edition", strconv.Itoa(p.Edition))
	add("demo data", yesIf(p.Demo))
	add("left right", p.LeftRight)
	add("fasteners", count(p.Totals.Fasteners))
	add("seats", count(p.Totals.Seats))
	add("parts", count(p.Totals.Parts))
	add("pieces", count(p.Totals.Pieces))
	add("hiding places", strings.Join(textsCell(p.HidingPlaces), "; "))
	add("start evidence", join(p.Evidence, p.Marks, func(m *plan.Mark) string { return string(m.ID) }))
	return out
}

// textsCell is texts, each in quotation marks where it would be taken apart.
func textsCell(list []string) []string {
	var out []string
	for _, s := range list {
		out = append(out, marked(s))
	}
	return out
}

// join joins the ids of things of the plan.
func join[I ~int16, E any](list []I, of []E, id func(*E) string) string {
	var out []string
	for _, i := range list {
		out = append(out, id(&of[i]))
	}
	return strings.Join(out, ", ")
}

func partID(x *plan.Part) string        { return string(x.ID) }
func loanID(x *plan.Loan) string        { return string(x.ID) }
func cavityID(x *plan.Cavity) string    { return string(x.ID) }
func markID(x *plan.Mark) string        { return string(x.ID) }
func jointID(x *plan.Joint) string      { return string(x.ID) }
func gateID(x *plan.Gate) string        { return x.ID }
func auditID(x *plan.AuditPoint) string { return string(x.ID) }

func one[I ~int16, E any](i I, of []E, id func(*E) string) string {
	if i == plan.None {
		return ""
	}
	return id(&of[i])
}

// named is a name where it is not just the id in words.
func named(name, id string) string {
	words := strings.ReplaceAll(id, "-", " ")
	if words != "" && name == strings.ToUpper(words[:1])+words[1:] {
		return ""
	}
	return name
}

func (w *writer) reuse(r plan.Reuse) string {
	switch r.Rule {
	case plan.ReuseNew:
		return "new"
	case plan.ReuseNewIfOut:
		return "new-if-out"
	case plan.ReuseMeasure:
		return "measure " + w.p.Measurements[r.Measure].ID
	}
	return ""
}

func ownSeatCell(o plan.OwnSeat) string { return [...]string{"", "yes", "by measurement"}[o] }

// sealed fills the two columns of a sealant.
func sealed(row map[string]string, s plan.Sealant) {
	if !s.Used {
		return
	}
	row["sealant"], row["open time"] = s.Lot, spell(s.OpenTime)
	if s.Lot == "" && s.OpenTime == 0 {
		row["sealant"] = "yes"
	}
}

// spell writes a time as short as it is read.
func spell(d time.Duration) string {
	if d == 0 {
		return ""
	}
	s := d.String()
	if strings.HasSuffix(s, "m0s") {
		s = s[:len(s)-2]
	}
	if strings.HasSuffix(s, "h0m") {
		s = s[:len(s)-2]
	}
	return s
}

func (w *writer) joints() []map[string]string {
	p := w.p
	var out []map[string]string
	for i := range p.Joints {
		x := &p.Joints[i]
		out = append(out, map[string]string{
			"id": string(x.ID), "name": named(x.Name, string(x.ID)), "shares": w.seatsOf(x.Seats[x.Own:], all, ";", plan.JointIndex(i)),
			"only with": one(x.OnlyWith, p.Parts, partID), "holds back": x.HoldsBack, "dry holes": yesIf(x.DryHoles), "note": x.Note,
			"side": string(x.Face.Side), "end": x.Face.End, "seen from": x.Face.SeenFrom, "at left": x.Face.AtLeft, "at top": x.Face.AtTop,
		})
	}
	return out
}

func (w *writer) variants() []map[string]string {
	p := w.p
	var out []map[string]string
	for _, v := range p.Variants {
		for i, o := range v.Options {
			out = append(out, map[string]string{
				"variant": v.ID, "layout": o.ID, "joints": join(o.Joints, p.Joints, jointID), "parts": join(o.Parts, p.Parts, partID),
				"default": yesIf(i == v.Default),
			})
		}
	}
	return out
}

func (w *writer) cavities() []map[string]string {
	p := w.p
	var out []map[string]string
	for i := range p.Cavities {
		x := &p.Cavities[i]
		row := map[string]string{
			"id": string(x.ID), "name": named(x.Name, string(x.ID)), "of": join(x.Of, p.Parts, partID),
			"leads to": join(x.LeadsTo, p.Cavities, cavityID), "fluid": x.Fluid, "amount": x.Amount, "carried": x.Carried,
		}
		if x.OpenWhen.Op == plan.NotAll {
			row["closed by"] = w.conditions(&x.OpenWhen)
		} else {
			row["open when"] = w.conditions(&x.OpenWhen)
		}
		out = append(out, row)
	}
	return out
}

func (w *writer) marks() []map[string]string {
	p := w.p
	var out []map[string]string
	for i := range p.Marks {
		x := &p.Marks[i]
		void := acts(x.VoidActs)
		if c := w.conditions(&x.VoidBy); c != "" {
			void = append(void, c)
		}
		row := map[string]string{
			"id": string(x.ID), "name": named(x.Name, string(x.ID)), "needs": w.conditions(&x.Needs),
			"needs out": join(x.NeedsOut, p.Loans, loanID), "void by": strings.Join(void, "; "),
		}
		if x.AtArrival {
			row["at arrival"] = "stands"
		}
		out = append(out, row)
	}
	return out
}

func acts(list []plan.Act) []string {
	var out []string
	for _, a := range list {
		out = append(out, a.String())
	}
	return out
}

func (w *writer) gates() []map[string]string {
	var out []map[string]string
	for _, g := range w.p.Gates {
		out = append(out, map[string]string{"id": g.ID, "asks": g.Asks})
	}
	return out
}

func (w *writer) audits() []map[string]string {
	var out []map[string]string
	for i := range w.p.AuditPoints {
		x := &w.p.AuditPoints[i]
		var needs []string
		for _, n := range x.Needs {
			needs = append(needs, string(n))
		}
		out = append(out, map[string]string{
			"id": string(x.ID), "name": named(x.Name, string(x.ID)), "needs": strings.Join(needs, ", "), "when": w.conditions(&x.When),
			"signs": [...]string{"", "second-person", "two-persons"}[x.Signs],
		})
	}
	return out
}

func (w *writer) measurements() []map[string]string {
	var out []map[string]string
	for i := range w.p.Measurements {
		x := &w.p.Measurements[i]
		var at []string
		for _, h := range x.Places {
			at = append(at, string(h))
		}
		out = append(out, map[string]string{
			"id": x.ID, "of": named(x.Of, x.ID), "at": ranged(at, ", "), "unit": w.measuredIn(x), "min": w.limit(x.Min), "max": w.limit(x.Max),
			"fails to": x.FailsTo, "outside": x.Outside,
			"new min": w.limit(x.NewMin), "new max": w.limit(x.NewMax), "source": x.Source, "points": w.points(x), "kind": kindOf(x), "from": w.from(x),
			"nominal": w.above(x.Nominal), "gauge": x.Gauge, "band": w.above(x.Band), "step": w.above(x.Step), "metal": string(x.Metal),
			"one fails":  map[bool]string{true: "all"}[x.AllFail],
			"allowed by": x.Allows.By, "neighbour": one(x.Allows.Part, w.p.Parts, partID), "allowed min": w.limit(x.Allows.Min),
			"allowed max": w.limit(x.Allows.Max), "about": w.above(x.Allows.About), "otherwise": x.Allows.Otherwise,
		})
	}
	return out
}

// measuredIn is the unit of a measurement; that of the plan is said where it is
// not the millimetre, since the sheets do not say it.
func (w *writer) measuredIn(m *plan.Measurement) string {
	if m.Unit == "" && w.p.Units.Length != "mm" {
		return w.p.Units.Length
	}
	return m.Unit
}

func kindOf(m *plan.Measurement) string {
	if m.Kind == plan.MeasureSize {
		return ""
	}
	return string(m.Kind)
}

func (w *writer) points(m *plan.Measurement) string {
	var list []string
	for _, h := range m.Points {
		list = append(list, string(h))
	}
	return ranged(list, ", ")
}

func (w *writer) from(m *plan.Measurement) string {
	var list []string
	for _, f := range m.From {
		list = append(list, w.p.Measurements[f].ID)
	}
	return strings.Join(list, ", ")
}

// above is a number above zero, empty where it is not known.
func (w *writer) above(v float64) string {
	return w.limit(plan.Limit{Set: v > 0, Known: v > 0, Value: v})
}

func (w *writer) limit(l plan.Limit) string {
	switch {
	case !l.Set:
		return ""
	case !l.Known:
		return "unknown"
	}
	return w.spelled(strconv.FormatFloat(l.Value, 'f', -1, 64))
}

func (w *writer) kits() []map[string]string {
	var out []map[string]string
	for _, k := range w.p.Kits {
		for _, l := range k.Lines {
			row := map[string]string{"kit": k.ID, "part": one(l.Part, w.p.Parts, partID), "count": count(l.Count), "surplus expected": count(l.Surplus)}
			row["piece"], row["feature"] = w.kind(l.Kind)
			out = append(out, row)
		}
	}
	return out
}

func (w *writer) prices() []map[string]string {
	var out []map[string]string
	for _, x := range w.p.Prices {
		row := map[string]string{"part": one(x.Part, w.p.Parts, partID), "each": x.Each.String()}
		row["piece"], row["feature"] = w.kind(x.Kind)
		out = append(out, row)
	}
	return out
}
