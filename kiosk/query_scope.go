package kiosk

import (
	"slices"
	"strings"

	"countback/kiosk/scan"
	"countback/projections/engine"
)

// mustComeOff shows what it takes for something to come off after all, each way
// under its number.
func (t *turn) mustComeOff(said *scan.Said) {
	a, err := t.job.Scope(scan.ScopeOf(said.Nouns))
	if r, ok := err.(*engine.Refusal); ok {
		t.no(capital(r.Fact), capital(r.Next))
		return
	}
	if len(a.Ways) == 0 {
		t.show(Good, capital(a.Name)+": off already")
		t.view.Ask = "Next: scan a noun"
		t.beep(Heard)
		return
	}
	t.show(Plain, WayLines(a)...)
	for i := range a.Ways {
		t.list = append(t.list, wayList(i+1, &a.Ways[i])...)
	}
	t.view.Ask = "DECIDED, with the number of a way and why"
	t.question = &question{subject: said.Nouns, offers: []scan.Word{scan.Decided, scan.Against}, text: t.view.Ask}
	t.beep(Heard)
}

// against shows two repairs beside each other, the first as way 1 and what was
// set against it last.
func (t *turn) against(said *scan.Said) {
	nouns := scan.BesideOf(said)
	ask := scan.ScopeOf(nouns)
	a, err := t.job.Scope(ask)
	if r, ok := err.(*engine.Refusal); ok {
		t.no(capital(r.Fact), capital(r.Next))
		return
	}
	if a.Holds {
		t.no(capital(a.Name)+" is off already: nothing to weigh", "Scan what is still on")
		return
	}
	var lines []string
	for i := range a.Ways {
		w := &a.Ways[i]
		lines = append(lines, "Way "+itoa(i+1)+", "+w.Name+" "+wayWhen(w)+": "+wayShort(w)+". "+capital(w.Verdict))
	}
	for i := range a.Ways {
		w := &a.Ways[i]
		lines = append(lines, "Way "+itoa(i+1)+": back "+w.ReadyWords(a.Today)+"; together "+w.Money.SumWords()+"; "+plural(len(w.Risks), "risk"))
	}
	t.show(Plain, lines[:min(len(lines), MaxLines)]...)
	for _, r := range engine.WayRows(a.Ways, a.Today) {
		t.list = append(t.list, r.What+": "+strings.Join(r.Cells, " | "))
	}
	for i := range a.Ways {
		t.list = append(t.list, riskLines(i+1, &a.Ways[i])...)
	}
	for i := range a.Ways {
		t.list = append(t.list, wayList(i+1, &a.Ways[i])...)
	}
	t.view.Ask = "DECIDED, with the number of a way and why; 0 leaves both"
	t.question = &question{subject: nouns, offers: []scan.Word{scan.Decided}, text: t.view.Ask}
	t.beep(Heard)
}

// riskLines is the risks of a way, for the list.
func riskLines(no int, w *engine.ScopeWay) []string {
	out := []string{"risks of way " + itoa(no) + ", " + w.Name + ":"}
	for i := range w.Risks {
		out = append(out, "  "+w.Risks[i].Text)
	}
	if len(w.Risks) == 0 {
		out = append(out, "  none that is known")
	}
	for _, text := range w.NoDay {
		out = append(out, "  nobody has said when: "+text)
	}
	return out
}

// WayLines is the least way in a few lines, and the others in one each.
func WayLines(a engine.ScopeAnswer) []string {
	w := &a.Ways[0]
	lines := []string{capital(a.Name) + " " + wayWhen(w) + ": " + wayShort(w) + ". " + capital(w.Verdict)}
	if use := UsesText(w); use != "" {
		lines = append(lines, "Uses up "+use)
	}
	if len(w.Again) > 0 {
		lines = append(lines, "To be done again: "+StepNames(w.Again, 4))
	}
	for _, sl := range w.Slips {
		lines = append(lines, sl.Text)
	}
	last := len(a.Ways) - 1
	if last > 0 && len(a.Ways[last].After) > 0 {
		lines = slices.Insert(lines, 1, wayLine(last, &a.Ways[last]))
		last--
	}
	for i := 1; i <= last && len(lines) < MaxLines; i++ {
		lines = append(lines, wayLine(i, &a.Ways[i]))
	}
	return lines
}

func wayLine(i int, w *engine.ScopeWay) string {
	return "Way " + itoa(i+1) + ", " + wayWhen(w) + ": " + wayShort(w) + ". " + capital(w.Verdict)
}

func wayWhen(w *engine.ScopeWay) string {
	if len(w.After) == 0 {
		return "now"
	}
	list := make([]string, len(w.After))
	for i, s := range w.After {
		list[i] = string(s)
	}
	return "after " + joinAnd(list)
}

// wayShort is "9 steps there and 12 back, 8 single-use pieces, 5 to buy, 2.5 h".
func wayShort(w *engine.ScopeWay) string {
	text := plural(len(w.Steps), "step") + " there, " + itoa(len(w.Back)) + " back, " + plural(w.Pieces(), "single-use piece")
	if n := w.Buy(); n > 0 {
		text += ", " + itoa(n) + " to buy"
	}
	if m := w.Minutes + w.BackMinutes; m > 0 {
		text += ", " + engine.HoursWords(m)
	}
	return text
}

// UsesText lists what a way uses up: gaskets by their name, fasteners by size.
func UsesText(w *engine.ScopeWay) string {
	var list []string
	for i := range w.Uses {
		list = append(list, UseText(&w.Uses[i]))
	}
	return joinComma(list)
}

// UseText is "8 M8x1.25x30, 3 to buy".
func UseText(u *engine.ScopeUse) string {
	text := engine.Several(u.Used, lower(u.Name))
	switch {
	case u.Buy == u.Used:
		text += " (none here)"
	case u.Buy > 0:
		text += " (" + itoa(u.Buy) + " to buy)"
	}
	return text
}

// StepNames lists steps by name, at most so many.
func StepNames(steps []engine.ScopeStep, most int) string {
	var list []string
	for i := range steps {
		if i == most && len(steps) > most {
			return strings.Join(list, ", ") + " and " + itoa(len(steps)-most) + " more"
		}
		list = append(list, lower(steps[i].Name))
	}
	return joinComma(list)
}

// wayList is a way step by step, for the pages of the list.
func wayList(no int, w *engine.ScopeWay) []string {
	out := []string{"way " + itoa(no) + ", " + wayWhen(w) + ": " + wayShort(w) + ". " + w.Verdict}
	for _, s := range w.Steps {
		out = append(out, "  "+s.Name)
	}
	out = append(out, "  and back: "+w.BackVerdict)
	for _, s := range w.Back {
		out = append(out, "  "+s.Name)
	}
	for _, l := range w.Lacks {
		out = append(out, "  no step: "+l)
	}
	return out
}

// decided lists what was decided to come off after all and has not.
func (t *turn) decided() []string {
	st := t.job.State()
	var list []string
	for _, c := range st.ScopeChoices() {
		if !c.Open() {
			continue
		}
		text := "decided: " + lower(st.Tells(c.ScopeDecided))
		if next, ok := st.ScopeNext(c); ok {
			text += "; next: " + lower(namesOf(st).step(next))
		}
		list = append(list, text)
	}
	return list
}
