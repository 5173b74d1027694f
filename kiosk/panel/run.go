package panel

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"countback/projections/engine"
	"countback/projections/gauge"
)

// OfRun is the engine under its own power: before the first start what stands
// against one; after it every reading on the limits of its speed, what falls
// due and how far that is, what it gave, and each start from cold to cold.
func OfRun(j *engine.Job) Panel {
	st := j.State()
	p := Panel{Name: "run", Title: "First start"}
	if len(st.Starts()) == 0 {
		g := Group{Head: "Before a start"}
		for _, b := range j.MayStart() {
			g.add(Waits, b.Text, b.Clear)
		}
		p.Stand = "not started yet, " + plural(len(g.Rows), "thing") + " first"
		if len(g.Rows) == 0 {
			p.Stand = "not started yet: it may be"
			g.add(Now, "Start it", "STARTED when it runs")
		}
		p.with(g)
		p.with(runReads(j))
		return p
	}
	p.Title = "The engine under its own power"
	stand := "stopped"
	if st.Runs() {
		stand = "it runs"
	}
	p.Stand = stand + "; " + plural(len(st.Starts()), "start") + ", " + plural(st.HeatCycles(), "heat cycle") + ", " + plural(st.MinutesRun(), "minute") + " of running"
	p.with(runReads(j))
	p.with(fallsDue(j))
	p.with(output(j))
	p.with(of(j).starts())
	if !st.Runs() {
		g := Group{Head: "Before the next start"}
		for _, b := range j.MayStart() {
			g.add(Waits, b.Text, b.Clear)
		}
		p.with(g)
	}
	return p
}

// runReads are the readings since the last start, those of one kind by rising
// speed below each other: each on the limits of its own speed.
func runReads(j *engine.Job) Group {
	g := Group{Head: "Read since the start"}
	for _, r := range j.Running() {
		if len(r.Reads) == 0 {
			mark := Now
			if !r.Known {
				mark = Plain
			}
			g.add(mark, capital(r.Of)+": not read since the start", r.Advice)
			continue
		}
		last := r.Reads[len(r.Reads)-1].Fact
		lines := slices.Clone(r.Reads)
		slices.SortStableFunc(lines, func(a, b engine.RunLine) int { return cmp.Compare(a.RPM, b.RPM) })
		var kin []*Scale
		for i := range lines {
			l := &lines[i]
			more := ""
			if m := (engine.Measure{Verdict: l.Verdict, Limits: l.Limits}); runMark(l) != Done {
				more = m.Short()
			}
			if l.Late {
				more = strings.TrimPrefix(more+"; it came too late", "; ")
			}
			if l.Fact == last && r.Advice != "" {
				more = strings.TrimPrefix(more+"; "+r.Advice, "; ")
			}
			v := l.Verdict
			v.Limits = l.Limits
			s := within(runName(r.Of, l), v, l.Read, nil)
			if s != nil {
				kin = append(kin, s)
			}
			g.draw(runMark(l), capital(r.Of)+": "+l.Words(), more, s)
		}
		span(kin...)
	}
	return g
}

func runName(of string, l *engine.RunLine) string {
	if l.RPM > 0 {
		of += ", " + itoa(l.RPM) + " rpm"
	}
	return of
}

func runMark(l *engine.RunLine) Mark {
	switch {
	case l.Verdict.Place == gauge.Beyond, l.Verdict.Place == gauge.NotAlike, l.Late:
		return Look
	case l.Verdict.Place.Open():
		return Waits
	}
	return Done
}

// fallsDue is what a start left to be done, each on its way to where it falls
// due: by heat cycles, minutes, distance.
func fallsDue(j *engine.Job) Group {
	g := Group{Head: "Falls due"}
	for _, o := range j.Obligations() {
		mark, more := Carried, "after "+o.After
		switch {
		case o.Met != 0:
			mark, more = Done, ""
		case o.Due:
			mark, more = Look, "due now: do it, then obligation "+o.ID+", DONE"
		}
		if len(o.Ways) == 0 || o.Met != 0 {
			g.add(mark, capital(o.What), more)
			continue
		}
		for i, w := range o.Ways {
			text := o.ID + ": " + number(w.Have) + " of " + number(w.Want) + " " + w.Of
			if more = capital(o.What) + ", " + more; i > 0 {
				more = ""
			}
			g.draw(mark, text, more, way(o.ID, w.Have, w.Want, w.Of))
		}
	}
	return g
}

// output is power and torque by rising speed; what was worked out from the
// other number is in brackets.
func output(j *engine.Job) Group {
	lines := j.OutputLines()
	g := Group{Head: "Power and torque"}
	if len(lines) == 0 {
		return g
	}
	slices.SortStableFunc(lines, func(a, b engine.OutputLine) int { return cmp.Compare(a.RPM, b.RPM) })
	g.Heads = []string{"rpm", "power", "torque"}
	for i := range lines {
		l := &lines[i]
		mark := Plain
		if l.Doubt != "" {
			mark = Look
		}
		power, torque, _ := strings.Cut(l.Units, " ")
		g.cells(mark, l.Doubt, itoa(l.RPM), gave(l.Power, l.PowerOf, power), gave(l.Torque, l.TorqueOf, torque))
	}
	return g
}

func gave(read, of float64, unit string) string {
	text := strings.TrimSuffix(strconv.FormatFloat(of, 'f', 1, 64), ".0") + " " + unit
	if read == 0 {
		return "(" + text + ")"
	}
	return text
}

// starts is each time that it ran, the last first: how long, and whether it was
// warm and is cold again.
func (n names) starts() Group {
	g := Group{Head: "Starts", Heads: []string{"started", "ran", "", ""}}
	list := n.st.Starts()
	for i := len(list) - 1; i >= 0; i-- {
		s := &list[i]
		ran, warm, cold, mark, more := "it runs", "", "", Begun, ""
		if s.Stopped != 0 {
			mark = Done
			ran = plural(int((s.Off-s.At)/60_000_000), "minute")
			if warm = "not warm"; s.Warm {
				warm = "warm"
				if cold = "not cold again"; s.Cold != 0 {
					cold = "cold again"
				}
			}
		}
		if len(s.Without) > 0 {
			mark, more = Look, "without: "+strings.Join(s.Without, ", ")
		}
		g.cells(mark, more, day(s.At), ran, warm, cold)
	}
	return g
}
