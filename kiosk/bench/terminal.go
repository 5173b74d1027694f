package bench

import (
	"context"
	"errors"
	"fmt"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk"
	"countback/projections/engine"
)

// Config is what a terminal is made of.
type Config struct {
	Shop events.Shop
	Name events.Terminal
	// Home is the shop's journal.
	Home journal.Journal
	// Outbox keeps what is told while Home cannot be reached. nil: without
	// Home nothing is stored.
	Outbox Outbox
	// Limits are the shop's own numbers for its rules; nil: the usual ones.
	Limits *engine.Limits
	// Clock gives microseconds since 1970 UTC, as this terminal has them.
	Clock func() int64
	// Offset is how far the hub's clock is ahead of Clock, as measured at the
	// last contact.
	Offset int64
	// Plans are the plans that the shop keeps, by name.
	Plans    map[string]string
	Settings kiosk.Settings
}

// Terminal is one bench at work: a screen, the jobs that were opened on it,
// and the road into the journal. It is not for several goroutines at once.
type Terminal struct {
	Config
	screen kiosk.Screen
	reg    *Register
	jobs   map[events.Job]*engine.Job

	n       uint32      // of the last fact that is stored or kept
	read    journal.Seq // last message of Home that is folded
	jobSeq  map[events.Job]journal.Seq
	ownSeq  journal.Seq     // last message of this terminal in Home
	kept    []journal.Draft // in the outbox
	late    []events.Record // of others, folded while this one stored
	high    int64           // greatest At seen
	unclear *attempt        // waits for settle
	knows   bool            // the number of its last fact is known

	dec      events.Decoder
	sounds   []kiosk.Sound
	stored   []events.Record
	misreads int
	wake     int64
}

// Open makes a terminal: it finds out from the journals which number its last
// fact had, and what the shop knows of labels, people and jobs.
func Open(ctx context.Context, c Config) (*Terminal, error) {
	t := &Terminal{Config: c, reg: NewRegister(c.Plans), jobs: map[events.Job]*engine.Job{}, jobSeq: map[events.Job]journal.Seq{}}
	t.screen = kiosk.New(c.Name, c.Settings, &directory{reg: t.reg, here: c.Name})
	if _, err := t.catchUp(ctx); err != nil && !errors.Is(err, journal.ErrOffline) {
		return nil, fmt.Errorf("terminal %s: %w", c.Name, err)
	}
	if c.Outbox != nil {
		if err := t.readKept(ctx); err != nil {
			return nil, fmt.Errorf("terminal %s: %w", c.Name, err)
		}
	}
	return t, nil
}

func (t *Terminal) decode(data []byte) (events.Record, error) {
	var r events.Record
	err := t.dec.Decode(data, &r)
	return r, err
}

// take folds one fact, from wherever it came.
func (t *Terminal) take(r *events.Record) (engine.Change, bool) {
	t.high = max(t.high, r.At)
	if r.Terminal == t.Name {
		t.n = max(t.n, r.N)
	}
	t.reg.Apply(r)
	switch r.Event.(type) {
	case events.ToolIssued, events.ToolTaken, events.ToolBack, events.Corrected, events.PlanAmended:
		defer t.tools()
	}
	if j, ok := t.jobs[r.Job]; ok {
		return j.Apply(r), true
	}
	return engine.Change{}, false
}

// catchUp folds what others stored since, and gives it.
func (t *Terminal) catchUp(ctx context.Context) ([]events.Record, error) {
	var news []events.Record
	err := t.Home.Read(ctx, t.read+1, journal.Filter{}, func(m journal.Message) error {
		r, err := t.decode(m.Data)
		if err != nil {
			return fmt.Errorf("message %d: %w", m.Seq, err)
		}
		t.read, t.jobSeq[m.Job] = m.Seq, m.Seq
		if m.Terminal == t.Name {
			t.ownSeq = m.Seq
		}
		if c, open := t.take(&r); open && !c.Repeated && r.Terminal != t.Name {
			news = append(news, r)
		}
		return nil
	})
	t.knows = t.knows || err == nil
	return news, err
}

// open folds a job that was not on this terminal yet: what the shop has of it,
// and what is only kept here.
func (t *Terminal) open(ctx context.Context, id events.Job) (*engine.Job, error) {
	if j, ok := t.jobs[id]; ok {
		return j, nil
	}
	var records []events.Record
	add := func(data []byte) error {
		r, err := t.decode(data)
		records = append(records, r)
		return err
	}
	err := t.Home.Read(ctx, 1, journal.Filter{Job: id}, func(m journal.Message) error {
		if m.Seq > t.read {
			return nil // comes with the news
		}
		return add(m.Data)
	})
	if err != nil && !errors.Is(err, journal.ErrOffline) {
		return nil, fmt.Errorf("job %s: %w", id, err)
	}
	for _, d := range t.kept {
		if d.Job == id {
			if err := add(d.Data); err != nil {
				return nil, fmt.Errorf("job %s: outbox: %w", id, err)
			}
		}
	}
	j := &engine.Job{}
	j.Load(records)
	if t.Limits != nil {
		j.Use(*t.Limits)
	}
	t.jobs[id] = j
	t.tools()
	return j, nil
}

// tools tells the rules of every open job which tools it cannot have.
func (t *Terminal) tools() {
	day := events.DayOf(t.Clock() + t.Offset)
	for id, j := range t.jobs {
		j.Tools(t.reg.tools.Away(id, j.State().PlanTools(), day))
	}
}

// directoryOf answers for a job what is called what; it can look into other
// jobs of the shop.
func (t *Terminal) directoryOf(ctx context.Context, id events.Job, j *engine.Job) *directory {
	return &directory{reg: t.reg, id: id, job: j, here: t.Name, open: func(other events.Job) *engine.Job {
		o, err := t.open(context.WithoutCancel(ctx), other)
		if err != nil {
			return nil
		}
		return o
	}}
}

// Screen is the screen as it is.
func (t *Terminal) Screen() kiosk.Screen { return t.screen }

// View is what the screen shows.
func (t *Terminal) View() kiosk.View { return t.screen.View() }

// Job is the job on the screen as it is folded here; nil if there is none.
func (t *Terminal) Job() *engine.Job { return t.jobs[t.screen.Job()] }

// Misreads is how many scans were misread since the terminal was opened.
func (t *Terminal) Misreads() int { return t.misreads }

// Heard gives the sounds since it was last asked, and forgets them.
func (t *Terminal) Heard() []kiosk.Sound {
	s := t.sounds
	t.sounds = nil
	return s
}

// Told gives the facts that this terminal stored since it was last asked, and
// forgets them.
func (t *Terminal) Told() []events.Record {
	s := t.stored
	t.stored = nil
	return s
}

// Scan takes one line. The error is one of the journal's that no person at the
// bench can clear.
func (t *Terminal) Scan(ctx context.Context, line string) (kiosk.View, error) {
	if t.mayBeNews() {
		if err := t.refresh(ctx); err != nil {
			return t.View(), err
		}
	}
	if err := t.handle(ctx, kiosk.Scanned{Line: line, At: t.Clock()}); err != nil {
		return t.View(), err
	}
	return t.View(), nil
}

// glance is what a journal may offer: whether there can be messages after one,
// without looking.
type glance interface{ Ahead(journal.Seq) bool }

// mayBeNews says whether a scan has to look for news first. A Tick always does.
func (t *Terminal) mayBeNews() bool {
	g, ok := t.Home.(glance)
	return !ok || g.Ahead(t.read) || !t.knows || len(t.late) > 0 || len(t.kept) > 0
}

// Tick tells the screen the time, looks for news, and settles what is unclear.
func (t *Terminal) Tick(ctx context.Context) error {
	if err := t.settle(ctx); err != nil {
		return err
	}
	if err := t.refresh(ctx); err != nil {
		return err
	}
	t.tools()
	return t.handle(ctx, kiosk.Ticked{At: t.Clock()})
}

// refresh folds what others told, if the shop's journal can be reached, and
// sends what is kept here.
func (t *Terminal) refresh(ctx context.Context) error {
	news, err := t.catchUp(ctx)
	if err != nil && !errors.Is(err, journal.ErrOffline) {
		return fmt.Errorf("terminal %s: %w", t.Name, err)
	}
	news = append(t.late, news...)
	t.late = nil
	if err := t.flush(ctx); err != nil {
		return err
	}
	for _, j := range t.jobs {
		j.Clock(t.Clock() + t.Offset)
	}
	if len(news) > 0 {
		return t.handle(ctx, kiosk.Folded{Records: news})
	}
	return nil
}

// handle updates the screen and does what it wants done, until nothing is left.
func (t *Terminal) handle(ctx context.Context, m kiosk.Msg) error {
	queue := []kiosk.Msg{m}
	for len(queue) > 0 {
		var effects []kiosk.Effect
		t.screen, effects = t.screen.Update(queue[0])
		queue = queue[1:]
		for _, e := range effects {
			answer, err := t.do(ctx, e)
			if err != nil {
				return err
			}
			if answer != nil {
				queue = append(queue, answer)
			}
		}
	}
	return nil
}

func (t *Terminal) do(ctx context.Context, e kiosk.Effect) (kiosk.Msg, error) {
	switch e := e.(type) {
	case kiosk.Beep:
		t.sounds = append(t.sounds, e.Sound)
	case kiosk.Miscounted:
		t.misreads++
	case kiosk.Wake:
		t.wake = e.At
	case kiosk.Switch:
		j, err := t.open(ctx, e.Job)
		if err != nil {
			return nil, err
		}
		return kiosk.Opened{ID: e.Job, Job: j, Dir: t.directoryOf(ctx, e.Job, j), NextN: t.n + 1}, nil
	case kiosk.Store:
		return t.store(ctx, e)
	}
	return nil, nil
}
