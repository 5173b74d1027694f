package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"countback/events"
	"countback/projections/engine"
)

type scopeReport struct {
	Job      string          `json:"job"`
	Goal     []string        `json:"goal"`  // the nouns that must come off
	Name     string          `json:"name"`  // of them, for people
	Holds    bool            `json:"holds"` // it is off already
	Ways     []scopeWay      `json:"ways"`  // least first; what was set against it behind
	Decided  []scopeDecision `json:"decided"`
	head     string
	compared []engine.ScopeWay
	today    events.Day
}

type scopeWay struct {
	No          int         `json:"no"`    // 1 is the least from the engine as it is now
	Goal        string      `json:"goal"`  // what comes off by it
	After       []string    `json:"after"` // steps that are done first; empty: now
	Steps       []scopeStep `json:"steps"`
	Again       []scopeStep `json:"again"` // done before, and to be done again
	Back        []scopeStep `json:"back"`
	Lacks       []string    `json:"lacks"` // why no steps of the plan lead back
	Seats       int         `json:"seats"`
	Fasteners   int         `json:"fasteners"`
	Parts       int         `json:"parts"`
	Uses        []scopeUse  `json:"uses"`
	Slips       []scopeSlip `json:"slips"`
	Void        []string    `json:"void"` // marks
	Minutes     int         `json:"minutes"`
	BackMinutes int         `json:"backminutes"`
	WaitMinutes int         `json:"waitminutes"` // for sealant and the like, there and back
	Finish      string      `json:"finish"`      // the last planned start moved by that work, a day; empty: nothing is planned
	Verdict     string      `json:"verdict"`
	BackVerdict string      `json:"backverdict"`
	Proved      bool        `json:"proved"` // no way costs less
	Ready       string      `json:"ready"`  // the first day on which the engine can be back, a day
	NoDay       []string    `json:"noday"`  // what nobody has said, and may make it later
	Money       scopeMoney  `json:"money"`
	Risks       []scopeRisk `json:"risks"`
}

// scopeMoney is amounts in the smallest unit of the currency: cents.
type scopeMoney struct {
	Currency string `json:"currency"`
	Pieces   int64  `json:"pieces"`  // of the single-use pieces that have a price
	NoPrice  int    `json:"noprice"` // single-use pieces without one
	Work     int64  `json:"work"`    // of the minutes that the plan gives
	NoTime   int    `json:"notime"`  // steps there and back without minutes
	NoRate   bool   `json:"norate"`  // the shop has set no rate: work is not in it
	Sum      int64  `json:"sum"`
	Whole    bool   `json:"whole"` // nothing is unknown
}

type scopeRisk struct {
	Why  string `json:"why"`
	On   string `json:"on"`
	Text string `json:"text"`
	Fact string `json:"fact"` // empty: it follows from the plan
}

type scopeStep struct {
	Step    string `json:"step"`
	Name    string `json:"name"`
	Minutes int    `json:"minutes"` // 0: the plan does not say
}

type scopeUse struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
	Part bool   `json:"part"` // a gasket or other part; else a fastener
	Used int    `json:"used"` // there and back
	Here int    `json:"here"` // new, at hand and not promised to a step
	Buy  int    `json:"buy"`
	Each *int64 `json:"each"` // what one costs, in cents; null: nobody has said
}

type scopeSlip struct {
	Slip string `json:"slip"`
	Text string `json:"text"`
}

type scopeDecision struct {
	At      string   `json:"at"`
	By      string   `json:"by"`
	Goal    []string `json:"goal"`
	Steps   []string `json:"steps"` // none: it stays as it is
	After   []string `json:"after"`
	Against []string `json:"against"`
	Beside  []string `json:"beside"` // nouns of the other repair that was not chosen
	Verdict string   `json:"verdict"`
	Why     string   `json:"why"`
	Open    bool     `json:"open"` // not carried out yet
}

// report answers the question with all that is set beside it.
func (f *scopeFlags) report(id events.Job, j *engine.Job, goal []string) (scopeReport, error) {
	r := scopeReport{Job: string(id), head: title(id, j), Ways: []scopeWay{}, Decided: decisions(j)}
	nouns, err := goalNouns(j, goal)
	if err != nil {
		return r, err
	}
	ask := engine.ScopeAsk{Goals: nouns}
	for _, step := range f.after {
		ask.After = append(ask.After, events.Step(step))
	}
	if len(f.against) > 0 {
		if ask.Against, err = goalNouns(j, f.against); err != nil {
			return r, err
		}
	}
	a, err := j.Scope(ask)
	if err != nil {
		return r, scopeError(err)
	}
	r.Goal, r.Name, r.Holds, r.today = nouns, a.Name, a.Holds, a.Today
	for i := range a.Ways {
		w := newScopeWay(&a.Ways[i])
		w.No, w.Goal = i+1, a.Ways[i].Name
		r.Ways = append(r.Ways, w)
	}
	r.compared = a.Ways
	return r, nil
}

// scopeError is a refusal of a question as an error of the command line.
func scopeError(err error) error {
	var no *engine.Refusal
	if !errors.As(err, &no) {
		return err
	}
	if no.Code == engine.Unknown {
		return unknown("%s: %s", no.Fact, no.Next)
	}
	return &failure{statusNo, fmt.Errorf("%s: %s", no.Fact, no.Next)}
}

func newScopeWay(w *engine.ScopeWay) scopeWay {
	out := scopeWay{After: texts(w.After), Steps: scopeSteps(w.Steps), Again: scopeSteps(w.Again), Back: scopeSteps(w.Back),
		Lacks: append([]string{}, w.Lacks...), Seats: w.Seats, Fasteners: w.Fasteners, Parts: w.Parts, Uses: []scopeUse{}, Slips: []scopeSlip{},
		Void: append([]string{}, w.Void...), Minutes: w.Minutes, BackMinutes: w.BackMinutes, WaitMinutes: int(w.Wait.Minutes()),
		Finish: string(w.Finish), Verdict: w.Verdict, BackVerdict: w.BackVerdict, Proved: w.Proved,
		Ready: string(w.Ready), NoDay: append([]string{}, w.NoDay...), Money: newScopeMoney(&w.Money), Risks: []scopeRisk{}}
	for _, x := range w.Risks {
		risk := scopeRisk{Why: string(x.Why), On: x.On, Text: x.Text}
		if x.Fact.N > 0 {
			risk.Fact = factID(x.Fact)
		}
		out.Risks = append(out.Risks, risk)
	}
	for _, u := range w.Uses {
		use := scopeUse{Kind: string(u.Kind), Name: u.Name, Part: u.Part, Used: u.Used, Here: u.Here, Buy: u.Buy}
		if u.Priced {
			use.Each = &u.Each.Amount
		}
		out.Uses = append(out.Uses, use)
	}
	for _, sl := range w.Slips {
		out.Slips = append(out.Slips, scopeSlip{string(sl.Slip), sl.Text})
	}
	return out
}

func newScopeMoney(m *engine.ScopeMoney) scopeMoney {
	sum, whole := m.Sum()
	return scopeMoney{Currency: m.Pieces.Currency, Pieces: m.Pieces.Amount, NoPrice: m.NoPrice, Work: m.Work.Amount, NoTime: m.NoTime,
		NoRate: m.NoRate, Sum: sum.Amount, Whole: whole}
}

func scopeSteps(list []engine.ScopeStep) []scopeStep {
	out := []scopeStep{}
	for _, s := range list {
		out = append(out, scopeStep{string(s.Step), s.Name, s.Minutes})
	}
	return out
}

func decisions(j *engine.Job) []scopeDecision {
	out := []scopeDecision{}
	st := j.State()
	for _, c := range st.ScopeChoices() {
		d := scopeDecision{By: string(c.By), Goal: c.Goals, Steps: texts(c.Steps), After: texts(c.After),
			Against: append([]string{}, c.Against...), Beside: append([]string{}, c.Beside...), Verdict: c.Verdict, Why: c.Why, Open: c.Open()}
		if r := st.Fact(c.Fact); r != nil {
			d.At = stamp(r.At)
		}
		out = append(out, d)
	}
	return out
}

func (r scopeReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. %s must come off?\n", r.head, upper(r.Name))
	if r.Holds {
		fmt.Fprintf(w, "It is off already.\n")
	}
	if len(r.Ways) > 0 {
		fmt.Fprintln(w)
		t := newTable(w)
		t.row(wayCells("way", r.heads())...)
		for _, row := range engine.WayRows(r.compared, r.today) {
			t.row(wayCells(row.What, row.Cells)...)
		}
		t.end()
	}
	for i := range r.Ways {
		if one := &r.Ways[i]; i == 0 || len(one.After) > 0 || one.Goal != r.Name {
			one.text(w)
		}
	}
	if len(r.Decided) > 0 {
		fmt.Fprintf(w, "\nDecided:\n")
	}
	for _, d := range r.Decided {
		d.text(w)
	}
}

func wayCells(what string, cells []string) []any {
	out := []any{what}
	for _, c := range cells {
		out = append(out, c)
	}
	return out
}

// heads names each way: "1 now", "4 after cover-on", "3 head".
func (r *scopeReport) heads() []string {
	var list []string
	for _, w := range r.Ways {
		text := fmt.Sprintf("%d now", w.No)
		if len(w.After) > 0 {
			text = fmt.Sprintf("%d after %s", w.No, joined(w.After))
		}
		if w.Goal != r.Name {
			text += ", " + w.Goal
		}
		list = append(list, text)
	}
	return list
}

func (o *scopeWay) text(w io.Writer) {
	fmt.Fprintf(w, "\nWay %d, there:\n", o.No)
	listSteps(w, o.Steps)
	if len(o.Uses) > 0 {
		fmt.Fprintf(w, "  uses up, there and back:\n")
	}
	for _, u := range o.Uses {
		fmt.Fprintf(w, "    %d %s: %d here, %d to buy, %s\n", u.Used, u.Name, u.Here, u.Buy, eachWords(u.Each, o.Money.Currency))
	}
	if len(o.Risks) > 0 {
		fmt.Fprintf(w, "  risks:\n")
	}
	for _, x := range o.Risks {
		fmt.Fprintf(w, "    %s: %s\n", x.Why, x.Text)
	}
	if len(o.NoDay) > 0 {
		fmt.Fprintf(w, "  nobody has said when:\n")
	}
	for _, text := range o.NoDay {
		fmt.Fprintf(w, "    %s\n", text)
	}
	if len(o.Again) > 0 {
		fmt.Fprintf(w, "  to be done again:\n")
		listSteps(w, o.Again)
	}
	for _, sl := range o.Slips {
		fmt.Fprintf(w, "  %s\n", sl.Text)
	}
	fmt.Fprintf(w, "  back (%s):\n", o.BackVerdict)
	listSteps(w, o.Back)
	for _, l := range o.Lacks {
		fmt.Fprintf(w, "    no step: %s\n", l)
	}
}

// eachWords is what one of a kind costs: "21.50 EUR each".
func eachWords(each *int64, currency string) string {
	if each == nil {
		return "price unknown"
	}
	return engine.Money{Amount: *each, Currency: currency}.String() + " each"
}

func listSteps(w io.Writer, steps []scopeStep) {
	for _, s := range steps {
		fmt.Fprintf(w, "    %-22s %s\n", s.Step, s.Name)
	}
}

func (d *scopeDecision) text(w io.Writer) {
	what := "stays as it is"
	if len(d.Steps) > 0 {
		what = "by " + many(len(d.Steps), "step", "steps") + ", " + d.Verdict
	}
	open := ""
	if d.Open {
		open = " (not done yet)"
	}
	if len(d.Beside) > 0 {
		what += ", rather than " + strings.Join(d.Beside, ", ")
	}
	fmt.Fprintf(w, "  %s, %s: %s %s; %s%s\n", d.At, d.By, strings.Join(d.Goal, ", "), what, d.Why, open)
	for _, a := range d.Against {
		fmt.Fprintf(w, "      against %s\n", a)
	}
}

func errOff(name string) error { return fmt.Errorf("%s: off already; nothing to draw", name) }
