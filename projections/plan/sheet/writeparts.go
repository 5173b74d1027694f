package sheet

import "countback/projections/plan"

func (w *writer) parts() []map[string]string {
	p := w.p
	var out []map[string]string
	for i := range p.Parts {
		x := &p.Parts[i]
		row := map[string]string{
			"id": string(x.ID), "name": named(x.Name, string(x.ID)), "in": one(x.In, p.Parts, partID), "root": yesIf(x.Root),
			"host": yesIf(x.Host), "made of": join(x.MadeOf, p.Parts, partID), "under": join(x.Under, p.Parts, partID),
			"mating": join(x.Mating, p.Parts, partID), "seals": one(x.Seals, p.Joints, jointID), "optional": yesIf(x.Optional),
			"stays": yesIf(x.Stays), "reuse": w.reuse(x.Reuse), "own seat": ownSeatCell(x.OwnSeat),
			"measure": join(x.Measures, p.Measurements, func(m *plan.Measurement) string { return m.ID }),
			"cavity":  one(x.Cavity, p.Cavities, cavityID), "way round": x.WayRound, "graded": x.Graded, "feature": x.Feature, "material": x.Material,
			"inspect": x.Inspect, "timed": yesIf(x.Timed), "note": x.Note,
		}
		sealed(row, x.Sealant)
		positions(row, x)
		out = append(out, row)
	}
	return out
}

func positions(row map[string]string, x *plan.Part) {
	if len(x.Positions) == 1 && x.Positions[0].Name == "1" && x.Place == "" {
		if x.Count > 1 {
			row["count"] = count(x.Count)
		}
		return
	}
	var at []string
	for _, p := range x.Positions {
		at = append(at, string(p.Name))
	}
	row["positions"], row["place"] = ranged(at, ", "), x.Place
	if each := x.Positions[0].Count; each > 1 {
		row["pieces each"] = count(each)
	}
}
