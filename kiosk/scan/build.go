package scan

import (
	"strconv"
	"strings"

	"countback/events"
	"countback/projections/engine"
)

func itoa(n int) string { return strconv.Itoa(n) }

// cut takes "variant:layout" apart.
func cut(id string) (string, string) {
	a, b, _ := strings.Cut(id, ":")
	return a, b
}

// holdOn is the open hold that is meant: by its name, or by what it is on.
func holdOn(s *Said) string {
	if n := s.At(0, Hold); n.ID != "" {
		return n.ID
	}
	on, id := thingOf(s), ""
	released := map[string]bool{}
	facts := s.Job.Facts()
	for i := range facts {
		if e, ok := facts[i].Event.(events.HoldReleased); ok {
			released[e.Hold] = true
		}
	}
	for i := range facts {
		if e, ok := facts[i].Event.(events.HoldSet); ok && e.On == on && !released[e.Hold] {
			id = e.Hold
		}
	}
	return id
}

func buildRelease(s *Said) (engine.Command, error) {
	id := holdOn(s)
	if id == "" {
		return nil, &engine.Refusal{Code: engine.Unknown, Fact: "nothing holds " + thingOf(s), Next: "scan what is held"}
	}
	return engine.ReleaseHold{Hold: id, Why: s.Why("why")}, nil
}

// buildOverride lets what was refused pass: the noun that was asked about.
func buildOverride(s *Said) (engine.Command, error) {
	return engine.Override{Ask: s.Nouns[0].Text(), Operator: s.Who, Second: events.Badge(s.Reply("second").Noun.ID), Why: s.Why("why")}, nil
}

func buildEnd(how events.JobEnd) func(*Said) (engine.Command, error) {
	return func(s *Said) (engine.Command, error) { return engine.EndJob{How: how, Why: s.Why("why")}, nil }
}

func buildDrop(s *Said) (engine.Command, error) {
	id := string(events.SeatOf(s.Joint(), s.Holes()[0]))
	return engine.AmendPlan{Op: "drop", Section: "holes", ID: id, Why: s.Why("why")}, nil
}

// sections are the lists of a plan that a noun stands in.
var sections = map[Type]string{Joint: "joints", Part: "parts", Step: "steps", Loan: "loans", Mark: "marks", Cavity: "cavities"}

func buildAmend(s *Said) (engine.Command, error) {
	n := s.Nouns[0]
	return engine.AmendPlan{Op: "alter", Section: sections[n.Type], ID: n.ID, Text: s.Reply("text").Text, Why: s.Why("why")}, nil
}

func sortedLoans(st *engine.State) []events.Loan {
	var list []events.Loan
	for i := range st.Plan().Loans {
		if l, ok := st.Loans()[st.Plan().Loans[i].ID]; ok && l.In > 0 {
			list = append(list, st.Plan().Loans[i].ID)
		}
	}
	return list
}
