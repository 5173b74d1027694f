package sheet

import (
	"reflect"
	"slices"
	"strings"

	"countback/events"
	"countback/projections/fastener"
	"countback/projections/plan"
)

// seatKind is which holes of a joint "all" of it means.
type seatKind func(*plan.Seat) bool

var (
	all    seatKind = func(*plan.Seat) bool { return true }
	moving seatKind = (*plan.Seat).Moves
	held   seatKind = func(s *plan.Seat) bool { return len(s.Members) > 0 }
)

// seats writes holes by joint, in their order: a joint whose holes are all
// there, one behind the other, by its name alone.
func (w *writer) seats(list []plan.SeatIndex, k seatKind, sep string) string {
	return w.seatsOf(list, k, sep, plan.None)
}

// seatsOf is seats for what a joint shares, which is never called by that
// joint's own name.
func (w *writer) seatsOf(list []plan.SeatIndex, k seatKind, sep string, not plan.JointIndex) string {
	var out []string
	for len(list) > 0 {
		if j, n := w.whole(list, k, not); n > 0 {
			out = append(out, jointIn(w.p.Joints[j].ID, sep))
			list = list[n:]
			continue
		}
		n := 1
		for n < len(list) && w.p.Seats[list[n]].Joint == w.p.Seats[list[0]].Joint {
			n++
		}
		var at []string
		for _, s := range list[:n] {
			at = append(at, string(w.p.Seats[s].Hole))
		}
		holes := ","
		if sep == ";" {
			holes = ", "
		}
		out = append(out, jointIn(w.p.Joints[w.p.Seats[list[0]].Joint].ID, sep)+":"+ranged(at, holes))
		list = list[n:]
	}
	if sep == ";" {
		sep = "; "
	}
	return strings.Join(out, sep)
}

// jointIn is a joint's id, marked where it stands in a condition.
func jointIn(id events.Joint, sep string) string {
	if sep == "+" {
		return markedID(string(id))
	}
	return string(id)
}

// whole is the joint with the most holes of which all stand at the beginning of
// a list, and how many; 0 where there is none.
func (w *writer) whole(list []plan.SeatIndex, k seatKind, not plan.JointIndex) (plan.JointIndex, int) {
	best, most := plan.JointIndex(plan.None), 0
	joints := append([]plan.JointIndex{w.p.Seats[list[0]].Joint}, w.p.Seats[list[0]].SharedBy...)
	for _, j := range joints {
		if j == not {
			continue
		}
		var of []plan.SeatIndex
		for _, s := range w.p.Joints[j].Seats {
			if k(&w.p.Seats[s]) {
				of = append(of, s)
			}
		}
		if n := len(of); n > most && n <= len(list) && slices.Equal(of, list[:n]) {
			best, most = j, n
		}
	}
	return best, most
}

// kind splits a kind into its spec and its feature.
func (w *writer) kind(k events.Kind) (spec, feature string) {
	if k == "" || k == plan.UnknownKind {
		return string(k), ""
	}
	s, err := fastener.Parse(string(k))
	if err != nil {
		return string(k), ""
	}
	feature = s.Feature
	s.Feature = ""
	return s.String(), feature
}

func (w *writer) holes() []map[string]string {
	p := w.p
	var out []map[string]string
	for j := range p.Joints {
		own := p.Joints[j].Seats[:p.Joints[j].Own]
		for len(own) > 0 {
			n := 1
			for n < len(own) && alike(&p.Seats[own[0]], &p.Seats[own[n]]) {
				n++
			}
			out = append(out, w.hole(own[:n]))
			own = own[n:]
		}
	}
	return out
}

// alike reports whether two holes differ in nothing but their names.
func alike(a, b *plan.Seat) bool {
	plain := func(s plan.Seat) plan.Seat {
		s.ID, s.Hole, s.XY, s.Line, s.SharedBy = "", "", plan.XY{}, 0, nil
		s.Members = slices.Clone(s.Members)
		for i := range s.Members {
			s.Members[i].Line = 0
		}
		return s
	}
	return reflect.DeepEqual(plain(*a), plain(*b))
}

// hole is a row for holes that are alike.
func (w *writer) hole(list []plan.SeatIndex) map[string]string {
	p := w.p
	x := &p.Seats[list[0]]
	var at []string
	for _, s := range list {
		at = append(at, string(p.Seats[s].Hole))
	}
	row := map[string]string{
		"joint": string(p.Joints[x.Joint].ID), "holes": ranged(at, ", "), "in": one(x.Host, p.Parts, partID), "thread": x.Thread,
		"grip": w.lengthCell(x.Grip), "depth": w.lengthCell(x.Depth), "free behind": w.lengthCell(x.FreeBehind), "thread in": x.ThreadIn,
		"thread lock": yesIf(x.ThreadLock), "own seat": ownSeatCell(x.OwnSeat), "note": x.Note,
	}
	row["x"], row["y"] = w.places(list)
	if x.Through && !x.FreeBehind.Known() {
		row["free behind"] = "unknown"
	}
	sealed(row, x.Sealant)
	switch {
	case len(x.Members) == 0 && len(x.Clamps) == 0:
		row["holds"] = "nothing"
	case len(x.Members) == 1 && short(&x.Members[0]):
		row["clamps"] = join(x.Clamps, p.Parts, partID)
		row["fastener"], row["feature"] = w.kind(x.Members[0].Kind)
		row["reuse"] = w.reuse(x.Members[0].Reuse)
	default:
		row["stack"] = w.stack(x)
	}
	return row
}

// short reports whether a piece can be written without a stack.
func short(m *plan.Member) bool {
	return m.Role == plan.RoleBolt && !m.Stays && m.WayRound == "" && !m.RunIn.Known() && !m.Height.Known()
}

// stack is the pieces of a hole from the host outwards: studs, what they
// clamp, and the rest.
func (w *writer) stack(x *plan.Seat) string {
	var out []string
	clamped := len(x.Clamps) == 0
	clamps := func() {
		if !clamped {
			out = append(out, "clamps "+join(x.Clamps, w.p.Parts, partID))
			clamped = true
		}
	}
	for i := range x.Members {
		if x.Members[i].Role != plan.RoleStud {
			clamps()
		}
		out = append(out, w.piece(&x.Members[i]))
	}
	clamps()
	return strings.Join(out, " > ")
}

func (w *writer) piece(m *plan.Member) string {
	spec, feature := w.kind(m.Kind)
	var extras []string
	add := func(word, value string) {
		if value != "" {
			extras = append(extras, word+" "+value)
		}
	}
	add("run-in", w.withUnit(m.RunIn))
	add("height", w.withUnit(m.Height))
	if m.Stays {
		extras = append(extras, "stays")
	}
	add("reuse", w.reuse(m.Reuse))
	if feature != "" {
		add("feature", marked(feature))
	}
	if m.WayRound != "" {
		add("way round", marked(m.WayRound))
	}
	text := m.Role.String() + " " + marked(spec)
	if extras != nil {
		text += " [" + strings.Join(extras, "; ") + "]"
	}
	return text
}

func (w *writer) withUnit(l fastener.Length) string {
	if s := w.lengthCell(l); s != "" {
		return s + " " + w.length.word
	}
	return ""
}
