package term

import (
	"context"
	"reflect"
	"time"

	"countback/events"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/kiosk/panel"
	"countback/kiosk/scan"
)

// hand owns a bench terminal: it takes lines, one after the other, and says
// what the screen shows then. It starts no goroutine.
type hand struct {
	t       *bench.Terminal
	store   *watched
	set     Config
	topic   panel.Topic
	turned  int
	stopped error // why nothing can be stored
	broken  error // the last error that ended in a stop, for the end of the program
	refused string

	scanned int64 // the clock at the last scan
	told    int64 // the clock when something was stored last; 0: never
	ticks   int

	shown   shown
	panel   panel.Panel
	log     []panel.Line
	step    string
	rings   int // of the bell, for the frame that is made next
	started bool
}

// shown is what the panel was made from; while it stays, so does the panel.
type shown struct {
	job    events.Job
	facts  int
	latest int64
	view   kiosk.View
	topic  panel.Topic
}

func newHand(c Config) (*hand, func()) {
	store, undo := watch(c.Terminal)
	h := &hand{t: c.Terminal, store: store, set: c}
	h.scanned = h.t.Clock()
	return h, undo
}

// take gives one line to the terminal and waits for the journal's answer.
func (h *hand) take(ctx context.Context, line string) Frame {
	h.refused = ""
	h.scanned = h.t.Clock()
	before, token := h.t.Screen().Subject(), h.t.Screen().Reads(line)
	switch {
	case token.Kind == scan.Swallowed:
		return h.frame()
	case h.stopped != nil:
		h.again(ctx, token)
		return h.frame()
	case h.t.Screen().Waits():
		h.refused = token.Line
	}
	view, err := h.t.Scan(ctx, line)
	stored := h.after(ctx, err)
	topic := h.topic.Follow(panel.Heard{Before: before, Token: token, After: h.t.Screen().Subject(), Stored: stored, View: view, Uncounted: h.uncounted()})
	if token.Word == scan.More {
		h.turned++
	} else if !reflect.DeepEqual(topic, h.topic) {
		h.turned = 0
	}
	h.topic = topic
	return h.frame()
}

// uncounted is how much of the job on the screen came out by presumption and
// was not counted yet.
func (h *hand) uncounted() int {
	job := h.t.Job()
	if job == nil {
		return 0
	}
	return len(job.State().Uncounted())
}

// after sees to what a scan or a tick left: facts that are on disk, sounds,
// and a store that fails.
func (h *hand) after(ctx context.Context, err error) []events.Record {
	stored := h.t.Told()
	if len(stored) > 0 {
		h.told = h.t.Clock()
	}
	for _, s := range h.t.Heard() {
		h.rings = max(h.rings, rings(s))
	}
	if failed := h.store.failed(); err == nil {
		err = failed
	}
	if err != nil && ctx.Err() == nil {
		h.stopped, h.broken = err, err
	}
	return stored
}

// rings is how often the bell sounds: only for what is on disk.
func rings(s kiosk.Sound) int {
	switch s {
	case kiosk.StoredWell:
		return 1
	case kiosk.StoredLook:
		return 2
	}
	return 0
}

// again looks at the store once more when OK is scanned; anything else is not
// taken, and said so.
func (h *hand) again(ctx context.Context, token scan.Token) {
	if token.Word != scan.OK {
		h.refused = token.Line
		return
	}
	h.look(ctx)
}

// look asks the store whether an append would fail now.
func (h *hand) look(ctx context.Context) {
	if err := h.store.health(ctx); err != nil {
		h.stopped, h.broken = err, err
		return
	}
	h.stopped, h.broken = nil, nil
}

// healthEvery is how many ticks pass between two looks at the store.
const healthEvery = 8

// tick tells the terminal the time, looks for what others told, and drops a
// count that nobody goes on with.
func (h *hand) tick(ctx context.Context) Frame {
	h.ticks++
	if h.stopped != nil {
		return h.frame()
	}
	if stored := h.after(ctx, h.t.Tick(ctx)); len(stored) > 0 {
		h.topic = h.topic.Follow(panel.Heard{Stored: stored, View: h.t.View(), Uncounted: h.uncounted()})
	}
	if h.ticks%healthEvery == 0 && h.stopped == nil {
		h.look(ctx)
	}
	if left, counting := h.countLeft(); counting && left <= 0 && h.stopped == nil {
		return h.take(ctx, string(scan.Cancel))
	}
	return h.frame()
}

// countLeft is how long a count that is going on may still stand without a
// scan.
func (h *hand) countLeft() (time.Duration, bool) {
	if h.t.View().Mode == "" || h.set.CountIdle <= 0 {
		return 0, false
	}
	idle := time.Duration(h.t.Clock()-h.scanned) * time.Microsecond
	return h.set.CountIdle - idle, true
}

// warnBefore is how long before a count is dropped the screen says so.
const warnBefore = time.Minute

// frame is what the screen shows now.
func (h *hand) frame() Frame {
	h.refresh()
	now := h.t.Clock()
	f := Frame{View: h.shown.view, Next: h.t.Screen().Next(), Panel: h.panel, Turned: h.turned, Log: h.log,
		Training: h.set.Training, Clock: now, Kept: h.t.Kept(), NotTaken: h.refused}
	if h.stopped != nil {
		f.Stopped = h.stopped.Error()
		f.Panel = stopPanel(f.Stopped)
	}
	if len(f.Next) == 0 {
		f.Next = h.panel.Next
	}
	if job := h.t.Job(); job != nil {
		f.Clocks = panel.Clocks(job, now+h.t.Offset)
	}
	if len(f.Next) == 0 && len(f.Clocks) > 0 {
		f.Next = f.Clocks[0].Big
	}
	if len(f.Next) == 0 && h.step != "" {
		f.Next = []string{h.step, "SCAN NEXT", "SCAN"}
	}
	if left, counting := h.countLeft(); counting && left <= warnBefore {
		f.Falls = max(1, int(left.Seconds()))
	}
	f.Fresh = h.told != 0 && time.Duration(now-h.told)*time.Microsecond < h.set.UndoShown
	if h.set.Notices != nil {
		f.Notices = h.set.Notices()
	}
	return f
}

// logKept is how many of the last facts a screen can have room for.
const logKept = 8

// refresh makes the panel anew when what it shows has changed.
func (h *hand) refresh() {
	s, job := h.t.Screen(), h.t.Job()
	is := shown{job: s.Job(), view: h.t.View(), topic: h.topic}
	if job != nil {
		is.facts, is.latest = len(job.Facts()), job.LatestAt()
	}
	if h.started && reflect.DeepEqual(is, h.shown) {
		return
	}
	h.panel = panel.Of(h.topic, job, h.t.Name, s, is.view)
	if !h.started || is.facts != h.shown.facts || is.latest != h.shown.latest || is.job != h.shown.job {
		h.log, h.step = nil, ""
		if job != nil {
			h.log, h.step = panel.Log(job, logKept), panel.Headline(job)
		}
	}
	h.shown, h.started = is, true
}
