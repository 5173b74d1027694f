package kiosk

import (
	"slices"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// Screen is one terminal's screen between two scans. It is a plain value: what
// Update returns is the next one, and the one before stays as it was. It reads
// the job and the directory that Opened gave it and changes neither.
type Screen struct {
	set  Settings
	here events.Terminal

	id    events.Job
	job   *engine.Job
	dir   scan.Directory
	nextN uint32
	fresh bool // the job was opened by the last sentence: its tags are due

	badge events.Badge
	last  scan.Token // the immediately preceding scan
	at    int64      // of the last scan
	digit bool       // number below is still open
	chain int
	wait  bool // unclear whether the last fact is stored

	nouns  []scan.Noun
	lines  []events.Line
	sizes  []events.Kind
	number int
	hasN   bool

	row  *scan.Sentence // that is asking
	said *scan.Said
	ask  *asking

	astray   *astray   // a scan that the sentence waits for
	dropped  string    // nouns that the sentence under way left aside
	flight   *flight   // what was given to the rules
	question *question // what was asked after the last fact
	mine     []deed    // what was stored here, oldest first
	list     []string  // pages of the last list
	page     int
	mend     *mending
	when     interval // that the next thing told happened in
	before   interval // that the last thing told late happened in

	asItIs *before // the job after the last fact stored here, for the next sentence

	latest *scan.Sentence // the last sentence whose verb was understood

	view View
}

// flight is a sentence on its way to the journal.
type flight struct {
	row    *scan.Sentence
	said   *scan.Said
	before *before
	undo   int // index of the deed that it takes back, -1
	redo   int // index of the deed that it puts back, -1
	mend   bool
	when   interval
	notes  []string // what is said beside the sentence
	// opening: the tags of a job that was just opened.
	opening bool
}

// deed is one fact that was stored at this terminal.
type deed struct {
	id     events.FactID
	job    events.Job
	who    events.Badge
	text   string
	undone events.FactID // the correction that took it back; zero: it stands
}

// question is what the screen asks after a fact. Whoever does not answer it
// leaves it open and red; the next noun goes on with other work.
type question struct {
	subject []scan.Noun
	offers  []scan.Word
	pair    []scan.Noun // the short and the over that PAIR is about
	text    string
	reads   bool // a reading answers it: it is of the subject
	// then comes after it: one question for each difference.
	then *question
	// to is a job that OK opens.
	to events.Job
	// choose are nouns of which a number or a scan takes one.
	choose []scan.Noun
}

// New is the screen of a terminal that has no job and nobody at it.
func New(here events.Terminal, set Settings, dir scan.Directory) Screen {
	s := Screen{set: set, here: here, dir: dir}
	s.view.Ask = "Scan your badge, then a job card"
	return s
}

// Job is the job on the screen; empty if there is none.
func (s Screen) Job() events.Job { return s.id }

// Badge is the person at the screen; empty if nobody scanned a badge.
func (s Screen) Badge() events.Badge { return s.badge }

// Begun is the sentence on the screen as far as it was scanned, of which nothing
// is stored yet; empty if there is none.
func (s Screen) Begun() string {
	if !s.pending() {
		return ""
	}
	text := s.saidText()
	if s.ask != nil {
		if got := s.gotText(); got != "" {
			text += ", " + got
		}
		for _, r := range s.ask.reads {
			text += ", " + r.String()
		}
	}
	return text
}

// TakesText reports whether any text answers what is asked now.
func (s Screen) TakesText() bool { return s.ask != nil && s.ask.Kind == scan.AskText }

// Latest is the last sentence whose verb was understood; nil if there was none.
func (s Screen) Latest() *scan.Sentence { return s.latest }

// Update is what comes of a message, and what the screen wants done.
func (s Screen) Update(m Msg) (Screen, []Effect) {
	t := &turn{Screen: s}
	switch m := m.(type) {
	case Scanned:
		t.scanned(m)
	case Ticked:
		t.ticked(m.At)
	case Opened:
		t.opened(m)
	case Stored:
		t.stored(m)
	case Already:
		t.already()
	case Refused:
		t.refused(m.Refusal)
	case Failed:
		t.failed(m)
	case Unclear:
		t.wait = true
		t.show(Wait, "Nobody knows yet whether that is stored.")
		t.view.Ask = "Wait: no scan is taken until it is known"
	case Folded:
		t.folded(m.Records)
	}
	return t.Screen, t.effects
}

// View is what the screen shows now.
func (s Screen) View() View {
	v := s.view
	v.Lines = slices.Clone(v.Lines)
	v.Bar = s.bar()
	v.Said = s.saidText()
	v.Undo = s.undoText()
	if s.ask != nil {
		v.Ask = s.askText()
		v.Mode = s.ask.mode()
	}
	if s.astray != nil {
		v.Ask = s.astrayText()
	}
	if s.digit {
		v.Big = itoa(s.chain)
	}
	if n := s.set.PageLines; len(s.list) > 0 {
		v.Pages = (len(s.list) + n - 1) / n
		v.Page = s.page + 1
		v.List = slices.Clone(s.list[s.page*n : min(len(s.list), (s.page+1)*n)])
	}
	return v
}

// turn is one update under way. Slices of the screen are never changed in
// place: grow makes a new one.
type turn struct {
	Screen
	effects []Effect
}

func (t *turn) do(e Effect)      { t.effects = append(t.effects, e) }
func (t *turn) beep(snd Sound)   { t.do(Beep{snd}) }
func grow[T any](s []T, x T) []T { return append(slices.Clip(s), x) }

// show puts up what happened; what was shown before goes.
func (t *turn) show(sign Sign, lines ...string) {
	t.view = View{Sign: sign}
	for _, l := range lines {
		if l != "" && len(t.view.Lines) < MaxLines {
			t.view.Lines = append(t.view.Lines, l)
		}
	}
	t.list, t.page = nil, 0
}

// no refuses aloud: the fact, then the next action.
func (t *turn) no(fact, next string) {
	t.show(Stop, fact)
	t.view.Ask = next
	t.beep(Refusing)
}

// clear forgets the sentence on the screen.
func (t *turn) clear() {
	t.nouns, t.lines, t.sizes, t.number, t.hasN = nil, nil, nil, 0, false
	t.row, t.said, t.ask, t.dropped, t.astray = nil, nil, nil, "", nil
}

// pending reports whether a sentence is on the screen.
func (s *Screen) pending() bool {
	return len(s.nouns) > 0 || len(s.lines) > 0 || len(s.sizes) > 0 || s.hasN || s.row != nil
}
