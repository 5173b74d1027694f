package sheet

import (
	"strconv"
	"strings"
	"time"

	"countback/projections/plan"
)

func (w *writer) runReadings() []map[string]string {
	var out []map[string]string
	for i := range w.p.RunReadings {
		x := &w.p.RunReadings[i]
		row := map[string]string{"id": x.ID, "of": named(x.Of, x.ID), "unit": x.Unit, "source": x.Source, "gauge": x.Gauge, "band": w.above(x.Band),
			"between": map[bool]string{true: "step"}[x.Steps]}
		if x.Within > 0 {
			row["within"] = (time.Duration(x.Within) * time.Second).String()
		}
		if len(x.Limits) == 1 && x.Limits[0].RPM == 0 {
			row["min"], row["max"] = w.limit(x.Limits[0].Min), w.limit(x.Limits[0].Max)
		} else {
			var list []string
			for _, l := range x.Limits {
				list = append(list, strconv.Itoa(l.RPM)+": "+l.RangeText())
			}
			row["limits"] = strings.Join(list, "; ")
		}
		out = append(out, row)
	}
	return out
}

func (w *writer) obligations() []map[string]string {
	var out []map[string]string
	for i := range w.p.Obligations {
		x := &w.p.Obligations[i]
		out = append(out, map[string]string{"id": x.ID, "what": named(x.What, x.ID), "heat cycles": count(x.HeatCycles), "minutes": count(x.Minutes),
			"distance km": count(x.Km), "marks": join(x.Marks, w.p.Marks, func(m *plan.Mark) string { return string(m.ID) })})
	}
	return out
}
