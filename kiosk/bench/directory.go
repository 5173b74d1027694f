package bench

import (
	"slices"
	"strconv"
	"strings"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/tool"
)

// directory answers for one job at one terminal what labels are on and what
// people call by a name.
type directory struct {
	reg  *Register
	id   events.Job
	job  *engine.Job // nil: no job
	here events.Terminal
	open func(events.Job) *engine.Job // another job of the shop; nil: it cannot be read now
}

// Label implements scan.Directory.
func (d *directory) Label(c code.Code) scan.Found {
	text := events.Code(c)
	if noun, ok := d.stands(text); ok {
		return d.tagged(c, tag{d.id, noun})
	}
	if v, ok := d.reg.voided[text]; ok {
		return scan.Found{State: scan.Retired, Since: v.since, By: v.by}
	}
	if who, ok := d.reg.badges[text]; ok {
		return scan.Found{State: scan.Ours, Noun: scan.Noun{Type: scan.Badge, ID: string(who)}}
	}
	if t, ok := d.reg.tags[text]; ok && !d.undone(t) {
		return d.tagged(c, t)
	}
	if !d.reg.issued(c) {
		return scan.Found{}
	}
	return scan.Found{State: scan.Blank, Noun: blank(c)}
}

// stands is the noun that a label is on by the job on the screen, corrections
// and all.
func (d *directory) stands(c events.Code) (string, bool) {
	if d.job == nil {
		return "", false
	}
	return d.job.State().Tag(c)
}

// undone says whether a label was put on a noun of the job on the screen, and
// that was taken back: it is on nothing again.
func (d *directory) undone(t tag) bool {
	return d.job != nil && t.job == d.id && t.noun != ""
}

// tagged is a label that is on something.
func (d *directory) tagged(c code.Code, t tag) scan.Found {
	n := scan.Noun{Type: scan.TypeOf(c.Type()), ID: string(c)}
	if t.noun != "" {
		typ, id, _ := strings.Cut(t.noun, " ")
		n = scan.Noun{Type: scan.Type(typ), ID: id}
	}
	if n.Type != scan.JobNoun && t.job != d.id && t.job != events.ShopJob {
		return scan.Found{State: scan.OtherJob, Noun: n, Job: t.job, Name: d.reg.jobs[t.job]}
	}
	if d.job != nil {
		if b, ok := d.job.State().Bag(events.Code(c)); ok && b.Retired != 0 {
			return d.retired(b)
		}
	}
	return scan.Found{State: scan.Ours, Noun: n}
}

// retired is a bag that is done with, and the bag that its pieces went into.
func (d *directory) retired(b *engine.Bag) scan.Found {
	f := scan.Found{State: scan.Retired}
	if r := d.job.State().Fact(b.Retired); r != nil {
		f.Since = r.At
		if e, ok := r.Event.(events.BagsMerged); ok {
			f.By = e.Into
		}
	}
	return f
}

// blank is what a label that is on nothing yet can be.
func blank(c code.Code) scan.Noun {
	n := scan.Noun{Type: scan.Label, ID: string(c), Blank: true, Code: events.Code(c)}
	switch t := scan.TypeOf(c.Type()); t {
	case scan.Bag, scan.Rack, scan.Case, scan.Slip, scan.Joint, scan.JobNoun, scan.Badge:
		n.Type = t
	}
	return n
}

// Fresh implements scan.Directory.
func (d *directory) Fresh(t code.Type) (events.Code, bool) {
	i, ok := d.reg.rangeOf(d.here)
	if !ok {
		return "", false
	}
	c, _, ok := i.Next(t, d.reg.used[string(t)+i.Range()])
	return events.Code(c), ok
}

// Tool implements scan.Directory.
func (d *directory) Tool(id events.Tool) (tool.Tool, bool) { return d.reg.tools.Find(id) }

// InTray implements scan.Directory. Only jobs that ever had to do with the
// tray are looked at.
func (d *directory) InTray(tray events.Place) engine.TrayNow {
	now := engine.TrayNow{Holds: d.reg.holds[tray]}
	var others []string
	for id := range d.reg.inTray[tray] {
		if id == d.id || d.open == nil {
			continue
		}
		if j := d.open(id); j != nil {
			if lines := j.State().At(tray); len(lines) > 0 {
				n := 0
				for _, l := range lines {
					n += l.Qty
				}
				others = append(others, strconv.Itoa(n)+" pieces of job "+string(id))
			}
		}
	}
	slices.Sort(others)
	now.Others = strings.Join(others, ", ")
	return now
}

// Tools implements scan.Directory.
func (d *directory) Tools() []tool.Tool { return d.reg.tools.List() }

// PlanText implements scan.Directory.
func (d *directory) PlanText(name string) string { return d.reg.plans[name] }

// Named implements scan.Directory.
func (d *directory) Named(t scan.Type, name string) []scan.Noun {
	name = strings.TrimSpace(name)
	var found []scan.Noun
	for _, typ := range namedTypes {
		if t == "" && !bare[typ] || t != "" && typ != t {
			continue
		}
		if n, ok := d.named(typ, name); ok && (t != "" || d.met(n)) {
			found = append(found, n)
		}
	}
	return found
}

var namedTypes = []scan.Type{scan.JobNoun, scan.Tool, scan.Badge, scan.Plan, scan.Range, scan.Bench, scan.Joint, scan.Part, scan.Loan, scan.Cavity,
	scan.Mark, scan.Step, scan.Audit, scan.Measurement, scan.RunReading, scan.Obligation, scan.Kit, scan.Layout, scan.Hole, scan.Position, scan.Short, scan.Case, scan.Finding, scan.Hold, scan.Size,
	scan.Act, scan.GateNoun, scan.Share, scan.Order}

// bare are the types whose names need no type word before them.
var bare = map[scan.Type]bool{scan.Joint: true, scan.Part: true, scan.Loan: true, scan.Cavity: true, scan.Mark: true, scan.Step: true, scan.Audit: true,
	scan.Measurement: true, scan.Kit: true}

func (d *directory) named(t scan.Type, name string) (scan.Noun, bool) {
	n := scan.Noun{Type: t, ID: name}
	switch t {
	case scan.JobNoun:
		_, ok := d.reg.jobs[events.Job(name)]
		return n, ok
	case scan.Badge:
		for who := range d.reg.people {
			if strings.EqualFold(string(who), name) {
				return scan.Noun{Type: t, ID: string(who)}, true
			}
		}
		return n, false
	case scan.Tool:
		_, ok := d.reg.tools.Find(events.Tool(name))
		return n, ok
	case scan.Plan:
		_, ok := d.reg.plans[name]
		return n, ok
	case scan.Range:
		n.ID = strings.ToUpper(name)
		_, err := code.NewIssuer(n.ID)
		return n, err == nil
	case scan.Bench:
		return n, journal.CheckName("bench", name) == nil
	case scan.Act:
		return n, name == string(events.Turning) || name == string(events.Cranking) || name == string(events.Heating)
	}
	if d.job == nil {
		return n, false
	}
	return d.inJob(n)
}

// inJob looks a name up in the job: its plan, and what has happened to it.
func (d *directory) inJob(n scan.Noun) (scan.Noun, bool) {
	st := d.job.State()
	number, _ := strconv.Atoi(n.ID)
	switch n.Type {
	case scan.Short:
		if n.Short = st.ShortID(entryNo(number)); number > 0 && n.Short.N != 0 {
			return n, true
		}
	case scan.Case:
		if number > 0 && number <= len(st.Cases()) {
			n.ID = string(st.Cases()[number-1].Code)
			return n, true
		}
	case scan.Order:
		if orders := st.Orders(); number > 0 && number <= len(orders) && st.Order(n.ID) == nil {
			n.ID = orders[number-1].ID
		}
		return n, st.Order(n.ID) != nil
	case scan.Finding, scan.Hold:
		if list := st.Findings(); n.Type == scan.Finding && number > 0 && number <= len(list) {
			n.ID = list[number-1].ID
			return n, true
		}
		return n, d.raised(n)
	case scan.Joint, scan.Part:
		if id, ok := planName(st.Plan(), n.Type, n.ID); ok {
			n.ID = id
			return n, true
		}
		return n, d.learned(n)
	case scan.Size:
		return n, d.kindKnown(n.ID)
	default:
		if id, ok := planName(st.Plan(), n.Type, n.ID); ok {
			n.ID = id
			return n, true
		}
	}
	return n, false
}

// met reports whether a name means something without its type before it: in a job
// without a plan only a part that came off does. Whatever could not be read, and
// every misspelt word, would be a part else.
func (d *directory) met(n scan.Noun) bool {
	if n.Type != scan.Part || d.job == nil || len(d.job.State().Plan().Parts) > 0 {
		return true
	}
	for _, p := range d.job.State().LearnedParts() {
		if string(p.Part) == n.ID {
			return true
		}
	}
	return false
}

// learned reports whether the job met a joint that its plan does not have. In
// a job without a plan, parts have the names that people give them.
func (d *directory) learned(n scan.Noun) bool {
	st := d.job.State()
	for _, j := range st.LearnedJoints() {
		if n.Type == scan.Joint && string(j.Joint) == n.ID {
			return true
		}
	}
	return n.Type == scan.Part && len(st.Plan().Parts) == 0
}

// raised reports whether a finding or a hold of that name was ever raised.
func (d *directory) raised(n scan.Noun) bool {
	facts := d.job.Facts()
	for i := range facts {
		switch e := facts[i].Event.(type) {
		case events.FindingRaised:
			if n.Type == scan.Finding && e.Finding == n.ID {
				return true
			}
		case events.HoldSet:
			if n.Type == scan.Hold && e.Hold == n.ID {
				return true
			}
		}
	}
	return false
}

// kindKnown reports whether the job's book has pieces of a kind that is no
// fastener: a part, a loan, an end.
func (d *directory) kindKnown(name string) bool {
	st := d.job.State()
	if _, ok := st.Plan().Part(events.Part(name)); ok {
		return true
	}
	for k := 1; k <= st.Book().Kinds(); k++ {
		if string(st.Book().KindName(ledgerKind(k))) == name {
			return true
		}
	}
	return false
}
