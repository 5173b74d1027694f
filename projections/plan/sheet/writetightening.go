package sheet

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/plan"
)

func (w *writer) tightening() []map[string]string {
	var out []map[string]string
	for i := range w.p.Tightening {
		x := &w.p.Tightening[i]
		first := len(out)
		for g := range x.Groups {
			seats := w.placesOf(x, &x.Groups[g])
			for e := range x.Groups[g].Editions {
				edition := &x.Groups[g].Editions[e]
				for s := range edition.Stages {
					row := map[string]string{"id": x.ID, "seats": seats, "edition": edition.Edition, "source": edition.Source}
					w.stage(row, &edition.Stages[s])
					out = append(out, row)
				}
			}
		}
		if first < len(out) {
			w.listOf(out[first], x)
		}
	}
	return out
}

func (w *writer) listOf(row map[string]string, x *plan.Tightening) {
	if x.Loosen {
		row["way"] = "loosen"
	}
	if x.ByMember {
		row["member"] = x.Member.String()
	}
	row["order"], row["rounds"], row["note"] = ranged(textsCell(x.Order), "; "), x.Rounds, x.Note
	row["tools"] = strings.Join(x.Tools, "; ")
	if x.Passes > 1 {
		row["passes"] = count(x.Passes)
	}
	row["sets"], row["with"] = setsCell(x.Sets), setsCell(x.With)
	if x.Pause > 0 {
		row["pause"] = count(x.Pause)
	}
	if x.AnyHands {
		row["hands"] = "any"
	}
	if x.Cold {
		row["cold"] = "yes"
	}
}

// setsCell is sets of holes, each with blanks between its holes.
func setsCell(sets [][]events.Hole) string {
	var out []string
	for _, set := range sets {
		out = append(out, strings.Join(holeTexts(set), " "))
	}
	return strings.Join(textsCell(out), "; ")
}

func holeTexts(holes []events.Hole) []string {
	out := make([]string, len(holes))
	for i, h := range holes {
		out[i] = string(h)
	}
	return out
}

// placesOf is the holes of a group, and pressed positions of parts.
func (w *writer) placesOf(x *plan.Tightening, g *plan.TightenGroup) string {
	k := all
	if x.ByMember {
		k = func(s *plan.Seat) bool {
			return slices.ContainsFunc(s.Members, func(m plan.Member) bool { return m.Role == x.Member })
		}
	}
	var out []string
	rest := g.Seats
	for len(rest) > 0 {
		n := 0
		var seats []plan.SeatIndex
		for n < len(rest) {
			s, ok := w.p.Seat(rest[n])
			if !ok {
				break
			}
			seats = append(seats, s)
			n++
		}
		if n > 0 {
			out = append(out, w.seats(seats, k, ";"))
		} else {
			n = w.pressed(rest, &out)
		}
		rest = rest[n:]
	}
	return strings.Join(out, "; ")
}

// pressed writes positions of one part, and says how many.
func (w *writer) pressed(list []events.Seat, out *[]string) int {
	part, _, _ := strings.Cut(string(list[0]), ":")
	n := 0
	var at []string
	for n < len(list) {
		p, pos, _ := strings.Cut(string(list[n]), ":")
		if p != part {
			break
		}
		at = append(at, pos)
		n++
	}
	*out = append(*out, part+":"+ranged(at, ", "))
	return n
}

// stage fills in the one column that says what the stage measures.
func (w *writer) stage(row map[string]string, s *plan.Stage) {
	u := map[plan.StageKind]*unit{
		plan.StageSnug: w.torque, plan.StageTorque: w.torque, plan.StageAgain: w.torque, plan.StageStretch: w.length, plan.StagePressDepth: w.length, plan.StageHeight: w.length,
	}[s.Kind]
	if u == nil {
		u = &unit{size: 1}
	}
	value := s.Text
	if s.Said != "" {
		if value = w.said(s.Said, s.Unit); s.Unit == u.word {
			value = strings.TrimSuffix(value, " "+s.Unit)
		}
	} else if s.Known {
		if value = w.number(s.Min, u); s.Max != s.Min {
			value += ".." + w.number(s.Max, u)
		}
	}
	row[strings.ReplaceAll(string(s.Kind), "-", " ")] = value
	row["only"] = ranged(textsCell(holeTexts(s.Only)), "; ")
	if s.Never > 0 {
		row["never"] = w.number(s.Never, w.length)
	}
	if s.Band > 0 {
		row["band"] = w.number(s.Band, w.length)
	}
	row["needs"], row["due"] = w.conditions(&s.Needs), s.Due
}
