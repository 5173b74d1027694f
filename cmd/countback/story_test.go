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

// The story plays to its end: nothing in its routine parts is refused, and the
// engine leaves the shop started, signed for, with nothing open. With -update
// its routine parts are written anew.
func TestStoryPlaysToItsEnd(t *testing.T) {
	text, err := os.ReadFile(storyFile)
	require.NoError(t, err)
	r := newRehearsal(t)
	if got := r.play(string(text), *update); *update {
		require.NoError(t, os.WriteFile(storyFile, []byte(got), 0o644))
	}
	require.Equal(t, asked, r.refused, "what is refused in the scenes")
	job := r.p.at.Job()
	require.Equal(t, events.Released, job.State().Ended.How)
	require.Empty(t, job.Differences(), "shorts and overs")
	require.Empty(t, job.Missing())
	require.Empty(t, job.State().Uncounted())
	for _, l := range job.State().Loans() {
		require.Zero(t, l.In)
	}
	for _, c := range job.State().Cases() {
		require.False(t, c.Open())
	}
	a, ok := job.Audit("ready-to-start")
	require.True(t, ok)
	require.Empty(t, a.Red)
	require.NotNil(t, a.Signed)
	storyCounts(t, r.apart, r.together)
}

// asked are the scans of the scenes that are answered with a no.
var asked = []string{
	"DRILL AND TAP", "NO", "text skim 0.1 mm, stub in exhaust hole 9", "CAN I?", "THIS ONE?", "THIS ONE?", "TURN OVER?", "CAN I?", "CRANK?",
}

// rehearsal plays a story on a journal in memory and writes it again, with its
// routine parts made anew.
type rehearsal struct {
	t       *testing.T
	p       *player
	out     strings.Builder
	next    map[code.Type]uint32 // counters of labels
	refused []string             // in the scenes

	building        bool
	apart, together half
}

func newRehearsal(t *testing.T) *rehearsal {
	t.Helper()
	set := settings{Shop: demoShop, Terminal: "office"}
	return &rehearsal{
		t: t, next: map[code.Type]uint32{},
		p: newPlayer(set, journal.NewMemory(), map[string]string{demoPlan: plans.Sorrel}),
	}
}

// play plays a story; anew says that its routine parts are made again.
func (r *rehearsal) play(text string, anew bool) string {
	inRoutine := false
	for n, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		a, err := parseAct(strings.TrimSpace(line))
		require.NoError(r.t, err, "line %d", n+1)
		if inRoutine && anew && a.kind != actEnd {
			continue
		}
		r.keep(line)
		switch a.kind {
		case actEnd:
			inRoutine = false
		case actRoutine:
			r.building = r.building || r.builds(a.text)
			if inRoutine = true; anew {
				require.NoError(r.t, r.routine(a.text), "line %d: %s", n+1, line)
			}
		case actScan:
			got := r.scan(line)
			if got.Refused {
				require.False(r.t, inRoutine, "line %d: %s: %v > %s\nlook, then: go test ./cmd/countback -run Story -update", n+1, line, got.Text, got.Ask)
				r.refused = append(r.refused, line)
			}
		default:
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
	if r.building {
		r.together.count(line, got)
	} else {
		r.apart.count(line, got)
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
