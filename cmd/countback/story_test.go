package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/testdata/plans"
)

var update = flag.Bool("update", false, "rewrite the routine parts of the story")

const storyFile = "story.scan"

// generated is the range of the labels that the routine parts use. Scenes
// written by hand take theirs from another, so that neither disturbs the other.
const generated = "AA"

// The routine parts of the story are what its generator writes from the plan
// and from the job as it is at that point; nothing in the story is refused
// that is not meant to be.
func TestStoryStandsAsItsRoutineIsWritten(t *testing.T) {
	text, err := os.ReadFile(storyFile)
	require.NoError(t, err)
	r := newRehearsal(t, false)
	got := r.play(string(text))
	if *update {
		require.NoError(t, os.WriteFile(storyFile, []byte(got), 0o644))
		return
	}
	require.Equal(t, string(text), got, "the routine parts changed; look, then: go test ./cmd/countback -run Story -update")
}

// rehearsal plays a story on a journal in memory and writes it again, with its
// routine parts made anew.
type rehearsal struct {
	t    *testing.T
	p    *player
	out  strings.Builder
	next map[code.Type]uint32 // counters of labels
	log  bool
}

func newRehearsal(t *testing.T, log bool) *rehearsal {
	t.Helper()
	set := settings{Shop: demoShop, Terminal: "office"}
	return &rehearsal{
		t: t, log: log, next: map[code.Type]uint32{},
		p: newPlayer(set, journal.NewMemory(), map[string]string{demoPlan: plans.Sorrel}),
	}
}

func (r *rehearsal) play(text string) string {
	inRoutine := false
	for n, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		a, err := parseAct(strings.TrimSpace(line))
		require.NoError(r.t, err, "line %d", n+1)
		switch {
		case a.kind == actEnd:
			inRoutine = false
			r.keep("#: end")
		case inRoutine:
		case a.kind == actRoutine:
			inRoutine = true
			r.keep(line)
			require.NoError(r.t, r.routine(a.text), "line %d: %s", n+1, line)
		case a.kind == actScan:
			r.keep(line)
			r.scan(line)
		default:
			r.keep(line)
			require.NoError(r.t, r.p.order(context.Background(), a), "line %d", n+1)
		}
	}
	return r.out.String()
}

func (r *rehearsal) keep(line string) { r.out.WriteString(line + "\n") }

// scan makes one scan and remembers how far the labels have come.
func (r *rehearsal) scan(line string) turn {
	if c, err := code.Parse(line); err == nil && c.Range() == generated {
		r.next[c.Type()] = max(r.next[c.Type()], c.Counter()+1)
	}
	got, err := r.p.scan(context.Background(), line)
	require.NoError(r.t, err)
	if r.log {
		var b strings.Builder
		_ = got.write(&b)
		fmt.Printf("%s\n%s", line, b.String())
	}
	return got
}

// routine writes one routine part.
func (r *rehearsal) routine(order string) error {
	w := &routine{
		job: func() *engine.Job { return r.p.at.Job() }, second: "Ole",
		label: func(t code.Type) string {
			i, err := code.NewIssuer(generated)
			require.NoError(r.t, err)
			c, _, ok := i.Next(t, r.next[t])
			require.True(r.t, ok)
			return string(c)
		},
		remark: func(text string) { r.keep("# " + text) },
	}
	var refused error
	w.scan = func(line string) {
		r.keep(line)
		if got := r.scan(line); got.Refused && refused == nil {
			refused = fmt.Errorf("%q was refused: %v > %s", line, got.Text, got.Ask)
		}
	}
	word, rest, _ := strings.Cut(order, " ")
	for _, what := range strings.Fields(rest) {
		err := refused
		switch {
		case err != nil:
		case word == "buy":
			w.buy("fjord", what)
		case word == "joint":
			w.joint(events.Joint(what))
		case word == "scrap":
			w.scrap()
		case word == "measure":
			w.measure(events.Joint(what))
		default:
			err = w.step(events.Step(what))
		}
		if err != nil {
			return err
		}
	}
	return refused
}
