package main

import (
	"bufio"
	"context"
	_ "embed"
	"fmt"
	"strings"
	"time"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk/bench"
)

// storyText is a whole job, scan by scan. A line is a scan, or one of these:
//
//	# a remark
//	## the title of a scene
//	#: clock 2025-05-12 08:00    it is that time in UTC
//	#: bench bench-1             the next scans are made there
//	#: step flywheel-off         the scans up to "#: end" are the routine of a
//	#: end                       step, of a "joint" that is filled, of a bag's
//	                             pieces that "measure" as good, of used
//	                             pieces to "scrap", of missing ones to "buy";
//	                             a test rewrites them with -update, from the
//	                             job as it is at that point
//
//go:embed story.scan
var storyText string

// act is one line of a story.
type act struct {
	line int // in the file, from 1
	kind actKind
	text string
}

type actKind uint8

const (
	actScan actKind = iota
	actRemark
	actScene
	actClock
	actBench
	actRoutine // text: "step flywheel-off"
	actEnd
)

// parseStory reads a story; blank lines mean nothing.
func parseStory(text string) ([]act, error) {
	var acts []act
	s := bufio.NewScanner(strings.NewReader(text))
	for n := 1; s.Scan(); n++ {
		a, err := parseAct(strings.TrimSpace(s.Text()))
		if err != nil {
			return nil, fmt.Errorf("story: line %d: %w", n, err)
		}
		if a.line = n; a.kind != actRemark || a.text != "" {
			acts = append(acts, a)
		}
	}
	return acts, s.Err()
}

func parseAct(line string) (act, error) {
	if scene, ok := strings.CutPrefix(line, "## "); ok {
		return act{kind: actScene, text: scene}, nil
	}
	order, ok := strings.CutPrefix(line, "#: ")
	if !ok {
		if remark, ok := strings.CutPrefix(line, "#"); ok || line == "" {
			return act{kind: actRemark, text: strings.TrimSpace(remark)}, nil
		}
		return act{kind: actScan, text: line}, nil
	}
	word, rest, _ := strings.Cut(order, " ")
	switch word {
	case "clock":
		_, err := time.Parse(clockForm, rest)
		return act{kind: actClock, text: rest}, err
	case "bench":
		return act{kind: actBench, text: rest}, nil
	case "step", "joint", "measure", "scrap", "buy":
		return act{kind: actRoutine, text: order}, nil
	case "end":
		return act{kind: actEnd}, nil
	}
	return act{}, fmt.Errorf("%q is no order", order)
}

const clockForm = "2006-01-02 15:04"

// scanTakes is how long a scan takes in a story, in microseconds.
const scanTakes = 4_000_000

// player plays a story on a store: a clock of its own, and a terminal for each
// bench that the story names.
type player struct {
	set     settings
	store   journal.Journal
	plans   map[string]string
	clock   int64
	benches map[string]*bench.Terminal
	at      *bench.Terminal
}

func newPlayer(s settings, store journal.Journal, plans map[string]string) *player {
	return &player{set: s, store: store, plans: plans, benches: map[string]*bench.Terminal{}}
}

// order does what an act that is no scan asks for.
func (p *player) order(ctx context.Context, a act) error {
	switch a.kind {
	case actClock:
		t, err := time.Parse(clockForm, a.text)
		if err != nil {
			return err
		}
		if at := t.UnixMicro(); at < p.clock {
			return fmt.Errorf("story: line %d: the clock goes back to %s", a.line, a.text)
		}
		p.clock = t.UnixMicro()
	case actBench:
		t, ok := p.benches[a.text]
		if !ok {
			var err error
			clock := func() int64 { return p.clock }
			if t, err = sitDown(ctx, p.store, nil, p.set, events.Terminal(a.text), p.plans, clock); err != nil {
				return err
			}
			p.benches[a.text] = t
		}
		p.at = t
	}
	return nil
}

// scan makes one scan at the bench where the story is.
func (p *player) scan(ctx context.Context, line string) (turn, error) {
	if p.at == nil {
		return turn{}, fmt.Errorf("story: %q is scanned before anybody is at a bench", line)
	}
	p.clock += scanTakes
	view, err := p.at.Scan(ctx, line)
	if err != nil {
		return turn{}, storeError(err)
	}
	return newTurn(line, view, p.at.Heard(), p.at.Told()), nil
}
