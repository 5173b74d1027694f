package bench

import (
	"reflect"
	"strings"

	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/tool"
)

// rollAhead is how far beyond the last label used of a range a blank one may
// be: the length of a roll. Labels less than 927 apart differ in their second
// half as well as in the first, so none of these is a misreading of another.
const rollAhead = 900

// Register is what the shop knows of labels, people, jobs and plans, over all
// jobs. It takes every fact as it comes and folds no job, so that a bench that
// has one engine on its screen does not carry all of them. What was taken back
// of the job on the screen the directory asks that job for.
type Register struct {
	tags   map[events.Code]tag
	voided map[events.Code]void
	badges map[events.Code]events.Badge
	people map[events.Badge]bool
	ranges map[string]events.Terminal
	used   map[string]uint32 // type letter and range: the next counter
	jobs   map[events.Job]string
	plans  map[string]string
	tools  tool.Register
	holds  map[events.Place]int                 // of trays: how many pieces each takes
	inTray map[events.Place]map[events.Job]bool // jobs that ever had to do with a tray
}

type tag struct {
	job  events.Job
	noun string // empty: a bag, a rack or another container
}

type void struct {
	since int64
	by    events.Code
}

// NewRegister knows the plans that the shop keeps, by name, and nothing else.
func NewRegister(plans map[string]string) *Register {
	return &Register{tags: map[events.Code]tag{}, voided: map[events.Code]void{}, badges: map[events.Code]events.Badge{},
		people: map[events.Badge]bool{}, ranges: map[string]events.Terminal{}, used: map[string]uint32{}, jobs: map[events.Job]string{}, plans: plans,
		holds: map[events.Place]int{}, inTray: map[events.Place]map[events.Job]bool{}}
}

// Apply takes one fact.
func (r *Register) Apply(rec *events.Record) {
	r.tools.Apply(rec)
	switch e := rec.Event.(type) {
	case events.JobOpened:
		r.jobs[rec.Job] = e.Engine
	case events.TagsIssued:
		for _, t := range e.Tags {
			r.tags[t.Code] = tag{rec.Job, t.Noun}
			r.use(t.Code)
		}
		return
	case events.TrayIssued:
		r.holds[e.Tray] = e.Holds
	case events.TagVoided:
		r.voided[e.Code] = void{rec.At, e.By}
	case events.BadgeIssued:
		r.badges[e.Code] = e.Badge
		r.people[e.Badge] = true
		r.use(e.Code)
		return
	case events.ToolIssued:
		if e.Code != "" {
			r.tags[e.Code] = tag{events.ShopJob, "tool " + string(e.Tool)}
			r.use(e.Code)
		}
		return
	case events.RangeReserved:
		if _, ok := r.ranges[e.Range]; !ok { // who reserved it first has it
			r.ranges[e.Range] = events.Terminal(e.For)
		}
	}
	if rec.Event != nil {
		r.walk(rec.Job, reflect.ValueOf(rec.Event))
	}
}

var codeType, placeType = reflect.TypeFor[events.Code](), reflect.TypeFor[events.Place]()

// walk finds the labels that a fact is about: they belong to its job from then on.
func (r *Register) walk(job events.Job, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		switch v.Type() {
		case codeType:
			r.own(job, events.Code(v.String()))
		case placeType:
			if p := events.Place(v.String()); engine.IsTray(p) {
				if r.inTray[p] == nil {
					r.inTray[p] = map[events.Job]bool{}
				}
				r.inTray[p][job] = true
			}
			for _, w := range strings.Split(v.String(), "/") {
				r.own(job, events.Code(w))
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			r.walk(job, v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			r.walk(job, v.Field(i))
		}
	case reflect.Interface:
		if !v.IsNil() {
			r.walk(job, v.Elem())
		}
	}
}

func (r *Register) own(job events.Job, text events.Code) {
	c, err := code.Parse(string(text))
	if err != nil || events.Code(c) != text {
		return
	}
	if _, ok := r.tags[text]; !ok {
		r.tags[text] = tag{job, ""}
	}
	r.use(text)
}

// use notes that a range has come so far.
func (r *Register) use(text events.Code) {
	c, err := code.Parse(string(text))
	if err != nil {
		return
	}
	key := string(c.Type()) + c.Range()
	r.used[key] = max(r.used[key], c.Counter()+1)
}

// issued reports whether a terminal of this shop has printed, or may have
// printed, a label.
func (r *Register) issued(c code.Code) bool {
	if _, ok := r.ranges[c.Range()]; !ok {
		return false
	}
	return c.Counter() < r.used[string(c.Type())+c.Range()]+rollAhead
}

// rangeOf is the first range of a terminal, in the order of their letters.
func (r *Register) rangeOf(t events.Terminal) (code.Issuer, bool) {
	for _, letters := range code.Ranges() {
		if who, ok := r.ranges[letters]; ok && who == t {
			i, err := code.NewIssuer(letters)
			return i, err == nil
		}
	}
	return code.Issuer{}, false
}
